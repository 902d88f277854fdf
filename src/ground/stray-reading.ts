import { type TwoProbeReading, twoProbeLadder } from './two-probe';

export interface StrayReading {
  /** Its place in the ladder. */
  readonly at: number;
  /** Its R over what the others make of it. */
  readonly times: number;
}

/** Two readings and a slope leave one to see scatter by. */
const FEWEST_OTHERS = 3;
/** Off by a factor of this, and by so many times the others' own scatter (choice). */
const LEAST_FACTOR = 2.5;
const LEAST_SCATTERS = 4;

/**
 * The one reading of a two-probe ladder that stands off the line R = C − ρ/(πa), ρ ≥ 0, through the others: a slip of a
 * decimal, of a unit or a rod that hardly touched. Each is left out in turn; the one without which the others agree best is
 * it, if it is far enough off. Null where none is, or where too few others (fewer than three) are left to tell by.
 */
export function strayReading(readings: readonly TwoProbeReading[]): StrayReading | null {
  if (readings.length <= FEWEST_OTHERS) return null;
  const lines = readings.map((_, at) => lineThrough(readings.filter((__, k) => k !== at)));
  const scatters = lines.map(({ scatter }) => scatter);
  const at = scatters.indexOf(Math.min(...scatters));
  const { spacingM, resistanceOhm } = readings[at] as TwoProbeReading;
  const expectedOhm = lines[at]?.at(spacingM) ?? 0;
  if (!(expectedOhm > 0)) return null;
  const times = resistanceOhm / expectedOhm;
  const enough = Math.max(Math.log(LEAST_FACTOR), LEAST_SCATTERS * (scatters[at] as number));
  return Math.abs(Math.log(times)) > enough ? { at, times } : null;
}

/** The line, level where it would climb the wrong way, with the scatter about it in parts of its mean. */
function lineThrough(readings: readonly TwoProbeReading[]): {
  readonly at: (a: number) => number;
  readonly scatter: number;
} {
  const meanOhm = readings.reduce((sum, { resistanceOhm }) => sum + resistanceOhm, 0) / readings.length;
  const ladder = twoProbeLadder(readings);
  const isLevel = !ladder.ok || ladder.value.groundOhmM < 0;
  const at = (a: number): number =>
    isLevel ? meanOhm : ladder.value.contactOhm - ladder.value.groundOhmM / (Math.PI * a);
  const squares = readings.reduce((sum, { spacingM, resistanceOhm }) => sum + (resistanceOhm - at(spacingM)) ** 2, 0);
  const degrees = readings.length - (isLevel ? 1 : 2);
  return { at, scatter: Math.sqrt(squares / degrees) / meanOhm };
}
