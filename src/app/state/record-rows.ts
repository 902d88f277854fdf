import type { Grade, MidpointFinding } from '../../findings';
import type { Doubt } from '../../survey/doubt';
import type { Hookup } from '../../survey/hookup';
import type { ReadingId } from '../../survey/ids';
import { pointOfTime } from '../../survey/point-of-time';
import type { Line, Reading, Wetting } from '../../survey/survey';
import { toBaseUnit } from '../../survey/units';
import { shownValueWords, statusWords } from '../words/record-words';
import type { Content } from './app-state';
import { bySeverity } from './doubts-of';
import { indexOf } from './index-of';
import type { ReadingEntry } from './reading-index';
import { settlementsByDoubt } from './settlements';
import type { SortValue } from './table-view';

/** Columns of the table of readings; what is looked at first comes first, since not all fit beside a map. */
export const RECORD_COLUMNS = [
  'line',
  'chainage',
  'spacing',
  'value',
  'unit',
  'figure',
  'ratio',
  'grade',
  'doubts',
  'status',
  'hookup',
  'wetting',
  'time',
] as const;
export type RecordColumn = (typeof RECORD_COLUMNS)[number];

/** On a small screen; the rest is told below the table. */
export const NARROW_COLUMNS: readonly RecordColumn[] = ['line', 'chainage', 'spacing', 'value', 'grade', 'doubts'];

/** A reading as the table has it: what was written down, and what was found out. */
export interface RecordRow {
  readonly reading: Reading;
  readonly line: Line;
  readonly hookup: Hookup;
  readonly wetting: Wetting;
  readonly chainageM: number | null;
  readonly spacingM: number | null;
  /** Its place, with the repeats there; null where it came to no figure. */
  readonly entry: ReadingEntry | null;
  /** The figure that it has a part in: null for a rejected reading, and for one over range where others were not. */
  readonly figure: MidpointFinding | null;
  /** Why it came to no figure. */
  readonly sentence: string | null;
  /** All doubts about it that a person should look at and has not settled, the gravest first. */
  readonly doubts: readonly Doubt[];
  /** How many were settled. */
  readonly settled: number;
}

const known = new WeakMap<Content, readonly RecordRow[]>();

/** One row for each reading that was not taken out, as the record has them. */
export function recordRows(content: Content): readonly RecordRow[] {
  const had = known.get(content);
  if (had) return had;
  const made = makeRows(content);
  known.set(content, made);
  return made;
}

function makeRows(content: Content): readonly RecordRow[] {
  const { survey, findings } = content;
  const lines = new Map(survey.lines.filter(({ retired }) => !retired).map((line) => [line.id, line]));
  const entries = new Map<ReadingId, ReadingEntry>();
  for (const entry of indexOf(content).entries) for (const id of entry.finding.readings) entries.set(id, entry);
  const sentences = new Map(findings.unusable.map(({ reading, sentence }) => [reading, sentence]));
  const unplaced = new Map(findings.unplaced.map(({ lineId, sentence }) => [lineId, sentence]));
  const doubts = new Map<ReadingId, Doubt[]>();
  for (const doubt of bySeverity(findings.doubts)) {
    if (doubt.severity === 'note') continue;
    for (const id of doubt.readings) {
      const own = doubts.get(id);
      if (own) own.push(doubt);
      else doubts.set(id, [doubt]);
    }
  }
  const settlements = settlementsByDoubt(survey);
  return survey.readings.flatMap((reading): RecordRow[] => {
    const line = lines.get(reading.line);
    if (reading.retired || !line) return [];
    const entry = entries.get(reading.id) ?? null;
    const all = doubts.get(reading.id) ?? [];
    const open = all.filter(({ id }) => !settlements.has(id));
    return [
      {
        reading,
        line,
        hookup: reading.hookup ?? line.hookup ?? 'unknown',
        wetting: reading.wetting ?? 'none',
        chainageM: reading.midpoint_m ?? entry?.finding.chainageM ?? null,
        spacingM: reading.spacing_m ?? entry?.finding.spacingM ?? null,
        entry,
        figure: entry && hasPart(reading, entry.finding) ? entry.finding : null,
        sentence: sentences.get(reading.id) ?? unplaced.get(line.id) ?? null,
        doubts: open,
        settled: all.length - open.length,
      },
    ];
  });
}

function hasPart({ status }: Reading, finding: MidpointFinding): boolean {
  return status === 'ok' || (status === 'over_range' && finding.figureOhmM === null);
}

const GRADE_RANK: Record<Grade, number> = { none: 0, slight: 1, clear: 2, strong: 3 };

/** What a row is sorted by. */
export function sortValue(row: RecordRow, column: RecordColumn): SortValue {
  const { reading, figure } = row;
  switch (column) {
    case 'line':
      return row.line.name;
    case 'chainage':
      return row.chainageM;
    case 'spacing':
      return row.spacingM;
    case 'value':
      // Ohm-metres and kilo-ohm-metres are sorted as what they are, over range above everything.
      if (reading.value === null) return reading.status === 'over_range' ? Number.MAX_VALUE : null;
      return toBaseUnit(reading.value, reading.unit, reading.current_ma) ?? reading.value;
    case 'unit':
      return reading.unit;
    case 'figure':
      return figure?.figureOhmM ?? null;
    case 'ratio':
      return figure?.ratio ?? null;
    case 'grade':
      if (!figure?.grade) return null;
      return GRADE_RANK[figure.grade] * (figure.sign === 'below_reference' ? -1 : 1);
    case 'doubts':
      return row.doubts.length > 0 ? row.doubts.length : null;
    case 'status':
      return statusWords(reading.status);
    case 'hookup':
      return row.hookup;
    case 'wetting':
      return row.wetting;
    case 'time':
      return reading.time ? (pointOfTime(reading.time) ?? reading.time) : null;
  }
}

/** What the table is narrowed down to. */
export interface RecordFilter {
  readonly text: string;
  /** By its id; null = every line. */
  readonly line: string | null;
  /** `not_said`: readings without a spacing; null = all. */
  readonly spacing: number | 'not_said' | null;
  readonly only: 'all' | 'doubted' | 'rejected';
}

export const NO_FILTER: RecordFilter = { text: '', line: null, spacing: null, only: 'all' };

/** Whether a row belongs to what was asked for; every word of the text has to be in it somewhere. */
export function filterOf({ text, line, spacing, only }: RecordFilter): (row: RecordRow) => boolean {
  const words = text.toLowerCase().split(/\s+/).filter(Boolean);
  return (row) => {
    if (line !== null && row.line.id !== line) return false;
    if (spacing !== null && (row.spacingM ?? 'not_said') !== spacing) return false;
    if (only === 'doubted' && row.doubts.length === 0) return false;
    if (only === 'rejected' && row.reading.status !== 'rejected') return false;
    if (words.length === 0) return true;
    const hay = rowText(row);
    return words.every((word) => hay.includes(word));
  };
}

function rowText({ reading, line, hookup, chainageM, spacingM, doubts }: RecordRow): string {
  const parts = [
    line.name,
    chainageM,
    spacingM,
    shownValueWords(reading),
    hookup.replaceAll('_', ' '),
    reading.status.replaceAll('_', ' '),
    reading.wetting,
    reading.time,
    reading.note,
    reading.status_reason,
    ...doubts.map(({ code }) => code.replaceAll('_', ' ')),
  ];
  return parts
    .filter((part) => part !== null && part !== undefined)
    .join(' ')
    .toLowerCase();
}
