import Papa from 'papaparse';
import { type Bound, bindColumns, lowerKeys } from './bind-columns';
import { byHeader, type FileColumns } from './columns';
import { type DecodedText, decodeText } from './decode';
import { type Field, fieldsOf, isNumeric, matchHeaders, type TableKind } from './headers';
import type { LaidOut } from './laid-out';
import type { Notebook, Where } from './notebook';
import { type DecimalSign, guessDecimalSign } from './number-text';
import { type Column, hasText, Sheet, type SheetRow, tidy } from './sheet';
import { bareKey } from './vocabulary';

const DELIMITERS = [',', ';', '\t', '|'] as const;
/** A header row is looked for in the first rows and in this much text: enough for any preamble, little of a noise file. */
const HEAD_ROWS = 12;
const HEAD_LENGTH = 65_536;
/** A row of more cells is noise or a matrix, and nothing that headers could name. */
const MOST_COLUMNS = 1000;
/** Rows that are looked at to tell the decimal sign. */
const DECIMAL_SAMPLE_ROWS = 2000;

const REFUSED: Readonly<Record<string, readonly [read: string, more: string]>> = {
  empty: ['nothing', ''],
  workbook: ['a zipped workbook', '; save it as CSV first'],
};

/** Reads a file into a sheet; null when it cannot be used, with the faults in the notebook. */
export function openSheet(bytes: Uint8Array, kind: TableKind, map: FileColumns | null, notes: Notebook): Sheet | null {
  const decoded = decodeTable(bytes, kind, notes);
  const laid = decoded === null ? null : layOut(decoded.text, kind, map, notes, 'as_read');
  if (laid === null) return null;
  const troubles = notes.troubles;
  const bound = bindColumns(kind, laid, map, notes);
  if (notes.troubles > troubles) return null;
  const { headerRow, body, headers } = laid;
  if (body.length === 0) {
    notes.fault(
      { row: headerRow ?? 1, column: null },
      'no rows',
      `rows of a ${kind} table`,
      `${notes.label} has headers and no rows below them.`,
    );
    return null;
  }
  checkWidths(body, headers.length, notes);
  noteDuplicates(kind, body, notes);
  return sheetOf(kind, laid, bound, map, notes);
}

/** The text of a table; null with a fault when the bytes are none. A guessed encoding has a note. */
export function decodeTable(bytes: Uint8Array, kind: TableKind, notes: Notebook): DecodedText | null {
  const decoded = decodeText(bytes);
  const wholeFile: Where = { row: null, column: null };
  if (!decoded.ok) {
    const [read, more] = REFUSED[decoded.code] ?? ['bytes that are no text', ''];
    notes.fault(wholeFile, read, `a ${kind} table${more}`, `${notes.label}: ${decoded.sentence}`);
    return null;
  }
  const { encoding, guessed } = decoded.value;
  if (guessed) {
    notes.guessed(
      wholeFile,
      encoding,
      'UTF-8',
      `${notes.label} does not say its encoding and was read as ${encoding}. Look at letters with accents and at degree signs.`,
    );
  }
  return decoded.value;
}

/**
 * Parts a text into headers and rows. `as_read`: null with faults where no row holds a known header or a quotation mark
 * is wrong. `to_look_at`: as much as can be shown, with the same faults; the first row with words stands for the headers.
 */
