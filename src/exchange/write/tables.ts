import type { Disclosed } from '../../discretion/disclose';
import { toLonLat } from '../../position/crs';
import type { Line, Outing, Position, Reading, Survey } from '../../survey/survey';
import { counted, nameList } from '../../survey/wording';
import { type Cell, csvText } from './csv';
import type { DictionaryTable } from './dictionary';
import { LEGS, POSITIONS, READINGS, REMOTES } from './table-dictionary';

/*
 * A survey as field tables, under the headers that the design gives them. Reading the tables gives the same lines,
 * places, readings, remote electrodes and reference stations; what tables have no place for is told.
 */

export interface WrittenTables {
  /** Files with their names. A table without rows is not among them. */
  readonly files: readonly { readonly name: string; readonly text: string }[];
  /** What the tables do not hold, one sentence each. */
  readonly untold: readonly string[];
}

type Row = Record<string, Cell>;

/** A time as the reader takes it. */
const TIME = /^\d{4}-\d{2}-\d{2}(?:T\d{2}:\d{2}(?::\d{2}(?:\.\d+)?)?(?:Z|[+-]\d{2}:?\d{2})?)?$/;

/** The tables of a survey: `positions.csv`, `readings.csv`, and `legs.csv` and `remotes.csv` where there is any. */
export function surveyTables({ survey }: Disclosed): WrittenTables {
  const told = new Untold();
  const lines = namedLines(survey, told);
  const readings = tableFile(
    READINGS,
    madeAnew(told, (telling) => readingRows(survey, lines, telling)),
    6,
  );
  const files = [
    tableFile(POSITIONS, positionRows(survey, lines, told), 2),
    readings,
    tableFile(LEGS, legRows(lines), 5),
    tableFile(REMOTES, remoteRows(survey, told), 2),
  ];
  tellOthers(survey, told);
  return { files: files.flatMap((file) => file ?? []), untold: told.sentences() };
}

/** Null without rows. The first `asked` columns stand there even where they are empty: the reader asks for them. */
function tableFile({ name, columns }: DictionaryTable, rows: Iterable<Row>, asked: number) {
  const names = columns.map((column) => column.name);
  const text = csvText(names, rows, names.slice(0, asked));
  const isHeaderAlone = text.indexOf('\n') === text.length - 1;
  return isHeaderAlone ? null : { name, text };
}

/**
 * Rows that are made anew whenever they are gone through: those of a large survey never stand in memory as a whole. What
 * they do not hold is told once.
 */
function madeAnew(told: Untold, make: (telling: Untold) => Iterator<Row>): Iterable<Row> {
  let isTold = false;
  return {
    [Symbol.iterator]: () => {
      const telling = isTold ? new Untold() : told;
      isTold = true;
      return make(telling);
    },
  };
}

/** Counts what is not in the tables, by sentence. */
class Untold {
  private readonly counts = new Map<string, { count: number; sentence: (count: number) => string }>();

  add(key: string, sentence: (count: number) => string): void {
    const known = this.counts.get(key);
    if (known) known.count += 1;
    else this.counts.set(key, { count: 1, sentence });
  }

  sentences(): string[] {
    return [...this.counts.values()].map(({ count, sentence }) => sentence(count));
  }
}

const isLive = (entity: { readonly retired?: boolean | undefined }): boolean => entity.retired !== true;

/** Lines that tables can name, by id. Tables know a line by its name alone. */
function namedLines(survey: Survey, told: Untold): ReadonlyMap<string, Line> {
  const lines = new Map<string, Line>();
  const names = new Set<string>();
  for (const line of survey.lines) {
    if (!isLive(line)) continue;
    if (names.has(line.name)) {
      told.add('same name', (count) => `One in the tables: ${counted(count, 'line')} with the name of another.`);
    }
    names.add(line.name);
    lines.set(line.id, line);
  }
  return lines;
}

function positionRows(survey: Survey, lines: ReadonlyMap<string, Line>, told: Untold): Row[] {
  return [...lines.values()].flatMap((line) => {
    const rows: Row[] = [];
    const heights = new Map<number, number>();
    for (const item of line.path) {
      if (item.retired) {
        told.add('retired item', (count) => `Left out: ${counted(count, 'retired place')} of lines.`);
      } else if (item.kind === 'fix') {
        if (item.singles && item.singles.length > 0) {
          told.add('singles', (count) => `Left out: the single fixes under ${counted(count, 'average')}.`);
        }
        if (typeof item.corner === 'boolean') {
          told.add('corner', (count) => `Left out: whether the line turns, as said of ${counted(count, 'place')}.`);
        }
        const { elevation_m: heightM } = item.position;
        if (typeof heightM === 'number') heights.set(item.chainage_m, heightM);
        rows.push({
          line: line.name,
          chainage_m: item.chainage_m,
          ...placeCells(item.position, survey, told),
          hdop: item.position.hdop,
          time: timeCell(item.position.time, told),
        });
      } else if (item.kind !== 'leg') {
        told.add(item.kind, (count) => `Left out: ${counted(count, 'place')} measured by ${WAYS[item.kind]}.`);
      }
    }
    for (const { chainage_m: chainageM, height_m: heightM } of line.profile) {
      if (heights.get(chainageM) === heightM) continue;
      rows.push({ line: line.name, chainage_m: chainageM, elevation_m: heightM });
    }
    return withLineCells(line, rows, told);
  });
}

