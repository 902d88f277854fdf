import Papa from 'papaparse';
import { baseName, byHeader, type FileColumns } from './columns';
import { decodeText } from './decode';
import type { TableKind } from './headers';
import { type Field, fieldsOf, type HeaderMatch, isNumeric, matchHeaders, matchMapped, nearestField } from './headers';
import type { Notebook, Where } from './notebook';
import { type DecimalSign, guessDecimalSign, readNumber } from './number-text';
import { bareKey } from './vocabulary';

const DELIMITERS = [',', ';', '\t', '|'] as const;
/** A header row is looked for in the first rows and in this much text: enough for any preamble, little of a noise file. */
const HEAD_ROWS = 12;
const HEAD_LENGTH = 65_536;
/** Rows that are looked at to tell the decimal sign. */
const DECIMAL_SAMPLE_ROWS = 2000;

export interface SheetRow {
  /** Line of the file on which the row begins, from 1. */
  readonly row: number;
  readonly cells: readonly string[];
}

interface Column extends HeaderMatch {
  readonly index: number;
  readonly header: string;
  readonly values: ReadonlyMap<string, string> | null;
}

/**
 * A table with its columns understood. Cells are read by field; what cannot be read becomes a fault in the notebook and
 * null here, so a row during which the notebook's `troubles` grew is not to be used.
 */
export class Sheet {
  constructor(
    readonly kind: TableKind,
    readonly notes: Notebook,
    readonly rows: readonly SheetRow[],
    /** Line of the file with the headers; null without one. */
    readonly headerRow: number | null,
    readonly map: FileColumns | null,
    private readonly columns: ReadonlyMap<Field, Column>,
    private readonly joins: ReadonlyMap<Field, readonly Column[]>,
    private readonly constants: ReadonlyMap<Field, string>,
    /** What finished cells mean, by field, where the columns map says so. */
    private readonly meanings: ReadonlyMap<string, ReadonlyMap<string, string>>,
    private readonly unmatched: readonly string[],
    private readonly decimal: DecimalSign,
  ) {}

  /** Base name of the file, for sentences. */
  get file(): string {
    return this.notes.label;
  }

  /** Whether the table says anything of a field, by a column, a joining or a constant. */
  has(field: Field): boolean {
    return this.columns.has(field) || this.joins.has(field) || this.constants.has(field);
  }

  /** Unit that a column's header names, for `value` and `limit`. */
  readingUnit(field: Field) {
    return this.columns.get(field)?.readingUnit ?? null;
  }

  /** Unit of length that a coordinate column's header names. */
  lengthUnit(field: Field): string | null {
    return this.columns.get(field)?.lengthUnit ?? null;
  }

  /** Whether the header of a length names another unit than metres. */
  isConverted(field: Field): boolean {
    return (this.columns.get(field)?.factor ?? 1) !== 1;
  }

  where(row: SheetRow | null, field: Field): Where {
    return { row: row?.row ?? this.headerRow, column: this.columns.get(field)?.header ?? field };
  }

  /** A fault for a column that the table cannot do without. `spoken` names what is missing, with what may stand in. */
  missing(field: Field, spoken: string): void {
    const near = this.unmatched.find((header) => nearestField(this.kind, header) === field);
    const hint = near === undefined ? '' : ` Is "${near}" meant? Rename it, or name it in a columns map.`;
    this.notes.fault(
      { row: this.headerRow ?? 1, column: field },
      this.headers().join(', '),
      spoken,
      `${this.file} has no column for ${spoken}.${hint}`,
    );
  }

  private headers(): string[] {
    return [...[...this.columns.values()].map((column) => column.header), ...this.unmatched];
  }

  /** Text of a cell, without the spaces around it; null when it is blank. */
  text(row: SheetRow, field: Field): string | null {
    const own = this.own(row, field);
    return own === '' ? (this.constants.get(field) ?? null) : own;
  }