export function layOut(
  text: string,
  kind: TableKind,
  map: FileColumns | null,
  notes: Notebook,
  purpose: 'as_read' | 'to_look_at',
): LaidOut | null {
  const lines = text.split('\n');
  const stated = takeSeparatorLine(lines);
  blankPreamble(lines, map);
  const headless = map?.header_row === 0;
  if (map?.delimiter === 'spaces') spacesToTabs(lines);

  const delimiter = map?.delimiter === 'spaces' ? '\t' : (map?.delimiter ?? stated);
  const head = parseHead(cutHead(lines), delimiter, kind, map);
  let header = headless ? null : findHeader(head, kind, map);
  if (!headless && header === null) {
    const first = head.rows[0];
    if (first && first.cells.length > MOST_COLUMNS) {
      notes.fault(
        { row: first.row, column: null },
        `${first.cells.length} cells in a row`,
        `headers of a ${kind} table, ${MOST_COLUMNS.toLocaleString('en-US')} columns at most`,
        `${notes.label} is not a ${kind} table: row ${first.row} has ${first.cells.length} cells.`,
      );
      return null;
    }
    const read = first ? first.cells.join(head.delimiter).trim() : 'nothing';
    notes.fault(
      { row: first?.row ?? 1, column: null },
      read,
      `headers of a ${kind} table`,
      `${notes.label} is not a ${kind} table: no header in its first rows is known. Expected columns such as ${fieldsOf(kind).slice(0, 6).join(', ')}; a columns map can name others.`,
    );
    if (purpose === 'as_read') return null;
    header = headerToLookAt(head.rows, map);
  }

  const { rows, comments, quoteFaults, hashed } = parseBody(lines, head.delimiter, header, map?.delimiter === 'spaces');
  for (const fault of quoteFaults) tellQuoteFault(fault, notes);
  if (quoteFaults.length > 0 && purpose === 'as_read') return null;
  if (comments.length > 0) noteComments(comments, notes);
  if (hashed.length > 0) noteHashed(hashed, notes);
  const headerRow = header?.row ?? null;
  if (header && header.row !== rows[0]?.row) {
    notes.guessed(
      { row: header.row, column: null },
      header.cells.join(' '),
      'the headers in the first row',
      `${notes.label}: the headers were found in row ${header.row}; the rows above were left out.`,
    );
  }
  const body = headerRow === null ? rows : rows.filter((row) => row.row > headerRow);
  const width = Math.min(MOST_COLUMNS, header ? header.cells.length : widthOf(body));
  const headers = header
    ? header.cells.map((cell) => tidy(cell).replace(/\s+/g, ' '))
    : Array.from({ length: width }, (_, i) => String(i + 1));
  return { delimiter: map?.delimiter === 'spaces' ? 'spaces' : head.delimiter, headerRow, headers, body };
}

/** The row that a person most likely means by headers: the one that was named, else the first that is mostly words. */
function headerToLookAt(rows: readonly SheetRow[], map: FileColumns | null): SheetRow | null {
  if (map?.header_row) return rows[0] ?? null;
  const isWords = ({ cells }: SheetRow): boolean => {
    const filled = cells.filter((cell) => cell.trim() !== '');
    const words = filled.filter((cell) => !/^[\s\d.,+-]*$/.test(cell));
    return filled.length > 1 && words.length * 2 > filled.length;
  };
  return rows.find(isWords) ?? null;
}

/** The sheet of columns that are bound, whether or not they suffice. */
export function sheetOf(
  kind: TableKind,
  { headerRow, body, delimiter }: LaidOut,
  { columns, joins, unmatched }: Bound,
  map: FileColumns | null,
  notes: Notebook,
): Sheet {
  const decimal = map?.decimal ?? decimalOf(kind, body, columns, delimiter, notes);
  const constants = new Map(
    Object.entries(map?.constants ?? {}).map(([field, value]) => [field as Field, String(value).trim()]),
  );
  const meanings = new Map(Object.entries(map?.values ?? {}).map(([name, words]) => [name, lowerKeys(words)]));
  return new Sheet(kind, notes, body, headerRow, map, columns, joins, constants, meanings, unmatched, decimal);
}

/** Cells of the widest of the first rows, for tables without headers. */
const widthOf = (body: readonly SheetRow[]): number =>
  Math.max(0, ...body.slice(0, HEAD_ROWS).map((row) => row.cells.length));

function tellQuoteFault({ row, missingEnd }: Parsed['quoteFaults'][number], notes: Notebook): void {
  notes.fault(
    { row, column: null },
    '"',
    missingEnd ? 'a closing quotation mark' : 'a delimiter after a closing quotation mark',
    `${notes.label}, row ${row}: a quotation mark is ${missingEnd ? 'opened and never closed' : 'followed by more text'}.`,
  );
}

