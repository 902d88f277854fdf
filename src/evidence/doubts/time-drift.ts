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
 * slope is beyond three standard errors and 5 % over the time between the repeats.
 */
export const timeDrift: FindDoubts = (context) => {
  const days = new Map<string, Day>();
  for (const { place } of context.places) {
    if (place.counted.length < 2) continue;
    for (const group of likeGroups(place.counted)) addGroup(days, group);
  }
  return [...days].flatMap(([key, day]) => drift(context, key, day));
};

function likeGroups(figures: readonly ReadingFigure[]): Iterable<readonly ReadingFigure[]> {
  const groups = new Map<string, ReadingFigure[]>();
  for (const figure of figures) {
    const { reading } = figure;
    if (!reading.time || Number.isNaN(Date.parse(reading.time))) continue;
    const key = [dayOf(figure), reading.wetting ?? 'none', ...(reading.seatings ?? [])].join('|');
    const group = groups.get(key);
    if (group) group.push(figure);
    else groups.set(key, [figure]);
  }
  return groups.values();
}

const dayOf = ({ outing, reading }: ReadingFigure): string => outing?.id ?? reading.time?.slice(0, 10) ?? '';

function addGroup(days: Map<string, Day>, group: readonly ReadingFigure[]): void {
  const [first] = group;
  if (!first || group.length < 2) return;
  const key = dayOf(first);
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
  const times = group.map(({ reading }) => Date.parse(reading.time as string));
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
