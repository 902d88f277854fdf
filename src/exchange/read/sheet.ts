import { baseName, type FileColumns } from './columns';
import { type Field, type HeaderMatch, nearestField, type TableKind } from './headers';
import { absurd } from './limits';
import type { Notebook, Where } from './notebook';
import { type DecimalSign, readNumber } from './number-text';

export interface SheetRow {
  /** Line of the file on which the row begins, from 1. */
  readonly row: number;
  readonly cells: readonly string[];
}

/** Whether any cell has more in it than spaces. */
export function hasText(cells: readonly string[]): boolean {
  for (const cell of cells) if (cell.trim() !== '') return true;
  return false;
}

/**
 * Puts the values that are not null into a thing just made, and gives it back. For what is made by the hundred thousand:
 * V8 takes some times the time and memory for a literal that begins with a spread.
 */
export function withSaid<T extends object>(made: T, said: Readonly<Record<string, unknown>>): T {
  for (const key in said) if (said[key] !== null) (made as Record<string, unknown>)[key] = said[key];
  return made;
}

/** A column understood: what it means and where it is. */
export interface Column extends HeaderMatch {
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
    readonly decimal: DecimalSign,
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
    // Between quotation marks only where it could not be told from the words around it.
    const named = near !== undefined && /[\s,;?]/.test(near) ? `"${near}"` : near;
    const [brief, hint] =
      near === undefined
        ? ['', '']
        : [`; is ${named} meant?`, ` Is "${near}" meant? Rename it, or name it in a columns map.`];
    this.notes.fault(
      { row: this.headerRow ?? 1, column: field },
      this.headers().join(', '),
      spoken + brief,
      `${this.file} has no column for ${spoken}.${hint}`,
    );
  }

  private headers(): string[] {
    return [...[...this.columns.values()].map((column) => column.header), ...this.unmatched];
  }

  /**
   * Text of a cell, without the spaces around it; null when it is blank.
   * Control characters in names are a fault, since a name goes to terminals, files and maps. Remarks may have line breaks
   * and tabs, which become spaces.
   */
  text(row: SheetRow, field: Field): string | null {
    const own = this.own(row, field);
    const text = own === '' ? this.constants.get(field) : own;
    if (text === undefined) return null;
    return KEPT.has(field) && hasControls(text) ? this.withoutControls(row, field, text) : text;
  }

  private withoutControls(row: SheetRow, field: Field, text: string): string {
    const plain = REMARKS.has(field) ? text.replace(/[\t\n]+/g, ' ') : text;
    if (!hasControls(plain)) return plain;
    const where = this.where(row, field);
    const expected = REMARKS.has(field)
      ? 'a text without control characters'
      : 'a text without line breaks, tabs and other control characters';
    this.notes.faultOnce(
      `controls ${field} ${row.row}`,
      where,
      visible(plain),
      expected,
      `${this.file}, row ${row.row}: ${where.column} has control characters in it; it has to be ${expected}.`,
    );
    return plain;
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
    const converted = factor === 1 ? value : roundOff(value * factor);
    const expected = absurd(field, converted);
    if (expected === null) return converted;
    this.wrong(row, field, text, expected);
    return null;
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

/** Names, which have to be one line of plain text. */
const NAMES: readonly Field[] = [
  ...(['line', 'outing', 'seating_1', 'seating_2', 'source', 'device'] as const),
  ...(['type', 'name', 'external_id', 'confidentiality'] as const),
];
const REMARKS: ReadonlySet<Field> = new Set<Field>(['note', 'status_reason']);
/** Cells whose text is kept as it stands; all others become numbers, words or times. */
const KEPT: ReadonlySet<Field> = new Set<Field>([...NAMES, ...REMARKS]);

/** Control characters, line and paragraph separators, and the marks that turn the direction of what follows. */
const CONTROLS = /[\p{Cc}\u2028\u2029\u202a-\u202e\u2066-\u2069]/u;

/** Whether a text has characters in it that would rewrite the line it is shown in. */
export const hasControls = (text: string): boolean => CONTROLS.test(text);

/** The text with its control characters shown as what they are. */
export function visible(text: string): string {
  const code = (letter: string) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, '0')}`;
  return text.slice(0, 200).replace(new RegExp(CONTROLS, 'gu'), code);
}

/** Binary dust of a conversion (7.620000000000001) is not in the notebook; nobody tapes to a nanometre. */
export function roundOff(value: number): number {
  return Math.round(value * 1e9) / 1e9;
}

function cellText(row: SheetRow, column: Column): string {
  const text = tidy(row.cells[column.index] ?? '');
  return column.values?.get(text.toLowerCase()) ?? text;
}

/** A cell without what spreadsheets put around it: spaces, quotes behind spaces, the apostrophe before a formula. */
export function tidy(cell: string): string {
  let text = cell.trim();
  // Quotes behind a space are no quotes to the parser.
  if (text.length > 1 && text.startsWith('"') && text.endsWith('"') && cell !== text) text = text.slice(1, -1).trim();
  // Spreadsheets and our own tables put an apostrophe before text that would run as a formula.
  if (text.startsWith("'") && /^'+\s*(?:[=+\-@]|\d[\d.,]*$)/.test(text)) text = text.slice(1).trim();
  return text;
}

/** The file's name without folders and ending, for what is named after it. */
export function stemOf(file: string): string {
  return baseName(file).replace(/\.[^.]*$/, '');
}
