import type { Note } from '../../survey/note';
import { type Bound, bindColumns } from './bind-columns';
import type { FileColumns } from './columns';
import { type DecodedText, decodeText } from './decode';
import { emptyDraft } from './draft';
import { type Field, fieldsOf, type HeaderMatch, nearestField, TABLE_KINDS, type TableKind } from './headers';
import type { LaidOut } from './laid-out';
import { Notebook } from './notebook';
import type { DecimalSign } from './number-text';
import { NO_PLACES, type PreviewPlaces, previewPlaces } from './preview-places';
import { type Column, type SheetRow, tidy } from './sheet';
import { decodeTable, layOut, sheetOf } from './table';
import { readSheet, tableKindOf } from './tables';

/*
 * What a table would be taken for, before it is taken. The reader's own parts look at it, so that what is shown here is
 * what the reader will do; where the reader would give up, this goes on with what can be shown.
 */

/** Rows that are shown. */
const SAMPLE_ROWS = 8;
/** Different cells of a column that are shown. */
const SAMPLE_CELLS = 4;
/** Lines among which the headers are chosen. */
const TOP_LINES = 12;
/** Text that is looked at to tell which table it is. */
const HEAD_LENGTH = 65_536;
/** A column with so few different cells may tell lines apart. */
const FEW_VALUES = 12;

export interface PreviewColumn {
  /** As in the file, or its number where no row holds headers. */
  readonly header: string;
  /** What it was taken for; null when it is left out. */
  readonly field: Field | null;
  /** Another column has the same meaning already. */
  readonly clashes: boolean;
  /** Left out because the columns map says so. */
  readonly notWanted: boolean;
  /** Unit that the header names: `ohm_m`, `km`, or for a converted length `1 = 0.3048 m`. */
  readonly unit: string | null;
  /** What else the header might mean. */
  readonly doubt: string | null;
  /** For an unknown header: the field with the nearest name. */
  readonly guess: Field | null;
  /** The first different cells that are not blank. */
  readonly samples: readonly string[];
}

export interface TablePreview {
  readonly file: string;
  /** Null when nothing tells. */
  readonly kind: TableKind | null;
  readonly kindFrom: 'map' | 'name' | 'headers' | 'nothing';
  /** Null when the bytes are no text. */
  readonly encoding: DecodedText['encoding'] | null;
  readonly delimiter: string | null;
  readonly decimal: DecimalSign;
  /** Line of the file with the headers; null without one. */
  readonly headerRow: number | null;
  /** The first lines as they stand in the file, among which the headers may be. */
  readonly topLines: readonly { readonly row: number; readonly text: string }[];
  readonly columns: readonly PreviewColumn[];
  /** Every meaning that a column of this table may have. */
  readonly fields: readonly Field[];
  readonly rows: readonly SheetRow[];
  readonly rowCount: number;
  /** What the table cannot do without and has not, one sentence each. */
  readonly missing: readonly string[];
  /** Whether it says the unit of its values and how the probes were wired. True for tables that need not. */
  readonly unitSaid: boolean;
  readonly hookupSaid: boolean;
  /** Fields that have a column, a joining or a constant. */
  readonly said: readonly Field[];
  /** What a person may want to look at, one sentence each. */
  readonly hints: readonly string[];
  readonly places: PreviewPlaces;
  /** What was found in parting the table and naming its columns. What is in its cells is told by reading it. */
  readonly notes: readonly Note[];
}

/**
 * What was understood of a table, with a columns map or without one.
 * Never refuses: bytes that are no text give a preview without columns and the fault among its notes.
 */
