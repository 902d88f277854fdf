/** A cell of a table: a number is written plainly, a text guarded, null leaves it blank. */
export type Cell = string | number | null | undefined;

/** What a spreadsheet would run, and what our own reader would take an apostrophe off. */
const RUNS = /^\s*[=+\-@\t\r]/;
const LOSES_APOSTROPHE = /^'+\s*(?:[=+\-@]|\d[\d.,]*$)/;
const NEEDS_QUOTES = /[",\n\r]|^#|^\s|\s$/;

/**
 * Rows as comma-separated text (RFC 4180, lines end with `\n`).
 * Numbers have no exponent and keep every digit. Text that a spreadsheet would run as a formula has an apostrophe in
 * front, which our reader takes off again. Columns that are blank in every row are left out, except those named. Rows are
 * gone through twice.
 */
export function csvText(
  columns: readonly string[],
  rows: Iterable<Readonly<Record<string, Cell>>>,
  always: readonly string[],
): string {
  const said = new Set(always);
  for (const row of rows) {
    for (const column of columns) if (isSaid(row[column])) said.add(column);
  }
  const used = columns.filter((column) => said.has(column));
  const lines = [used.join(',')];
  for (const row of rows) lines.push(used.map((column) => cellText(row[column])).join(','));
  return `${lines.join('\n')}\n`;
}

const isSaid = (cell: Cell): boolean => cell !== null && cell !== undefined && cell !== '';

function cellText(cell: Cell): string {
  if (cell === null || cell === undefined) return '';
  if (typeof cell === 'number') return plainDecimal(cell);
  const guarded = RUNS.test(cell) || LOSES_APOSTROPHE.test(cell) ? `'${cell}` : cell;
  return NEEDS_QUOTES.test(guarded) ? `"${guarded.replaceAll('"', '""')}"` : guarded;
}

/** A finite number in digits and a point, exactly as many as it takes to read the same number back. */
export function plainDecimal(value: number): string {
  const text = String(value === 0 ? 0 : value);
  const parts = /^(-?)(\d)(?:\.(\d+))?e([+-]\d+)$/.exec(text);
  if (!parts) return text;
  const [, sign = '', whole = '', fraction = '', exponent = '0'] = parts;
  const digits = whole + fraction;
  const point = 1 + Number(exponent);
  if (point <= 0) return `${sign}0.${'0'.repeat(-point)}${digits}`;
  return `${sign}${digits.padEnd(point, '0')}`;
}
