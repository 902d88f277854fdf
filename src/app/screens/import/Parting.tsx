import type { FileColumns } from '../../../exchange/read/columns';
import type { TablePreview } from '../../../exchange/read/preview';
import { withDecimal, withDelimiter, withHeaderRow } from './import-draft';

const DELIMITERS = [
  { value: ',', words: 'commas' },
  { value: ';', words: 'semicolons' },
  { value: '\t', words: 'tabs' },
  { value: '|', words: 'vertical bars' },
  { value: 'spaces', words: 'spaces' },
] as const;
const DECIMALS = [
  { value: '.', words: 'a point: 47.5' },
  { value: ',', words: 'a comma: 47,5' },
] as const;

/** How the text was parted into columns and numbers, and which line holds the headers. */
export function Parting({
  preview,
  columns,
  onCorrect,
}: {
  preview: TablePreview;
  columns: FileColumns;
  onCorrect: (columns: FileColumns) => void;
}) {
  const { delimiter, decimal, headerRow, topLines, encoding } = preview;
  return (
    <details className="parting">
      <summary>How the columns are separated: {partingWords(preview)}</summary>
      <label className="field">
        <span>Columns are separated by</span>
        <select
          value={delimiter ?? ''}
          onChange={(event) => {
            const chosen = DELIMITERS.find(({ value }) => value === event.target.value);
            if (chosen) onCorrect(withDelimiter(columns, chosen.value));
          }}
        >
          {DELIMITERS.map(({ value, words }) => (
            <option key={value} value={value}>
              {words}
            </option>
          ))}
        </select>
      </label>
      <label className="field">
        <span>The decimal sign is</span>
        <select
          value={decimal}
          onChange={(event) => {
            const chosen = DECIMALS.find(({ value }) => value === event.target.value);
            if (chosen) onCorrect(withDecimal(columns, chosen.value));
          }}
        >
          {DECIMALS.map(({ value, words }) => (
            <option key={value} value={value}>
              {words}
            </option>
          ))}
        </select>
      </label>
      <label className="field">
        <span>The headers are in</span>
        <select
          value={headerRow ?? 0}
          onChange={(event) => onCorrect(withHeaderRow(columns, Number(event.target.value)))}
        >
          {topLines.map(({ row, text }) => (
            <option key={row} value={row}>
              line {row}: {text.slice(0, 60)}
            </option>
          ))}
          <option value={0}>no line: number the columns</option>
        </select>
      </label>
      <p className="quiet">Letters were read as {encoding}.</p>
    </details>
  );
}

function partingWords({ delimiter, decimal, headerRow }: TablePreview): string {
  const by = DELIMITERS.find(({ value }) => value === delimiter)?.words ?? 'nothing';
  const headers = headerRow === null ? 'no headers' : `headers in line ${headerRow}`;
  return `${by}, decimal ${decimal === ',' ? 'comma' : 'point'}, ${headers}`;
}
