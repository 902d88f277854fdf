import { differenceOf } from '../survey/difference';
import type { Note } from '../survey/note';
import { done } from '../survey/outcome';
import type { Survey } from '../survey/survey';
import type { AppParts } from './app-context';
import { edit } from './edit';
import { NO_HISTORY } from './state/app-state';

/** Makes a survey from a file the one that is open. It is kept from now on, beside what was kept before. */
export async function adopt(parts: AppParts, survey: Survey, notes: readonly Note[]): Promise<void> {
  const { store, client, keep } = parts;
  const computing = client.take(survey, store.get().drape);
  const [layers, findings] = [await computing.layers, await computing.findings];
  store.dispatch({ type: 'opened', content: { survey, notes, findings }, history: NO_HISTORY });
  store.dispatch({ type: 'drawn', drawn: { surveyId: survey.id, layers } });
  await keep.whole(survey);
}

/** The open survey with more in it, from files: an edit like any other, which can be undone. */
export async function bringIn(parts: AppParts, grown: Survey, notes: readonly Note[]): Promise<void> {
  const { store } = parts;
  await edit(parts, (open) => done(differenceOf(open, grown, 'Bring in files')));
  const { phase } = store.get();
  if (phase.kind === 'ready') store.dispatch({ type: 'opened', content: { ...phase.content, notes } });
}