const WAYS = { offset: 'an offset from another line', two_tapes: 'two tapes', bearing: 'a bearing' } as const;

/** Hookup and planned electrodes stand in every row of the line. */
function withLineCells(line: Line, rows: readonly Row[], told: Untold): Row[] {
  const plan = planCells(line);
  if (line.layout && (plan === null || rows.length === 0)) {
    told.add('layout', (count) => `Left out: the planned electrodes of ${counted(count, 'line')}.`);
  }
  return rows.map((row) => ({ ...row, hookup: line.hookup, ...plan }));
}

function planCells({ layout }: Line): Row | null {
  if (!layout || !('step_m' in layout)) return null;
  const { from_m: fromM, to_m: toM, step_m: stepM } = layout as { from_m: number; to_m: number; step_m: number };
  const electrodes = Math.round(toM / stepM) + 1;
  // As the reader computes it.
  const isPlain = fromM === 0 && Math.round((electrodes - 1) * stepM * 1e9) / 1e9 === toM;
  return isPlain ? { step_m: stepM, electrodes } : null;
}

function legRows(lines: ReadonlyMap<string, Line>): Row[] {
  return [...lines.values()].flatMap((line) =>
    line.path.flatMap((item) =>
      item.kind === 'leg' && !item.retired
        ? [
            {
              line: line.name,
              from_chainage_m: item.from_chainage_m,
              bearing_deg: item.bearing_deg,
              bearing_ref: item.bearing_reference,
              distance_m: item.distance_m,
              slope_deg: item.slope_deg,
              time: item.date,
            },
          ]
        : [],
    ),
  );
}

function remoteRows(survey: Survey, told: Untold): Row[] {
  return survey.outings.filter(isLive).flatMap(({ name, remotes }) =>
    remotes.map(({ role, position }) => ({
      outing: name,
      role,
      ...placeCells(position, survey, told),
      time: timeCell(position.time, told),
    })),
  );
}

/** A place as entered where the tables can hold that, with what is known of it. */
function placeCells(position: Position, survey: Survey, told: Untold): Row {
  const { elevation_m, accuracy_m, accuracy_level, source, device } = position;
  if (position.epoch || position.height_reference) {
    told.add('epoch', (count) => `Left out: epoch and height reference of ${counted(count, 'place')}.`);
  }
  return { ...coordinateCells(position, survey, told), elevation_m, accuracy_m, accuracy_level, source, device };
}

function coordinateCells(position: Position, survey: Survey, told: Untold): Row {
  const { x, y, crs, as_entered: asEntered } = position;
  if (crs === 'EPSG:4326') {
    const [lonText, latText] = asEntered ?? [];
    return lonText && latText ? { lon: lonText, lat: latText } : { lon: x, lat: y };
  }
  if (!crs.startsWith('grid:')) return { easting: x, northing: y, epsg: Number(crs.replace(/^EPSG:/i, '')) };
  const placed = toLonLat(position, survey.site.local_grids);
  if (!placed.ok) {
    told.add(crs, (count) => `Left out: ${counted(count, 'place')} in ${crs}, which the survey does not explain.`);
    return {};
  }
  told.add(crs, (count) => `Given as longitude and latitude: ${counted(count, 'place')} of the grid ${crs.slice(5)}.`);
  return { lon: Number(placed.value.lon.toFixed(9)), lat: Number(placed.value.lat.toFixed(9)) };
}

function timeCell(time: string | null | undefined, told: Untold): string | null {
  if (!time) return null;
  if (TIME.test(time)) return time;
  told.add('time', (count) => `Left out: ${counted(count, 'time')} written as no date and clock time.`);
  return null;
}

function* readingRows(survey: Survey, lines: ReadonlyMap<string, Line>, told: Untold): Generator<Row> {
  const outings = new Map(survey.outings.map((outing) => [outing.id as string, outing]));
  const stations = stationKeys(survey);
  const placed = new Set<string>();
  for (const line of lines.values()) {
    if (line.path.some((item) => item.kind === 'fix' && !item.retired) || line.profile.length > 0) placed.add(line.id);
  }
  const used = new Set<string>();
  for (const reading of survey.readings) {
    const line = lines.get(reading.line);
    if (!isLive(reading) || !line) {
      told.add('retired', (count) => `Left out: ${counted(count, 'retired reading')}.`);
      continue;
    }
    const why = whyNot(reading);
    if (why) {
      told.add(why, (count) => `Left out: ${counted(count, 'reading')} ${why}.`);
      continue;
    }
    const station = stationOf(reading);
    const isReference = station !== null && stations.has(station);
    if (isReference && station !== null) used.add(station);
    // A line without a row among the positions has nowhere else to say its hookup.
    const hookup = reading.hookup ?? (placed.has(line.id) ? null : line.hookup) ?? (line.hookup ? null : 'unknown');
    yield readingRow(survey, reading, line, outings.get(reading.outing ?? ''), hookup, isReference, told);
  }
  for (const key of stations) {
    if (!used.has(key))
      told.add('station', (count) => `Left out: ${counted(count, 'reference station')} without a reading.`);
  }
}

