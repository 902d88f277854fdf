import { useApp, useAppState } from '../../app-context';
import { redo, undo } from '../../edit';

/** What can be taken back and done again, by name. */
export function HistoryButtons() {
  const parts = useApp();
  const back = useAppState(({ history }) => history.undo.at(-1)?.label ?? null);
  const again = useAppState(({ history }) => history.redo.at(-1)?.label ?? null);
  return (
    <fieldset className="history">
      <legend className="unseen">Edits</legend>
      <button type="button" className="line-button" disabled={back === null} onClick={() => void undo(parts)}>
        {back === null ? 'Undo' : `Undo: ${back}`}
      </button>
      <button type="button" className="line-button" disabled={again === null} onClick={() => void redo(parts)}>
        {again === null ? 'Redo' : `Redo: ${again}`}
      </button>
    </fieldset>
  );
}