  /** Text of a cell that must not be blank; null with a fault when it is. */
  required(row: SheetRow, field: Field, expected: string): string | null {
    const text = this.text(row, field);
    if (text === null) {
      const where = this.where(row, field);
      this.notes.fault(
        where,
        '',
        expected,
        `${this.file}, row ${row.row}: ${where.column} is blank; it has to be ${expected}.`,
      );
    }
    return text;
  }

  /** Number of a cell in the field's own unit; null when blank, null with a fault when it is no number. */
  number(row: SheetRow, field: Field): number | null {
    const own = this.own(row, field);
    const constant = own === '' ? this.constants.get(field) : undefined;
    const text = own === '' ? constant : own;
    if (text === undefined) return null;
    // Constants come from JSON, whatever the file's decimal sign.
    const value = readNumber(text, constant === undefined ? this.decimal : '.');
    if (value === null) {
      this.wrong(row, field, text, this.numberExpected(text));
      return null;
    }
    const factor = constant === undefined ? (this.columns.get(field)?.factor ?? 1) : 1;
    return factor === 1 ? value : roundOff(value * factor);
  }

  /** The same for a number that has to be greater than 0. */
  positive(row: SheetRow, field: Field): number | null {
    const value = this.number(row, field);
    if (value === null || value > 0) return value;
    this.wrong(row, field, String(value), 'a number greater than 0');
    return null;
  }

  /** Number of a text that is part of a cell, in the decimal sign of the file. */
  parse(text: string): number | null {
    return readNumber(text, this.decimal);
  }

  /** One of a set of words; null when blank, null with a fault when unknown. `known` is listed in the fault. */
  word<T>(row: SheetRow, field: Field, read: (text: string) => T | null, known: readonly string[]): T | null {
    const text = this.text(row, field);
    if (text === null) return null;
    const value = read(text);
    if (value === null) this.wrong(row, field, text, `one of ${known.join(', ')}`);
    return value;
  }

  /** A fault at a cell: what it says, and what it should. */
  wrong(row: SheetRow, field: Field, read: string, expected: string): void {
    const where = this.where(row, field);
    const shown = read.length > 60 ? `${read.slice(0, 59)}…` : read;
    this.notes.fault(
      where,
      read,
      expected,
      `${this.file}, row ${row.row}: ${where.column} says "${shown}"; it has to be ${expected}.`,
    );
  }

  private numberExpected(text: string): string {
    const other = this.decimal === '.' ? ',' : '.';
    if (/^[-+]?\d+[.,]\d+$/.test(text) && text.includes(other)) {
      return `a number with "${this.decimal}" as its decimal sign, like the rest of the file`;
    }
    return 'a number';
  }

  private own(row: SheetRow, field: Field): string {
    const joined = this.joins.get(field);
    const column = joined ? undefined : this.columns.get(field);
    const text = joined
      ? joined
          .map((part) => cellText(row, part))
          .filter((part) => part !== '')
          .join(' ')
      : column
        ? cellText(row, column)
        : '';
    return this.meanings.get(field)?.get(text.toLowerCase()) ?? text;
  }
}

/** Binary dust of a conversion (7.620000000000001) is not in the notebook; nobody tapes to a nanometre. */
function roundOff(value: number): number {
  return Math.round(value * 1e9) / 1e9;
}

function cellText(row: SheetRow, column: Column): string {
  const text = tidy(row.cells[column.index] ?? '');
  return column.values?.get(text.toLowerCase()) ?? text;
}

