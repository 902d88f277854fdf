import type { LeastSquaresFit, LeastSquaresProblem } from './damped-least-squares';
import { type Ranges, rangeOf } from './layered-ranges';

/**
 * What the readings do fix of a layer whose own resistivity and thickness they do not: its resistance across,
 * T = ρ·h (a resistive layer), or its conductance along, S = h/ρ (a conductive one); Maillet 1947, Geophysics 12:529.
 */
export interface Equivalence {
  /** From the top, 0 first. */
  readonly layer: number;
  readonly kind: 'resistance_across' | 'conductance_along';
  /** Ω·m² or S, with its 95 % range by profile likelihood. */
  readonly value: number;
  readonly low95: number;
  readonly high95: number;
  readonly sentence: string;
}

/** A product counts as fixed when its range is at most this share of the ranges of both its factors, in ln (choice). */
const TIED = 0.5;
/** Ranges below a factor of 1.2 from end to end need no such remark (choice). */
const NARROW = Math.log(1.2);

/**
 * Layers whose resistivity and thickness trade off against each other. The parameters of the problem are ln ρ from the top,
 * then ln h; `halfWidth` and `sigma` as for `rangesOf`.
 */
export function equivalencesOf(
  problem: LeastSquaresProblem,
  fit: LeastSquaresFit,
  { ranges, alike }: Ranges,
  halfWidth: number,
  sigma: number,
): Equivalence[] {
  const layers = (fit.parameters.length + 1) / 2;
  const found: Equivalence[] = [];
  for (let i = 0; i < layers - 1; i += 1) {
    const own = ranges[i];
    const thickness = ranges[layers + i];
    if (!own || !thickness) continue;
    const narrowest = Math.min(own.high - own.low, thickness.high - thickness.low);
    if (narrowest < NARROW) continue;
    const spreadOf = (sign: 1 | -1): number => {
      const values = alike.map((p) => (p[i] as number) + sign * (p[layers + i] as number));
      return Math.max(...values) - Math.min(...values);
    };
    const sign = spreadOf(1) <= spreadOf(-1) ? 1 : -1;
    const together = tied(problem, i, layers + i, sign);
    const start = Float64Array.from(fit.parameters);
    start[i] = (start[i] as number) + sign * (start[layers + i] as number);
    const range = rangeOf(together, { ...fit, parameters: start }, i, halfWidth, sigma);
    if (!range || range.high - range.low > TIED * narrowest) continue;
    found.push(describe(i, sign, start[i] as number, range.low, range.high));
  }
  return found;
}

/** The same problem with ln ρ + sign·ln h in the place of ln ρ. */
function tied(problem: LeastSquaresProblem, rho: number, thickness: number, sign: 1 | -1): LeastSquaresProblem {
  const { lower, upper, observations } = problem;
  const n = lower.length;
  const ends = [lower, upper].map((bounds, side) => {
    const moved = Float64Array.from(bounds);
    const other = sign > 0 === (side === 0) ? lower : upper;
    moved[rho] = (moved[rho] as number) + sign * (other[thickness] as number);
    return moved;
  });
  const own = new Float64Array(n);
  return {
    observations,
    lower: ends[0] as Float64Array,
    upper: ends[1] as Float64Array,
    evaluate(parameters, residuals, jacobian) {
      own.set(parameters);
      own[rho] = (parameters[rho] as number) - sign * (parameters[thickness] as number);
      if ((own[rho] as number) < (lower[rho] as number) || (own[rho] as number) > (upper[rho] as number)) return false;
      if (!problem.evaluate(own, residuals, jacobian)) return false;
      for (let k = 0; k < observations; k += 1) {
        const at = k * n + thickness;
        jacobian[at] = (jacobian[at] as number) - sign * (jacobian[k * n + rho] as number);
      }
      return true;
    },
  };
}

function describe(layer: number, sign: 1 | -1, log: number, low: number, high: number): Equivalence {
  // h/ρ is one over what the search held, so its ends change places.
  const [value, low95, high95] = (sign > 0 ? [log, low, high] : [-log, -high, -low]).map(Math.exp) as [
    number,
    number,
    number,
  ];
  const name = layer === 0 ? 'The top layer' : `Layer ${layer + 1}`;
  const [product, unit, other] =
    sign > 0
      ? ['resistivity × thickness', 'Ω·m²', 'more resistive']
      : ['thickness ÷ resistivity', 'S', 'more conductive'];
  const sentence =
    `${name}: the readings fix its ${product}, ${short(value)} ${unit} (${short(low95)} to ${short(high95)}), better than ` +
    `either alone; a layer that is thinner and ${other} would read nearly the same.`;
  return { layer, kind: sign > 0 ? 'resistance_across' : 'conductance_along', value, low95, high95, sentence };
}

/** Three figures, without an exponent where that is readable. */
function short(value: number): string {
  const rounded = Number(value.toPrecision(3));
  return rounded >= 1e-4 && rounded < 1e7 ? String(rounded) : rounded.toExponential(2);
}
