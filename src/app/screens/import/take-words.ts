import { counted } from '../../../survey/wording';
import type { ImportSession } from './use-import';

/** Whether the files can be taken as they are understood now, and what would come of it or what is in the way. */
export function takeWords({ understood, refused }: Pick<ImportSession, 'understood' | 'refused'>): {
  readonly mayTake: boolean;
  readonly words: string;
} {
  if (!understood) return { mayTake: false, words: refused.length > 0 ? 'There is nothing to bring in.' : '' };
  const { notes, brings } = understood;
  const faults = notes.filter(({ kind }) => kind === 'fault').length;
  if (faults > 0 || !brings) {
    return {
      mayTake: false,
      words: `${counted(faults, 'fault')} in the way: each says above what to do.`,
    };
  }
  if (!brings.changes) return { mayTake: false, words: 'The open survey has all of this already.' };
  if (brings.lines === 0 && brings.readings === 0) {
    return { mayTake: true, words: 'No new line or reading; what is known already is changed.' };
  }
  return { mayTake: true, words: `${counted(brings.lines, 'line')}, ${counted(brings.readings, 'reading')}.` };
}
