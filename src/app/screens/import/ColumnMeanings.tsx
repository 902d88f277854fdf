import type { Field } from '../../../exchange/read/headers';
import type { PreviewColumn } from '../../../exchange/read/preview';
import { FIELD_WORDS } from '../../words/field-words';

export interface ColumnMeaningsProps {
  readonly columns: readonly PreviewColumn[];
  readonly fields: readonly Field[];
  readonly onMeaning: (header: string, field: Field | null) => void;
}

/** Every column with what stands in it and what it was taken for. */
export function ColumnMeanings({ columns, fields, onMeaning }: ColumnMeaningsProps) {
  return (
    <ul className="columns">
      {columns.map((column, i) => (
        // Two columns may have one header.
        // biome-ignore lint/suspicious/noArrayIndexKey: a column is where it stands
        <li key={i} data-left-out={column.field === null}>
          <div className="column-words">
            <span className="column-header">{column.header || `column ${i + 1}, without a header`}</span>
            <span className="column-samples">{column.samples.join(', ')}</span>
          </div>
          <div className="column-meaning">
            <select
              aria-label={`Meaning of ${column.header || `column ${i + 1}`}`}
              value={column.field ?? ''}
              disabled={column.header === ''}
              onChange={(event) => onMeaning(column.header, fields.find((name) => name === event.target.value) ?? null)}
            >
              <option value="">left out</option>
              {fields.map((field) => (
                <option key={field} value={field}>
                  {FIELD_WORDS[field]}
                </option>
              ))}
            </select>
            <ColumnRemark column={column} onTake={(field) => onMeaning(column.header, field)} />
          </div>
        </li>
      ))}
    </ul>
  );
}

function ColumnRemark({ column, onTake }: { column: PreviewColumn; onTake: (field: Field) => void }) {
  const { clashes, guess, notWanted, doubt, unit, field } = column;
  if (clashes) return <p className="column-remark fault-words">Another column means the same. Choose one of them.</p>;
  if (field === null && guess && !notWanted) {
    return (
      <button type="button" className="cell-button column-guess" onClick={() => onTake(guess)}>
        Is it the {FIELD_WORDS[guess]}?
      </button>
    );
  }
  if (doubt) return <p className="column-remark">It might be {doubt}.</p>;
  if (unit) return <p className="column-remark">Unit in the header: {unit}</p>;
  return null;
}
