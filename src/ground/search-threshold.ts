import type { LineErrors } from './line-errors';
import type { PreparedLine } from './line-search';

/** Readings of a line without a void: errors made of normal numbers, one for each reading. */
export function drawnWithoutVoid({ factor }: LineErrors, numbers: Float64Array): Float64Array {
  const n = numbers.length;
  return Float64Array.from({ length: n }, (_, i) => {
    let sum = 0;
    for (let j = 0; j <= i; j += 1) sum += (factor[i * n + j] as number) * (numbers[j] as number);
    return sum;
  });
}

/** Euler's constant. */
const GAMMA = 0.5772156649;

/** The distribution of the largest of many: fitted to simulated maxima by their mean and spread (Gumbel 1958). */
export class Maxima {
  private readonly scale: number;
  private readonly location: number;

  constructor(values: readonly number[]) {
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / Math.max(1, values.length - 1);
    this.scale = Math.max(1e-9, Math.sqrt(6 * variance) / Math.PI);
    this.location = mean - GAMMA * this.scale;
  }

  /** What only this share of maxima exceeds. */
  exceededBy(share: number): number {
    return this.location - this.scale * Math.log(-Math.log1p(-share));
  }

  /** The share of maxima that exceeds a value. */
  shareAbove(value: number): number {
    return -Math.expm1(-Math.exp(-(value - this.location) / this.scale));
  }
}

/** What simulated surveys of a line give that has no void under it. */
export interface SimulatedWithout {
  /** Largest statistics. */
  readonly maxima: Maxima;
  /** The gains of every template in each, for the joint search. */
  readonly gains: readonly Float64Array[];
}

export interface Simulating {
  readonly simulations: number;
  /** Share of surveys without a void that may have a candidate. */
  readonly rate: number;
  readonly normal: () => number;
  readonly tick?: (fraction: number) => void;
}

/** Surveys that tell which unevenness is the strictest; the others are simulated for that one only. */
export const SCREENED = 50;
/** Simulated surveys that are held against the templates together. */
const AT_ONCE = 8;
/** Unevenness so far behind the best one is not tried: it would need a void of that size to count. */
const FARTHEST_BEHIND = 20;

/**
 * Surveys without a void under a line. How uneven its soil is the readings leave open: of all unevenness that they allow
 * (`errorsOpen`, a 95 % range of the likelihood) the one counts whose threshold is the highest (after Berger & Boos 1994).
 */
export function simulatedWithout(
  { scanner, errors, readings }: PreparedLine,
  errorsOpen: readonly number[],
  { simulations, rate, normal, tick = () => {} }: Simulating,
): SimulatedWithout {
  const n = readings.length;
  // The same numbers under each unevenness, so that chance does not pick among them.
  const drawn = Array.from({ length: simulations }, () => Float64Array.from({ length: n }, normal));
  const screened = Math.min(simulations, SCREENED);
  const all = screened * errorsOpen.length + simulations - screened;
  let done = 0;
  const made = (e: number, from: number, to: number): Float64Array[] => {
    const gains: Float64Array[] = [];
    for (let at = from; at < to; at += AT_ONCE) {
      const some = drawn.slice(at, Math.min(to, at + AT_ONCE));
      const surveys = some.map((numbers) => drawnWithoutVoid(errors[e] as LineErrors, numbers));
      gains.push(...scanner.gainsOfEach(surveys, FARTHEST_BEHIND));
      done += some.length;
      tick(done / all);
    }
    return gains;
  };
  const tried = errorsOpen.map((e) => {
    const gains = made(e, 0, screened);
    return { e, gains, threshold: maximaOf(gains).exceededBy(rate) };
  });
  const strictest = tried.reduce((most, one) => (one.threshold > most.threshold ? one : most));
  const gains = [...strictest.gains, ...made(strictest.e, screened, simulations)];
  return { gains, maxima: maximaOf(gains) };
}

const maximaOf = (gains: readonly Float64Array[]): Maxima =>
  new Maxima(gains.map((own) => own.reduce((most, gain) => Math.max(most, gain), -Infinity)));
