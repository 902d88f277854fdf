import { pointOfTime, saysZone } from '../../survey/point-of-time';
import { counted } from '../../survey/wording';
import type { ReadingFigure } from '../figure';
import { type DoubtContext, doubtAbout, type FindDoubts } from './doubt-context';

/** Less than this over the time between the repeats changes no grade (choice). */
const LEAST_DRIFT = 0.05;
/** Standard errors that the trend has to stand above none. */
const SIGMAS = 3;
/** Repeats beyond the first of their places that it takes: fewer are one disagreement, not a trend. */
const FEWEST_REPEATS = 3;
const MS_PER_HOUR = 3_600_000;
/** No day's work rests so long (choice): there the clock was set, or it is another day. */
const LONGEST_REST_MS = 16 * MS_PER_HOUR;

interface TimedFigure extends ReadingFigure {
  readonly timeMs: number;
  /** The day, and by which of its clocks the time is told. */
  clock: string;
}

/** Repeats of one day: each place with its own level, all with one trend in time. */
interface Day {
  readonly name: string;
  readonly readings: ReadingFigure[];
  tt: number;
  ty: number;
  yy: number;
  repeats: number;
  firstMs: number;
  lastMs: number;
}

/**
 * Repeats of a day that all move one way with the hour: the ground or the contacts dry, the battery sinks, the rain comes.
 * Least squares of ln(figure) on time with a level for each place, hookup, wetting and set of seatings; said where the
 * slope is beyond three standard errors and 5 % over the time between the repeats. Where the clock was set meanwhile,
 * what was read before and after is never compared.
 */
export const timeDrift: FindDoubts = (context) => {
  const repeated = context.places.flatMap(({ place }) =>
    place.counted.length < 2 ? [] : [place.counted.flatMap(timed)],
  );
  tellClocks(repeated.flat());
  const days = new Map<string, Day>();
  for (const figures of repeated) {
    for (const group of grouped(figures, likeKey).values()) addGroup(days, group);
  }
  return [...days].flatMap(([key, day]) => drift(context, key, day));
};

/** A mere day says nothing of the hour. */
function timed(figure: ReadingFigure): readonly TimedFigure[] {
  const { time } = figure.reading;
  const timeMs = time?.includes('T') ? pointOfTime(time) : null;
  return timeMs === null ? [] : [{ ...figure, timeMs, clock: '' }];
}

function grouped<T>(all: readonly T[], keyOf: (each: T) => string): ReadonlyMap<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const each of all) {
    const key = keyOf(each);
    const group = groups.get(key);
    if (group) group.push(each);
    else groups.set(key, [each]);
  }
  return groups;
}

/** Times with a zone and without are not told by one clock, and neither are those before and after it was set. */
function tellClocks(figures: readonly TimedFigure[]): void {
  for (const [day, ofDay] of grouped(figures, dayOf)) {
    let clocks = 0;
    for (const zoned of [true, false]) {
      const own = ofDay.filter(({ reading }) => saysZone(reading.time ?? '') === zoned);
      let beforeMs = -Infinity;
      for (const figure of own.sort((p, q) => p.timeMs - q.timeMs)) {
        if (figure.timeMs - beforeMs > LONGEST_REST_MS) clocks += 1;
        beforeMs = figure.timeMs;
        figure.clock = clocks === 1 ? day : `${day}|${clocks}`;
      }
    }
  }
}

const dayOf = ({ outing, reading }: ReadingFigure): string => outing?.id ?? reading.time?.slice(0, 10) ?? '';

const likeKey = ({ clock, reading }: TimedFigure): string =>
  [clock, reading.wetting ?? 'none', ...(reading.seatings ?? [])].join('|');

function addGroup(days: Map<string, Day>, group: readonly TimedFigure[]): void {
  const [first] = group;
  if (!first || group.length < 2) return;
  const key = first.clock;
  const day = days.get(key) ?? {
    name: first.outing?.name ?? first.reading.time?.slice(0, 10) ?? '',
    readings: [],
    tt: 0,
    ty: 0,
    yy: 0,
    repeats: 0,
    firstMs: Infinity,
    lastMs: -Infinity,
  };
  days.set(key, day);
  const times = group.map(({ timeMs }) => timeMs);
  const logs = group.map(({ figureOhmM }) => Math.log(figureOhmM as number));
  const meanMs = times.reduce((sum, time) => sum + time, 0) / times.length;
  const meanLn = logs.reduce((sum, log) => sum + log, 0) / logs.length;
  times.forEach((time, i) => {
    const hours = (time - meanMs) / MS_PER_HOUR;
    const ln = (logs[i] as number) - meanLn;
    day.tt += hours * hours;
    day.ty += hours * ln;
    day.yy += ln * ln;
    day.firstMs = Math.min(day.firstMs, time);
    day.lastMs = Math.max(day.lastMs, time);
  });
  day.repeats += group.length - 1;
  day.readings.push(...group);
}

function drift({ line, settings }: DoubtContext, key: string, day: Day) {
  if (day.repeats < FEWEST_REPEATS || day.tt === 0) return [];
  const perHour = day.ty / day.tt;
  const leftOver = Math.max(0, day.yy - perHour * day.ty) / (day.repeats - 1);
  const sigma = Math.max(settings.standardErrorFloor, Math.sqrt(leftOver));
  const hours = (day.lastMs - day.firstMs) / MS_PER_HOUR;
  const total = Math.expm1(perHour * hours);
  if (Math.abs(perHour) < (SIGMAS * sigma) / Math.sqrt(day.tt) || Math.abs(total) < LEAST_DRIFT) return [];
  return [
    doubtAbout({
      code: 'time_drift',
      severity: 'warning',
      line: line.id,
      aspect: key,
      sentence: `Line ${line.name}, ${day.name}: ${counted(day.readings.length, 'reading')} of places that were read again ${total > 0 ? 'rise' : 'fall'} by ${Math.round(100 * Math.abs(total))} % in ${Number(hours.toFixed(1))} h, all places together.`,
      remedy:
        'Read the reference again at the end of the day and compare readings with the reference nearest in time. Check the battery and the test resistor, and note rain and drying.',
      readings: day.readings.map(({ reading }) => reading.id),
    }),
  ];
}
