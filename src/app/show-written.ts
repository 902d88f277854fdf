import type { Change } from '../survey/commit';
import type { EditHistory } from '../survey/history';
import type { Survey } from '../survey/survey';
import type { Computing } from '../workers/findings-client';
import type { AppParts } from './app-context';
import type { AppState } from './state/app-state';

/** More than so many are not told to the worker one by one. */
const FEW = 20;

/**
 * Shows the open survey as another tab has changed it. `changes`: what has changed; null = it was read anew as a whole.
 */
export function showWritten(
  { store, client }: Pick<AppParts, 'store' | 'client'>,
  survey: Survey,
  history: EditHistory,
  changes: readonly Change[] | null,
): void {
  store.dispatch({ type: 'changed', survey, history });
  const { drape } = store.get();
  if (!changes || changes.length > FEW) return void showComputed({ store }, survey, client.take(survey, drape));
  let computing: Computing | null = null;
  for (const change of changes) computing = client.change(change, drape);
  if (computing) void showComputed({ store }, survey, computing);
}

/** Brings what the worker makes of a survey to the map and the lists, unless the survey was changed again meanwhile. */
export async function showComputed(
  { store }: Pick<AppParts, 'store'>,
  survey: Survey,
  computing: Computing,
): Promise<void> {
  const troubled = (error: unknown) =>
    store.dispatch({ type: 'trouble', sentence: `The map could not follow the edit: ${(error as Error).message}` });
  try {
    const layers = await computing.layers;
    if (isOpen(store.get(), survey)) store.dispatch({ type: 'drawn', drawn: { surveyId: survey.id, layers } });
    void computing.findings.then((findings) => store.dispatch({ type: 'computed', survey, findings })).catch(troubled);
  } catch (error) {
    troubled(error);
  }
}

const isOpen = ({ phase }: AppState, survey: Survey): boolean =>
  phase.kind === 'ready' && phase.content.survey === survey;