function tidy(cell: string): string {
  let text = cell.trim();
  // Quotes behind a space are no quotes to the parser.
  if (text.length > 1 && text.startsWith('"') && text.endsWith('"') && cell !== text) text = text.slice(1, -1).trim();
  // Spreadsheets and our own tables put an apostrophe before text that would run as a formula.
  if (text.startsWith("'") && /^'\s*(?:[=+\-@]|\d[\d.,]*$)/.test(text)) text = text.slice(1).trim();
  return text;
}

/** Reads a file into a sheet; null when it cannot be used, with the faults in the notebook. */
export function openSheet(bytes: Uint8Array, kind: TableKind, map: FileColumns | null, notes: Notebook): Sheet | null {
  const decoded = decodeText(bytes);
  const wholeFile: Where = { row: null, column: null };
  if (!decoded.ok) {
    const read = decoded.code === 'empty' ? 'nothing' : 'bytes that are no text';
    notes.fault(wholeFile, read, `a ${kind} table`, `${notes.label}: ${decoded.sentence}`);
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
  const lines = decoded.value.text.split('\n');
  const stated = takeSeparatorLine(lines);
  for (let i = 0; i < Math.min(map?.skip_rows ?? 0, lines.length); i += 1) lines[i] = '';
  const headless = map?.header_row === 0;
  const headerLine = map?.header_row ?? 0;
  if (headerLine > 1) lines.fill('', 0, headerLine - 1);
  // Headers that stand in a comment are headers when the map says so.
  if (headerLine > 0) lines[headerLine - 1] = (lines[headerLine - 1] ?? '').replace(/^#+/, '');
  if (map?.delimiter === 'spaces') spacesToTabs(lines);

  const delimiter = map?.delimiter === 'spaces' ? '\t' : (map?.delimiter ?? stated);
  const head = parseHead(cutHead(lines), delimiter, kind, map);
  const header = headless ? null : findHeader(head.rows, kind, map);
  if (!headless && header === null) {
    const first = head.rows[0];
    const read = first ? first.cells.join(head.delimiter).trim() : 'nothing';
    notes.fault(
      { row: first?.row ?? 1, column: null },
      read,
      `headers of a ${kind} table`,
      `${notes.label} is not a ${kind} table: no header in its first rows is known. Expected columns such as ${fieldsOf(kind).slice(0, 6).join(', ')}; a columns map can name others.`,
    );
    return null;
  }

  const { rows, comments, quoteFaults } = parseAll(lines, head.delimiter);
  for (const { row, missingEnd } of quoteFaults) {
    notes.fault(
      { row, column: null },
      '"',
      missingEnd ? 'a closing quotation mark' : 'a delimiter after a closing quotation mark',
      `${notes.label}, row ${row}: a quotation mark is ${missingEnd ? 'opened and never closed' : 'followed by more text'}.`,
    );
  }
  if (quoteFaults.length > 0) return null;
  if (comments.length > 0) {
    notes.skipped(
      { row: comments[0] ?? null, column: null },
      `${comments.length} ${comments.length === 1 ? 'line' : 'lines'}`,
      'table rows',
      `${notes.label}: ${comments.length} lines that begin with # were taken for comments, the first in row ${comments[0]}.`,
    );
  }
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
  const width = header ? header.cells.length : Math.max(0, ...body.slice(0, HEAD_ROWS).map((row) => row.cells.length));
  const headers = header
    ? header.cells.map((cell) => tidy(cell).replace(/\s+/g, ' '))
    : Array.from({ length: width }, (_, i) => String(i + 1));

  const bound = bindColumns(kind, headers, headerRow, body, map, notes);
  if (bound === null) return null;
  if (body.length === 0) {
    notes.fault(
      { row: headerRow ?? 1, column: null },
      'no rows',
      `rows of a ${kind} table`,
      `${notes.label} has headers and no rows below them.`,
    );
    return null;
  }
  checkWidths(body, width, notes);
  const decimal = map?.decimal ?? decimalOf(kind, body, bound.columns, head.delimiter, notes);
  const constants = new Map(
    Object.entries(map?.constants ?? {}).map(([field, value]) => [field as Field, String(value).trim()]),
  );
  const meanings = new Map(Object.entries(map?.values ?? {}).map(([name, words]) => [name, lowerKeys(words)]));
  const { columns, joins, unmatched } = bound;
  return new Sheet(kind, notes, body, headerRow, map, columns, joins, constants, meanings, unmatched, decimal);
}

function lowerKeys(words: Readonly<Record<string, string>>): ReadonlyMap<string, string> {
  return new Map(Object.entries(words).map(([cell, meaning]) => [cell.trim().toLowerCase(), meaning]));
}

/** A first line `sep=;` names the delimiter to spreadsheets; it is blanked so that row numbers stay. */
function takeSeparatorLine(lines: string[]): string | undefined {
  const stated = /^"?sep=(.|\\t)"?\s*$/i.exec(lines[0] ?? '')?.[1];
  if (stated === undefined) return undefined;
  lines[0] = '';
  return stated === '\\t' ? '\t' : stated;
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
function parseAll(lines: readonly string[], delimiter: string): Parsed {
  const text = lines.join('\n');
  const result = Papa.parse<string[]>(text, {
    delimiter,
    newline: '\n',
    quoteChar: '"',
    comments: '#',
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
    while ((lines[line] ?? '').startsWith('#')) {
      line += 1;
      comments.push(line);
    }
    starts.push(line + 1);
    if (cells.some((cell) => cell.trim() !== '')) rows.push({ row: line + 1, cells });
    line += 1;
    if (quoted) for (const cell of cells) line += cell.split('\n').length - 1;
  }
  const quoteFaults = result.errors
    .filter((error) => error.type === 'Quotes')
    .map((error) => ({ row: starts[error.row ?? 0] ?? 1, missingEnd: error.code === 'MissingQuotes' }));
  return { rows, comments, quoteFaults };
}

/** The first rows, parted by the stated delimiter or by the one that makes the most known headers. */
function parseHead(
  head: string,
  stated: string | undefined,
  kind: TableKind,
  map: FileColumns | null,
): { readonly rows: readonly SheetRow[]; readonly delimiter: string } {
  const lines = head.split('\n');
  const partedBy = (delimiter: string) => ({ rows: parseAll(lines, delimiter).rows.slice(0, HEAD_ROWS), delimiter });
  if (stated !== undefined) return partedBy(stated);
  const guess = Papa.parse<string[]>(head, {
    delimitersToGuess: [...DELIMITERS],
    comments: '#',
    preview: HEAD_ROWS,
  }).meta.delimiter;
  let best = partedBy(guess);
  let bestScore = scoreOf(best.rows, kind, map);
  for (const delimiter of DELIMITERS) {
    if (delimiter === guess) continue;
    const candidate = partedBy(delimiter);
    const score = scoreOf(candidate.rows, kind, map);
    if (score > bestScore) {
      best = candidate;
      bestScore = score;
    }
  }
  return best;
}

const scoreOf = (rows: readonly SheetRow[], kind: TableKind, map: FileColumns | null): number =>
  Math.max(0, ...rows.map((row) => knownHeaders(row.cells, kind, map)));

function knownHeaders(cells: readonly string[], kind: TableKind, map: FileColumns | null): number {
  const named = new Set<string>([
    ...byHeader(map?.columns).keys(),
    ...(map?.ignore ?? []).map(bareKey),
    ...Object.values(map?.join ?? {}).flatMap((headers) => headers.map(bareKey)),
  ]);
  const matches = matchHeaders(kind, cells.map(tidy), map?.grid !== undefined);
  return cells.filter((cell, i) => matches[i] || (cell.trim() !== '' && named.has(bareKey(cell)))).length;
}

/** The first row with two known headers; else the very first if it has one; null if none. */
function findHeader(rows: readonly SheetRow[], kind: TableKind, map: FileColumns | null): SheetRow | null {
  const first = rows[0];
  if (!first) return null;
  if (map?.header_row !== undefined) return knownHeaders(first.cells, kind, map) > 0 ? first : null;
  const found = rows.find((row) => knownHeaders(row.cells, kind, map) >= 2);
  return found ?? (knownHeaders(first.cells, kind, map) > 0 ? first : null);
}

interface Bound {
  readonly columns: ReadonlyMap<Field, Column>;
  readonly joins: ReadonlyMap<Field, readonly Column[]>;
  readonly unmatched: readonly string[];
}

function bindColumns(
  kind: TableKind,
  headers: readonly string[],
  headerRow: number | null,
  body: readonly SheetRow[],
  map: FileColumns | null,
  notes: Notebook,
): Bound | null {
  const troublesBefore = notes.troubles;
  const renames = byHeader(map?.columns);
  const ignored = new Set((map?.ignore ?? []).map(bareKey));
  const values = byHeader(map?.values);
  const joinedKeys = new Set(Object.values(map?.join ?? {}).flatMap((parts) => parts.map(bareKey)));
  const projected =
    map?.grid !== undefined || map?.constants?.epsg !== undefined || headers.some((h) => bareKey(h) === 'epsg');
  const usual = headerRow === null ? headers.map(() => null) : matchHeaders(kind, headers, projected);
  const present = new Map(headers.map((header, index) => [bareKey(header), index]));

  const columns = new Map<Field, Column>();
  const unmatched: string[] = [];
  const columnOf = (index: number, match: HeaderMatch): Column => {
    const header = headers[index] ?? '';
    const words = values.get(bareKey(header));
    return {
      ...match,
      index,
      header: header || String(index + 1),
      values: words ? lowerKeys(words) : null,
    };
  };
  headers.forEach((header, index) => {
    const key = bareKey(header);
    const where: Where = { row: headerRow, column: header || String(index + 1) };
    const renamed = key === '' ? undefined : renames.get(key);
    if (renamed === null || renamed === '' || (key !== '' && ignored.has(key))) return;
    const match = renamed === undefined ? (usual[index] ?? null) : matchMapped(kind, renamed as Field, header);
    if (renamed === undefined && joinedKeys.has(key)) return;
    if (!match) {
      noteUnmatched(kind, header, index, body, where, notes);
      if (header !== '') unmatched.push(header);
      return;
    }
    const before = columns.get(match.field);
    if (before) {
      notes.fault(
        where,
        header,
        `one column for ${match.field}`,
        `${notes.label}: the columns "${before.header}" and "${header}" both mean ${match.field}. Remove one, or say in a columns map which to ignore.`,
      );
      return;
    }
    if (match.doubt) {
      notes.guessed(
        where,
        header,
        match.field,
        `${notes.label}: "${header}" was read as ${match.field}; it would be ${match.doubt}.`,
      );
    }
    columns.set(match.field, columnOf(index, match));
  });

  const joins = new Map<Field, readonly Column[]>();
  for (const [field, parts] of Object.entries(map?.join ?? {})) {
    const found = parts.flatMap((part) => {
      const index = present.get(bareKey(part));
      return index === undefined ? [] : [columnOf(index, matchMapped(kind, field as Field, ''))];
    });
    joins.set(field as Field, found);
  }
  const asked = [
    ...Object.entries(map?.columns ?? {}).flatMap(([header, field]) => (field ? [header] : [])),
    ...Object.values(map?.join ?? {}).flat(),
  ];
  for (const header of asked) {
    if (present.has(bareKey(header))) continue;
    notes.fault(
      { row: headerRow, column: header },
      headers.join(', '),
      `a column "${header}"`,
      `${notes.label} has no column "${header}", which the columns map names. It has: ${headers.join(', ')}.`,
    );
  }
  return notes.troubles > troublesBefore ? null : { columns, joins, unmatched };
}

function noteUnmatched(
  kind: TableKind,
  header: string,
  index: number,
  body: readonly SheetRow[],
  where: Where,
  notes: Notebook,
): void {
  if (header === '') {
    const used = body.find((row) => (row.cells[index] ?? '').trim() !== '');
    if (!used) return;
    notes.skipped(where, '', 'a header', `${notes.label}: column ${index + 1} has no header and was left out.`);
    return;
  }
  const near = nearestField(kind, header);
  notes.skipped(
    where,
    header,
    near ?? 'a known header',
    `${notes.label}: the column "${header}" is not known and was left out.${near ? ` If it is ${near}, rename it or say so in a columns map.` : ''}`,
  );
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
      'a decimal sign',
      `${notes.label}: the comma was read as the decimal sign.`,
    );
  }
  return decimal;
}

/** The file's name without folders and ending, for what is named after it. */
export function stemOf(file: string): string {
  return baseName(file).replace(/\.[^.]*$/, '');
}
