import type { Change } from './commit';

/** What an entry of the journal was: an edit, the taking back of one, or the doing again of what was taken back. */
export const ENTRY_KINDS = ['do', 'undo', 'redo'] as const;
export type EntryKind = (typeof ENTRY_KINDS)[number];

/** What can be taken back, and what was: change data, the latest last. */
export interface EditHistory {
  readonly undo: readonly Change[];
  readonly redo: readonly Change[];
}

export const EMPTY_HISTORY: EditHistory = { undo: [], redo: [] };

/** How many edits can be taken back; a choice: more than a day in the field, and little to hold in memory. */
export const MOST_UNDONE = 200;

/** The history after an entry. `back` is the change that takes the entry back, as `commit` derives it. */
export function afterEntry({ undo, redo }: EditHistory, kind: EntryKind, back: Change): EditHistory {
  if (kind === 'undo') return { undo: undo.slice(0, -1), redo: [...redo, back] };
  const next = undo.length < MOST_UNDONE ? [...undo, back] : [...undo.slice(1 - MOST_UNDONE), back];
  return { undo: next, redo: kind === 'do' ? [] : redo.slice(0, -1) };
}