function readingRow(
  survey: Survey,
  reading: Reading,
  line: Line,
  outing: Outing | undefined,
  hookup: Reading['hookup'],
  isReference: boolean,
  told: Untold,
): Row {
  const { electrodes, position } = reading;
  const [first, second, ...more] = reading.seatings ?? [];
  if (more.length > 0)
    told.add('seatings', (count) => `Left out: seatings beyond two of ${counted(count, 'reading')}.`);
  const isOver = reading.status === 'over_range';
  if (isOver && reading.value !== null && reading.value !== reading.limit) {
    told.add('over', (count) => `Left out: what the meter showed beside over range, of ${counted(count, 'reading')}.`);
  }
  return {
    line: line.name,
    midpoint_m: reading.midpoint_m,
    spacing_m: reading.spacing_m,
    value: isOver ? null : reading.value,
    unit: reading.unit,
    hookup,
    current_ma: reading.current_ma,
    meter_spacing_m: reading.meter_spacing_m,
    status: reading.status,
    status_reason: reading.status_reason,
    limit: reading.limit,
    wetting: reading.wetting,
    seating_1: first,
    seating_2: second,
    driven_depth_m: reading.driven_depth_m,
    n_factor: reading.n,
    inner_spacing_m: reading.inner_spacing_m,
    ...(electrodes ? { a_m: electrodes.a_m, b_m: electrodes.b_m, m_m: electrodes.m_m, n_m: electrodes.n_m } : {}),
    ...(position ? placeCells(position, survey, told) : {}),
    outing: outing?.name,
    time: timeCell(reading.time, told),
    note: reading.note,
    reference: isReference ? 'yes' : null,
  };
}

/** Why the reader would refuse a reading's row; null when it would not. */
function whyNot(reading: Reading): string | null {
  const { electrodes, position, midpoint_m: midpointM, spacing_m: spacingM, status, value, unit } = reading;
  if (electrodes) {
    const given = [electrodes.a_m, electrodes.b_m, electrodes.m_m, electrodes.n_m].filter((m) => m !== null);
    if (given.length < 2 || new Set(given).size < given.length) return 'with electrodes that make no layout';
  } else if (!position && (typeof midpointM !== 'number' || typeof spacingM !== 'number')) {
    return 'tied to no place';
  }
  if (status === 'ok' && value === null) return 'without a value';
  if (unit === 'mV' && !reading.current_ma) return 'in millivolts without a current';
  return null;
}

function stationOf(reading: Reading): string | null {
  const { electrodes, midpoint_m: midpointM } = reading;
  if (typeof midpointM === 'number') return `${reading.line} ${midpointM}`;
  const placed = electrodes
    ? [electrodes.a_m, electrodes.b_m, electrodes.m_m, electrodes.n_m].filter((m) => typeof m === 'number')
    : [];
  return placed.length === 0 ? null : `${reading.line} ${(Math.min(...placed) + Math.max(...placed)) / 2}`;
}

function stationKeys(survey: Survey): ReadonlySet<string> {
  const live = survey.references.filter(isLive);
  return new Set(live.flatMap(({ stations }) => stations.map(({ line, chainage_m }) => `${line} ${chainage_m}`)));
}

function tellOthers(survey: Survey, told: Untold): void {
  const say = (count: number, key: string, sentence: string): void => {
    if (count > 0) told.add(key, () => sentence);
  };
  const outings = survey.outings.filter(isLive);
  const described = outings.filter(
    ({ people, meter, rods, weather, recent_rain: rain }) =>
      people.length > 0 || meter || rods.length > 0 || weather || rain,
  );
  const names = nameList(described.map(({ name }) => name));
  say(described.length, 'outings', `Left out: people, meter, rods and weather of ${names}.`);
  const inUse = new Set(survey.readings.filter(isLive).map(({ outing }) => outing as string));
  const idle = outings.filter(({ id, remotes }) => !inUse.has(id) && remotes.length === 0);
  say(idle.length, 'idle outings', `Left out: ${counted(idle.length, 'outing')} without readings.`);
  const references = survey.references.filter(isLive);
  const more = references.length > 1 || references.some(({ serves }) => serves);
  say(more ? 1 : 0, 'references', 'Left out: which reference serves which lines; the tables have one reference.');
  const others = (['surroundings', 'features', 'photos', 'settlements'] as const).filter((collection) =>
    survey[collection].some(isLive),
  );
  say(others.length, 'others', `Left out: ${others.join(', ')}.`);
  const { notes, settings, invented } = survey.site;
  say(invented ? 1 : 0, 'invented', 'Left out: that the site is invented. Say so to whom you give the tables.');
  const hasSettings = Object.keys(settings ?? {}).length > 0;
  say(notes || hasSettings ? 1 : 0, 'site', 'Left out: notes, settings and review of the site.');
}
