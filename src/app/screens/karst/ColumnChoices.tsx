import { INVENTORY_FIELDS, type InventoryField, type InventoryMapping } from '../../../exchange/read/karst-columns';
import type { InventoryPreview } from '../../../workers/karst-table';
import { FEATURE_FIELD_WORDS } from '../../words/karst-words';

const FIELDS = Object.keys(INVENTORY_FIELDS) as InventoryField[];

/** Every column with what stands in it and what it was taken for. */
export function ColumnChoices({
  columns,
  mapping,
  onCorrect,
}: {
  columns: InventoryPreview['columns'];
  mapping: InventoryMapping;
  onCorrect: (mapping: InventoryMapping) => void;
}) {
  return (
    <>
      <h3>What each column means</h3>
      <ul className="columns karst-columns">
        {columns.map(({ header, field, said, samples }) => (
          <li key={header} data-left-out={field === null}>
            <div className="column-words">
              <span className="column-header">{header}</span>
              <span className="column-samples">{samples.join(', ') || 'empty at the beginning'}</span>
            </div>
            <div className="column-meaning">
              <select
                aria-label={`Meaning of ${header}`}
                value={(mapping.columns?.[header] === undefined ? field : mapping.columns[header]) ?? ''}
                onChange={(event) => {
                  const chosen = FIELDS.find((name) => name === event.target.value) ?? null;
                  onCorrect({ ...mapping, columns: { ...mapping.columns, [header]: chosen } });
                }}
              >
                <option value="">kept as written</option>
                {FIELDS.map((name) => (
                  <option key={name} value={name}>
                    {FEATURE_FIELD_WORDS[name]}
                  </option>
                ))}
              </select>
              {field !== null && !said && <p className="column-remark">Guessed by its header</p>}
            </div>
          </li>
        ))}
      </ul>
    </>
  );
}
