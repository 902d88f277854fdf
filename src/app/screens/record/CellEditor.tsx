import { useEffect, useId, useRef, useState } from 'react';
import { correctReading } from '../../../survey/edits';
import { type CellEditing, cellCorrection } from '../../state/cell-edit';
import type { RecordColumn, RecordRow } from '../../state/record-rows';
import { COLUMN_WORDS } from '../../words/cell-words';
import { useEdit } from './use-edit';

export interface CellEditorProps {
  readonly row: RecordRow;
  readonly column: RecordColumn;
  readonly editing: CellEditing;
  /** What was typed on the cell to begin with; null = what is there. */
  readonly typed: string | null;
  /** `keepFocus`: the keyboard goes back to the cell. */
  readonly onDone: (keepFocus: boolean) => void;
}

/** Edits one cell: Enter takes it, Escape leaves it as it was, going elsewhere takes what was typed. */
export function CellEditor({ row, column, editing, typed, onDone }: CellEditorProps) {
  const edit = useEdit();
  const [text, setText] = useState(typed ?? (editing.kind === 'text' ? editing.text : editing.value));
  const [refused, setRefused] = useState<string | null>(null);
  const over = useRef(false);
  const field = useRef<HTMLInputElement & HTMLSelectElement>(null);
  const id = useId();

  useEffect(() => {
    field.current?.focus({ preventScroll: true });
    if (typed === null && field.current instanceof HTMLInputElement) field.current.select();
  }, [typed]);

  const take = async (given: string, keepFocus: boolean) => {
    if (over.current) return;
    const correction = cellCorrection(row, column, given);
    if (!correction.ok) return setRefused(correction.sentence);
    over.current = true;
    const { value } = correction;
    const sentence =
      value === null ? null : await edit((survey, author) => correctReading(survey, row.reading.id, value, author));
    if (sentence === null) return onDone(keepFocus);
    over.current = false;
    setRefused(sentence);
  };
  const leave = () => {
    over.current = true;
    onDone(true);
  };
  const onKeyDown = (event: React.KeyboardEvent) => {
    event.stopPropagation();
    if (event.key === 'Enter') {
      event.preventDefault();
      void take(text, true);
    } else if (event.key === 'Escape') {
      leave();
    }
  };
  const shared = {
    id,
    ref: field,
    'aria-label': COLUMN_WORDS[column],
    value: text,
    onKeyDown,
    onBlur: () => void take(text, false),
  };
  return (
    <>
      {editing.kind === 'text' ? (
        <input
          {...shared}
          type="text"
          inputMode={column === 'value' ? 'text' : 'decimal'}
          autoComplete="off"
          aria-invalid={refused !== null}
          aria-describedby={refused === null ? undefined : `${id}-refused`}
          onChange={(event) => {
            setText(event.target.value);
            setRefused(null);
          }}
        />
      ) : (
        <select {...shared} onChange={(event) => setText(event.target.value)}>
          {editing.options.map(({ value, words }) => (
            <option key={value} value={value}>
              {words}
            </option>
          ))}
        </select>
      )}
      {refused !== null && (
        <p className="refused cell-refused" id={`${id}-refused`} role="alert">
          {refused}
        </p>
      )}
    </>
  );
}
