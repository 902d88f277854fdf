import type { FileColumns } from '../../../exchange/read/columns';
import type { Field, TableKind } from '../../../exchange/read/headers';
import type { TablePreview } from '../../../exchange/read/preview';
import { READING_UNITS, UNIT_LABEL } from '../../../survey/units';
import { hasColumn, withConstant } from './import-draft';
import { TypedField } from './TypedField';

interface Once {
  readonly field: Field;
  readonly words: string;
  /** Words to choose among; otherwise it is typed. */
  readonly choices?: readonly { readonly value: string; readonly words: string }[];
  readonly numeric?: boolean;
  /** Whether the table cannot do without it. */
  readonly needed?: (preview: TablePreview) => boolean;
  /** Asked only where this gives true. */
  readonly when?: (preview: TablePreview) => boolean;
}

const has =
  (...fields: Field[]) =>
  ({ columns }: TablePreview): boolean =>
    fields.some((field) => hasColumn(columns, field));

const always = (): boolean => true;
const withoutPlaces = ({ places, columns }: TablePreview): boolean =>
  places.system === 'none' && !columns.some(({ field }) => field === 'a_m' || field === 'a_electrode');

const UNIT_CHOICES = READING_UNITS.map((unit) => ({ value: unit, words: UNIT_LABEL[unit] }));
const NORTHS = ['true', 'magnetic', 'grid'].map((value) => ({ value, words: value }));

const ASKED: Record<TableKind, readonly Once[]> = {
  readings: [
    {
      field: 'unit',
      words: 'The meter shows',
      choices: UNIT_CHOICES,
      needed: always,
      when: ({ columns }) => !valueHasUnit(columns),
    },
    { field: 'current_ma', words: 'Current, for millivolts (mA)', numeric: true, when: showsMillivolts },
    { field: 'line', words: 'All rows are of the line', needed: always },
    { field: 'spacing_m', words: 'One spacing for all rows (m)', numeric: true, needed: withoutPlaces },
    {
      field: 'step_m',
      words: 'Step between electrodes (m)',
      numeric: true,
      needed: always,
      when: has('a_electrode', 'b_electrode', 'm_electrode', 'n_electrode'),
    },
  ],
  positions: [
    { field: 'line', words: 'All rows are of the line', needed: always },
    {
      field: 'step_m',
      words: 'Step between electrodes (m)',
      numeric: true,
      needed: always,
      when: has('electrode', 'first_lon', 'first_easting'),
    },
    {
      field: 'electrodes',
      words: 'How many electrodes',
      numeric: true,
      when: has('electrode', 'first_lon', 'first_easting'),
    },
  ],
  legs: [
    { field: 'line', words: 'All rows are of the line', needed: always },
    { field: 'bearing_ref', words: 'Bearings are from north', choices: NORTHS, needed: always },
  ],
  remotes: [{ field: 'outing', words: 'All rows are of the outing', needed: always }],
  features: [{ field: 'type', words: 'All rows are a (doline, ponor, …)', needed: always }],
};

function valueHasUnit(columns: TablePreview['columns']): boolean {
  return columns.some(({ field, unit }) => field === 'value' && unit !== null);
}

function showsMillivolts({ columns }: TablePreview): boolean {
  return columns.some(({ field, unit }) => field === 'value' && unit === 'mV');
}

/** What no column says and what is the same in every row: said once. */
export function SaidOnce({
  preview,
  kind,
  columns,
  onCorrect,
}: {
  preview: TablePreview;
  kind: TableKind;
  columns: FileColumns;
  onCorrect: (columns: FileColumns) => void;
}) {
  const asked = ASKED[kind].filter(
    ({ field, when }) => !hasColumn(preview.columns, field) && (when === undefined || when(preview)),
  );
  return asked.map(({ field, words, choices, numeric, needed }) => {
    const lacking = columns.constants?.[field] === undefined && needed?.(preview) === true;
    const said = String(columns.constants?.[field] ?? '');
    const say = (text: string) => onCorrect(withConstant(columns, field, text));
    if (!choices) {
      return (
        <TypedField key={field} words={words} said={said} numeric={numeric === true} needed={lacking} onSay={say} />
      );
    }
    return (
      <label key={field} className="field" data-needed={lacking}>
        <span>{words}</span>
        <select value={said} onChange={(event) => say(event.target.value)}>
          <option value="">choose…</option>
          {choices.map((choice) => (
            <option key={choice.value} value={choice.value}>
              {choice.words}
            </option>
          ))}
        </select>
      </label>
    );
  });
}
