import type { Note } from '../survey/note';
import type { Survey } from '../survey/survey';
import type { AppParts } from './app-context';
import { NO_HISTORY } from './state/app-state';

/** Makes a survey the one that is open: computed, on the map, and kept on the device from now on. */
export async function adopt({ store, client, keep }: AppParts, survey: Survey, notes: readonly Note[]): Promise<void> {
  const { findings, layers } = await client.take(survey, store.get().drape);
  store.dispatch({ type: 'opened', content: { survey, notes, findings, layers }, history: NO_HISTORY });
  await keep.whole(survey);
}