export function previewTable(bytes: Uint8Array, fileName: string, fileColumns?: FileColumns): TablePreview {
  const notes = new Notebook(fileName);
  const named = fileColumns?.table ?? tableKindOf(fileName);
  const decoded = decodeTable(bytes, named ?? 'readings', notes);
  const found = named ?? (decoded === null ? null : guessKind(decoded.text, fileName));
  const kindFrom = fileColumns ? 'map' : named ? 'name' : found ? 'headers' : 'nothing';
  const nothing = emptyPreview(fileName, found, kindFrom);
  if (decoded === null) return { ...nothing, notes: notes.all() };

  // Without a kind the headers are still shown, and mean nothing.
  const kind = found ?? 'readings';
  const map = fileColumns ?? null;
  const laid = layOut(decoded.text, kind, map, notes, 'to_look_at');
  const described = { ...nothing, encoding: decoded.encoding, topLines: topLinesOf(decoded.text) };
  if (laid === null) return { ...described, notes: notes.all() };
  const { delimiter, headerRow, body } = laid;
  const shown = { delimiter, headerRow, rows: body.slice(0, SAMPLE_ROWS), rowCount: body.length };
  if (found === null) {
    const columns = laid.headers.map((header, index) => unknownColumn(header, samplesOf(body, index)));
    return { ...described, ...shown, columns, notes: [] };
  }

  const bound = bindColumns(kind, laid, map, notes);
  const sheet = sheetOf(kind, laid, bound, map, notes);
  const isReadings = kind === 'readings';
  return {
    ...described,
    ...shown,
    decimal: sheet.decimal,
    columns: columnsOf(kind, laid, bound, map),
    missing: missingOf(kind, laid, bound, map, fileName),
    unitSaid: !isReadings || sheet.has('unit') || sheet.readingUnit('value') !== null,
    hookupSaid: !isReadings || sheet.has('hookup'),
    said: fieldsOf(kind).filter((field) => sheet.has(field)),
    hints: hintsOf(kind, laid, bound, map),
    places: previewPlaces(sheetOf(kind, laid, bound, map, new Notebook(fileName))),
    notes: notes.all(),
  };
}

/** Headers of a table as a columns map would have them read; null when it cannot be parted. */
export function headersOf(bytes: Uint8Array, fileName: string, columns: FileColumns): readonly string[] | null {
  const decoded = decodeText(bytes);
  if (!decoded.ok) return null;
  const { text } = decoded.value;
  const head = text.slice(0, HEAD_LENGTH);
  return layOut(head, columns.table, columns, new Notebook(fileName), 'to_look_at')?.headers ?? null;
}

/** A preview of a file of which nothing is understood yet. */
function emptyPreview(
  file: string,
  kind: TableKind | null,
  kindFrom: TablePreview['kindFrom'],
): Omit<TablePreview, 'notes'> {
  return {
    file,
    kind,
    kindFrom,
    encoding: null,
    delimiter: null,
    decimal: '.',
    headerRow: null,
    topLines: [],
    columns: [],
    fields: kind ? fieldsOf(kind) : [],
    rows: [],
    rowCount: 0,
    missing: [],
    unitSaid: true,
    hookupSaid: true,
    said: [],
    hints: [],
    places: NO_PLACES,
  };
}

/** The kind whose fields the headers name best: what is known counts for it, what it would lack counts against it. */
function guessKind(text: string, fileName: string): TableKind | null {
  const cut = text.length > HEAD_LENGTH ? text.lastIndexOf('\n', HEAD_LENGTH) : text.length;
  const head = text.slice(0, cut > 0 ? cut : HEAD_LENGTH);
  let best: { kind: TableKind; score: number; known: number } | null = null;
  for (const kind of TABLE_KINDS) {
    const scratch = new Notebook(fileName);
    const laid = layOut(head, kind, null, scratch, 'as_read');
    if (laid === null) continue;
    const bound = bindColumns(kind, laid, null, scratch);
    const known = bound.columns.size;
    const score = known - missingOf(kind, laid, bound, null, fileName).length;
    if (known < 2 || score < 1) continue;
    if (best === null || score > best.score || (score === best.score && known > best.known)) {
      best = { kind, score, known };
    }
  }
  return best?.kind ?? null;
}

