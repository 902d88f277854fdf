import type { VoidSearchResult } from '../studies/void-search-answer';
import type { AppParts } from './app-context';

/** Brings the answer of a search to the map and the lists: zones, and the readings that are worth taking next. */
export async function takeSearch({ store, client }: AppParts, result: VoidSearchResult): Promise<void> {
  const { phase, drape } = store.get();
  if (phase.kind !== 'ready') return;
  const { survey } = phase.content;
  try {
    const computing = client.search(result, drape);
    const layers = await computing.layers;
    const now = store.get().phase;
    if (now.kind !== 'ready' || now.content.survey !== survey) return;
    store.dispatch({ type: 'drawn', drawn: { surveyId: survey.id, layers } });
    store.dispatch({ type: 'computed', survey, findings: await computing.findings });
  } catch (error) {
    store.dispatch({ type: 'trouble', sentence: `The map could not take the search: ${(error as Error).message}` });
  }
}
