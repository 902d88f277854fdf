import { type Change, commit } from '../survey/commit';
import type { Author } from '../survey/edits';
import { afterEntry, type EntryKind } from '../survey/history';
import { done, type Outcome, refuse } from '../survey/outcome';
import type { Survey } from '../survey/survey';
import type { AppParts } from './app-context';
import { author } from './author';
import { showComputed } from './show-written';
import type { AppState } from './state/app-state';

/**
 * One edit from its asking to the map: the change is applied and can be undone at once, is drawn, and is written down on
 * the device; findings for the lists follow a moment later. A refusal comes back to whoever asked; that another tab
 * writes is said on the page as well, so that nobody types for nothing.
 */
export async function edit(
  parts: AppParts,
  make: (survey: Survey, author: Author) => Outcome<Change>,
): Promise<Outcome<void>> {
  const { phase } = parts.store.get();
  if (phase.kind !== 'ready') return refuse('no_survey', 'No survey is open.');
  const may = mayWrite(parts);
  if (!may.ok) return may;
  const change = make(phase.content.survey, author());
  if (!change.ok) return change;
  await apply(parts, change.value, 'do');
  return done(undefined);
}

/** Whether this tab takes edits. Where another one writes it is said on the page, too. */
export function mayWrite({ store }: Pick<AppParts, 'store'>): Outcome<void> {
  if (store.get().tab !== 'follows') return done(undefined);
  store.dispatch({ type: 'trouble', sentence: FOLLOWS.sentence });
  return FOLLOWS;
}

const FOLLOWS = refuse(
  'other_tab_writes',
  'Nothing was entered: this survey is open in another tab, which writes. Press “Write here” to enter it in this one.',
);

/** Takes back the last edit. Nothing happens where there is none. */
export async function undo(parts: AppParts): Promise<void> {
  const change = parts.store.get().history.undo.at(-1);
  if (change && mayWrite(parts).ok) await apply(parts, change, 'undo');
}

/** Does again what was taken back last. */
export async function redo(parts: AppParts): Promise<void> {
  const change = parts.store.get().history.redo.at(-1);
  if (change && mayWrite(parts).ok) await apply(parts, change, 'redo');
}

async function apply({ store, client, keep }: AppParts, change: Change, kind: EntryKind): Promise<void> {
  const { phase, drape, history }: AppState = store.get();
  if (phase.kind !== 'ready') return;
  const before = phase.content.survey;
  const { survey, undo: back } = commit(before, change);
  store.dispatch({ type: 'changed', survey, history: afterEntry(history, kind, back) });
  const writing = keep.add(before, change, kind);
  await showComputed({ store }, survey, client.change(change, drape));
  await writing;
}