function noteComments(rows: readonly number[], notes: Notebook): void {
  const [count, were] = rows.length === 1 ? ['1 line', 'was'] : [`${rows.length} lines`, 'were'];
  notes.skipped(
    { row: rows[0] ?? null, column: null },
    `${count} with # in front`,
    'table rows',
    `${notes.label}: ${count} with # in front ${were} taken for comments, the first in row ${rows[0]}.`,
  );
}

function noteHashed(rows: readonly number[], notes: Notebook): void {
  const [count, were] = rows.length === 1 ? ['1 row', 'was'] : [`${rows.length} rows`, 'were'];
  notes.guessed(
    { row: rows[0] ?? null, column: null },
    `${count} with # in front and every cell`,
    'comments with fewer cells than the headers',
    `${notes.label}: ${count} with # in front ${were} read as part of the table, since every column has its cell, the first in row ${rows[0]}. Delete what was meant as a comment.`,
  );
}

/** Rows that say the same as an earlier one, cell by cell: pasted twice, or read twice with the same result. */
function noteDuplicates(kind: TableKind, body: readonly SheetRow[], notes: Notebook): void {
  const seen = new Set<string>();
  let count = 0;
  let first: number | null = null;
  for (const { row, cells } of body) {
    const key = cells.join('\u0000');
    if (seen.has(key)) {
      count += 1;
      first ??= row;
    } else seen.add(key);
  }
  if (first === null) return;
  const [rows, are, repeats] = count === 1 ? ['row', 'is', 'a repeat'] : ['rows', 'are', 'repeats'];
  const kept = kind === 'readings' ? ` and ${count === 1 ? 'counts' : 'count'} as ${repeats}` : '';
  notes.guessed(
    { row: first, column: null },
    `${count} ${rows} the same as an earlier one`,
    'every row once',
    `${notes.label}: ${count} ${rows} ${are} the same as an earlier one in every cell${kept}, the first in row ${first}. Delete what was pasted twice.`,
  );
}

/** A first line `sep=;` names the delimiter to spreadsheets; it is blanked so that row numbers stay. */
function takeSeparatorLine(lines: string[]): string | undefined {
  const stated = /^"?sep=(.|\\t)"?\s*$/i.exec(lines[0] ?? '')?.[1];
  if (stated === undefined) return undefined;
  lines[0] = '';
  return stated === '\\t' ? '\t' : stated;
}

