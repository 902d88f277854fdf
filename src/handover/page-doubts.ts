import type { Doubt, DoubtCode } from '../survey/doubt';
import { DOUBT_WORDS } from '../survey/doubt-words';

/** What a doubt is called within a sentence. Planners know no hookup. */
export function doubtWords(code: DoubtCode): string {
  const words = code === 'hookup_unknown' ? 'wiring not said' : DOUBT_WORDS[code];
  return words.charAt(0).toLowerCase() + words.slice(1);
}

const RANK: Readonly<Record<Doubt['severity'], number>> = { serious: 0, warning: 1, note: 2 };
/** The gravest first. */
export const doubtsInOrder = (doubts: readonly Doubt[]): readonly Doubt[] =>
  [...doubts].sort((p, q) => RANK[p.severity] - RANK[q.severity]);
