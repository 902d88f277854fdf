import { type Change, commit } from '../survey/commit';
import type { Author } from '../survey/edits';
import { done, type Outcome, refuse } from '../survey/outcome';
import type { Survey } from '../survey/survey';
import type { AppParts } from './app-context';
import { author } from './author';
import type { AppState, History } from './state/app-state';

/**
 * One edit from its asking to the map: the change is applied and can be undone at once, is drawn, and is written down on
 * the device; findings for the lists follow a moment later. A refusal comes back to whoever asked.
 */
export async function edit(
  parts: AppParts,
  make: (survey: Survey, author: Author) => Outcome<Change>,
): Promise<Outcome<void>> {
  const { phase, history } = parts.store.get();
  if (phase.kind !== 'ready') return refuse('no_survey', 'No survey is open.');
  const change = make(phase.content.survey, author());
  if (!change.ok) return change;
  await apply(parts, change.value, (undo) => ({ undo: [...history.undo, undo], redo: [] }));
  return done(undefined);
}

/** Takes back the last edit. Nothing happens where there is none. */
export async function undo(parts: AppParts): Promise<void> {
  const { history } = parts.store.get();
  const change = history.undo[history.undo.length - 1];
  if (!change) return;
  await apply(parts, change, (back) => ({ undo: history.undo.slice(0, -1), redo: [...history.redo, back] }));
}

/** Does again what was taken back last. */
export async function redo(parts: AppParts): Promise<void> {
  const { history } = parts.store.get();
  const change = history.redo[history.redo.length - 1];
  if (!change) return;
  await apply(parts, change, (back) => ({ undo: [...history.undo, back], redo: history.redo.slice(0, -1) }));
}

const isOpen = ({ phase }: AppState, survey: Survey): boolean =>
  phase.kind === 'ready' && phase.content.survey === survey;

async function apply({ store, client, keep }: AppParts, change: Change, historyWith: (undo: Change) => History) {
  const { phase, drape } = store.get();
  if (phase.kind !== 'ready') return;
  const before = phase.content.survey;
  const { survey, undo } = commit(before, change);
  store.dispatch({ type: 'changed', survey, history: historyWith(undo) });
  const writing = keep.add(before, change);
  const troubled = (error: unknown) =>
    store.dispatch({ type: 'trouble', sentence: `The map could not follow the edit: ${(error as Error).message}` });
  try {
    const computing = client.change(change, drape);
    const layers = await computing.layers;
    if (isOpen(store.get(), survey)) store.dispatch({ type: 'drawn', drawn: { surveyId: survey.id, layers } });
    void computing.findings.then((findings) => store.dispatch({ type: 'computed', survey, findings })).catch(troubled);
  } catch (error) {
    troubled(error);
  }
  await writing;
}