/** The reader itself says what it misses, asked with no rows. */
function missingOf(
  kind: TableKind,
  laid: LaidOut,
  bound: Bound,
  map: FileColumns | null,
  fileName: string,
): readonly string[] {
  const scratch = new Notebook(fileName);
  readSheet(sheetOf(kind, { ...laid, body: [] }, bound, map, scratch), emptyDraft(), undefined);
  return scratch.all().flatMap(({ kind: noteKind, sentence }) => (noteKind === 'fault' ? [sentence] : []));
}

function topLinesOf(text: string): { row: number; text: string }[] {
  return text
    .split('\n', 4 * TOP_LINES)
    .map((line, i) => ({ row: i + 1, text: line.trim().slice(0, 200) }))
    .filter((line) => line.text !== '')
    .slice(0, TOP_LINES);
}

const unknownColumn = (header: string, samples: readonly string[]): PreviewColumn => ({
  header,
  field: null,
  clashes: false,
  notWanted: false,
  unit: null,
  doubt: null,
  guess: null,
  samples,
});

function columnsOf(
  kind: TableKind,
  { headers, body }: LaidOut,
  bound: Bound,
  map: FileColumns | null,
): readonly PreviewColumn[] {
  const understood = new Map<number, Column>();
  for (const column of [...bound.clashing, ...[...bound.joins.values()].flat(), ...bound.columns.values()]) {
    understood.set(column.index, column);
  }
  const clashing = new Set(bound.clashing.map(({ index }) => index));
  const unmatched = new Set(bound.unmatched);
  return headers.map((header, index) => {
    const column = understood.get(index);
    return {
      header,
      field: column?.field ?? null,
      clashes: clashing.has(index),
      notWanted: map !== null && column === undefined && header !== '' && !unmatched.has(header),
      unit: column ? unitOf(column) : null,
      doubt: column?.doubt ?? null,
      guess: column || header === '' ? null : nearestField(kind, header),
      samples: samplesOf(body, index),
    };
  });
}

function unitOf({ readingUnit, lengthUnit, factor }: HeaderMatch): string | null {
  if (readingUnit ?? lengthUnit) return readingUnit ?? lengthUnit;
  return factor === 1 ? null : `1 = ${factor} m`;
}

function samplesOf(body: readonly SheetRow[], index: number): readonly string[] {
  const samples = new Set<string>();
  for (const { cells } of body) {
    const cell = tidy(cells[index] ?? '');
    if (cell !== '') samples.add(cell);
    if (samples.size === SAMPLE_CELLS) break;
  }
  return [...samples];
}

/** Columns left out that hold a few words over and over: without them, two lines may have become one. */
function hintsOf(
  kind: TableKind,
  { headers, body }: LaidOut,
  { unmatched, columns, joins }: Bound,
  map: FileColumns | null,
): readonly string[] {
  if (kind !== 'positions' && kind !== 'readings') return [];
  if (map?.join?.line || !(columns.has('line') || joins.has('line'))) return [];
  const left = new Set(unmatched);
  return headers.flatMap((header, index) => {
    if (!left.has(header)) return [];
    const values = fewValues(body, index);
    if (values === null) return [];
    return [
      `The column "${header}" is left out and holds only ${values.map((value) => `"${value}"`).join(', ')}. If it tells lines apart, make it part of the name of the line too.`,
    ];
  });
}

/** Different cells of a column where they are two at least, few, and each is there often. */
function fewValues(body: readonly SheetRow[], index: number): readonly string[] | null {
  const values = new Set<string>();
  for (const { cells } of body) {
    const cell = tidy(cells[index] ?? '');
    if (cell === '' || cell.length > 12) return null;
    values.add(cell);
    if (values.size > FEW_VALUES) return null;
  }
  return values.size >= 2 && body.length >= 4 * values.size ? [...values] : null;
}