/** Blanks what the map says is above the headers; the lines stay, so that row numbers do. */
function blankPreamble(lines: string[], map: FileColumns | null): void {
  const headerLine = map?.header_row ?? 0;
  lines.fill('', 0, Math.max(map?.skip_rows ?? 0, headerLine - 1));
  const header = headerLine > 0 ? lines[headerLine - 1] : undefined;
  // Headers that stand in a comment are headers when the map says so.
  if (header !== undefined) lines[headerLine - 1] = header.replace(/^#+/, '');
}

function spacesToTabs(lines: string[]): void {
  for (let i = 0; i < lines.length; i += 1) lines[i] = (lines[i] ?? '').trim().replace(/[ \t]+/g, '\t');
}

function cutHead(lines: readonly string[]): string {
  let text = '';
  let rows = 0;
  for (const line of lines) {
    text += `${line.slice(0, HEAD_LENGTH)}\n`;
    if (line.trim() !== '') rows += 1;
    // Comments and broken cells take lines of their own, so more lines than rows are wanted.
    if (rows >= 4 * HEAD_ROWS || text.length > HEAD_LENGTH) break;
  }
  return text;
}

interface Parsed {
  readonly rows: readonly SheetRow[];
  readonly comments: readonly number[];
  readonly quoteFaults: readonly { readonly row: number; readonly missingEnd: boolean }[];
}

/** Rows that hold anything, each with its line in the file. */
function parseAll(lines: readonly string[], delimiter: string, withComments = true): Parsed {
  const text = lines.join('\n');
  const result = Papa.parse<string[]>(text, {
    delimiter,
    newline: '\n',
    quoteChar: '"',
    comments: withComments ? '#' : false,
    dynamicTyping: false,
    skipEmptyLines: false,
  });
  const rows: SheetRow[] = [];
  const comments: number[] = [];
  const starts: number[] = [];
  // Only a quoted cell can hold a line break.
  const quoted = text.includes('"');
  let line = 0;
  for (const cells of result.data) {
    // The parser leaves comments out without a trace; they are walked past so that row numbers are those of the file.
    while (withComments && (lines[line] ?? '').startsWith('#')) {
      line += 1;
      comments.push(line);
    }
    starts.push(line + 1);
    if (hasText(cells)) rows.push({ row: line + 1, cells });
    line += 1;
    if (quoted) for (const cell of cells) line += cell.split('\n').length - 1;
  }
  const quoteFaults = result.errors
    .filter((error) => error.type === 'Quotes')
    .map((error) => ({ row: starts[error.row ?? 0] ?? 1, missingEnd: error.code === 'MissingQuotes' }));
  return { rows, comments, quoteFaults };
}

/** A line by itself, such as one with # in front, which the parser leaves out. */
function cellsOf(line: string, delimiter: string): readonly string[] {
  if (!line.includes('"')) return line.split(delimiter);
  return Papa.parse<string[]>(line, { delimiter, newline: '\n', quoteChar: '"' }).data[0] ?? [];
}

interface ParsedBody extends Parsed {
  /** Lines of the rows that begin with # and are data all the same. */
  readonly hashed: readonly number[];
}

/**
 * Rows of the whole file. What begins with # below the headers is a row where it has as many cells as they have, and
 * more than the first one filled; else it is a comment, as everything with # above the headers is.
 */
function parseBody(lines: readonly string[], delimiter: string, header: SheetRow | null, spaced: boolean): ParsedBody {
  if (!lines.some((line) => line.startsWith('#'))) return { ...parseAll(lines, delimiter), hashed: [] };
  const whole = parseAll(lines, delimiter, false);
  const width = header?.cells.length ?? widthOf(whole.rows);
  const isRow = ({ row, cells }: SheetRow): boolean => {
    if (header && row <= header.row) return row === header.row;
    // Words of a remark are as many as the columns by chance; # by itself is no name.
    if (spaced && cells[0] === '#') return false;
    return cells.length === width && cells.some((cell, i) => i > 0 && cell.trim() !== '');
  };
  const beginsSo = ({ row }: SheetRow): boolean => (lines[row - 1] ?? '').startsWith('#');
  const comments = whole.rows.filter((row) => beginsSo(row) && !isRow(row));
  const hashed = whole.rows.filter((row) => beginsSo(row) && isRow(row) && row.row !== header?.row);
  // A quotation mark inside a comment must not swallow the rows below it.
  const isWhole = whole.quoteFaults.length === 0 && !comments.some(spansLines);
  if (isWhole) {
    const left = new Set(comments);
    return {
      rows: whole.rows.filter((row) => !left.has(row)),
      comments: comments.map(({ row }) => row),
      quoteFaults: [],
      hashed: hashed.map(({ row }) => row),
    };
  }
  const known = parseAll(lines, delimiter);
  const alone = known.comments.map((row) => ({ row, cells: cellsOf(lines[row - 1] ?? '', delimiter) }));
  const kept = alone.filter(isRow).map(({ row }) => row);
  if (kept.length === 0) return { ...known, hashed: [] };
  const dropped = alone.filter((row) => !isRow(row)).map(({ row }) => row);
  const blanked = [...lines];
  for (const row of dropped) blanked[row - 1] = '';
  const again = parseAll(blanked, delimiter, false);
  return { ...again, comments: dropped, hashed: kept.filter((row) => row !== header?.row) };
}

const spansLines = ({ cells }: SheetRow): boolean => cells.some((cell) => cell.includes('\n'));

interface Head {
  readonly rows: readonly SheetRow[];
  /** The first rows that begin with #. */
  readonly hashed: readonly SheetRow[];
  readonly delimiter: string;
}

/** The first rows, parted by the stated delimiter or by the one that makes the most known headers. */
function parseHead(head: string, stated: string | undefined, kind: TableKind, map: FileColumns | null): Head {
  const lines = head.split('\n');
  const partedBy = (delimiter: string) => {
    const { rows, comments } = parseAll(lines, delimiter);
    // Headers may begin with # themselves.
    const hashed = comments
      .slice(0, HEAD_ROWS)
      .map((row) => ({ row, cells: cellsOf(lines[row - 1] ?? '', delimiter) }));
    return { rows: rows.slice(0, HEAD_ROWS), hashed, delimiter };
  };
  if (stated !== undefined) return partedBy(stated);
  const guess = Papa.parse<string[]>(head, {
    delimitersToGuess: [...DELIMITERS],
    comments: '#',
    preview: HEAD_ROWS,
  }).meta.delimiter;
  let best = partedBy(guess);
  let bestScore = scoreOf(best, kind, map);
  for (const delimiter of DELIMITERS) {
    if (delimiter === guess) continue;
    const candidate = partedBy(delimiter);
    const score = scoreOf(candidate, kind, map);
    if (score > bestScore) {
      best = candidate;
      bestScore = score;
    }
  }
  return best;
}

const scoreOf = ({ rows, hashed }: Head, kind: TableKind, map: FileColumns | null): number =>
  Math.max(0, ...[...rows, ...hashed].map((row) => knownHeaders(row.cells, kind, map)));

function knownHeaders(cells: readonly string[], kind: TableKind, map: FileColumns | null): number {
  if (cells.length > MOST_COLUMNS) return 0;
  const named = new Set<string>([
    ...byHeader(map?.columns).keys(),
    ...(map?.ignore ?? []).map(bareKey),
    ...Object.values(map?.join ?? {}).flatMap((headers) => headers.map(bareKey)),
  ]);
  const matches = matchHeaders(kind, cells.map(tidy), map?.grid !== undefined || map?.constants?.epsg !== undefined);
  return cells.filter((cell, i) => matches[i] || (cell.trim() !== '' && named.has(bareKey(cell)))).length;
}

/**
 * The first row with two known headers; else the very first if it has one; null if none.
 * A row that begins with # is the headers where it names more of them than any row below it that does not.
 */
function findHeader({ rows, hashed }: Head, kind: TableKind, map: FileColumns | null): SheetRow | null {
  const scores = new Map([...rows, ...hashed].map((row) => [row, knownHeaders(row.cells, kind, map)]));
  const scoreOfRow = (row: SheetRow): number => scores.get(row) ?? 0;
  if (map?.header_row === undefined) {
    const marked = hashed.find((row) => scoreOfRow(row) >= 2);
    const above = marked ? rows.some((row) => row.row < marked.row && scoreOfRow(row) >= 2) : true;
    const best = Math.max(0, ...rows.map(scoreOfRow));
    if (marked && !above && scoreOfRow(marked) > best) return marked;
  }
  const first = rows[0];
  if (!first) return null;
  if (map?.header_row !== undefined) return scoreOfRow(first) > 0 ? first : null;
  const found = rows.find((row) => scoreOfRow(row) >= 2);
  return found ?? (scoreOfRow(first) > 0 ? first : null);
}

function checkWidths(body: readonly SheetRow[], width: number, notes: Notebook): void {
  for (const { row, cells } of body) {
    if (cells.length <= width) continue;
    const extra = cells.slice(width).filter((cell) => cell.trim() !== '');
    if (extra.length === 0) continue;
    notes.fault(
      { row, column: String(width + 1) },
      extra.join(' '),
      `${width} cells`,
      `${notes.label}, row ${row} has ${cells.length} cells where the headers name ${width}. A decimal comma or a delimiter inside a text?`,
    );
  }
}

function decimalOf(
  kind: TableKind,
  body: readonly SheetRow[],
  columns: ReadonlyMap<Field, Column>,
  delimiter: string,
  notes: Notebook,
): DecimalSign {
  const numeric = [...columns.values()].filter((column) => isNumeric(kind, column.field));
  const sample = function* (): Generator<string> {
    for (const row of body.slice(0, DECIMAL_SAMPLE_ROWS))
      for (const column of numeric) yield row.cells[column.index] ?? '';
  };
  const decimal = guessDecimalSign(sample(), delimiter);
  if (decimal === ',') {
    notes.guessed(
      { row: null, column: null },
      'numbers like 47,5',
      'numbers like 47.5',
      `${notes.label}: the comma was read as the decimal sign.`,
    );
  }
  return decimal;
}
