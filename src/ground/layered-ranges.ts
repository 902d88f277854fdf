import { dampedLeastSquares, type LeastSquaresFit, type LeastSquaresProblem } from './damped-least-squares';
import { invertSymmetric } from './small-cholesky';

/** 95 % range of one parameter, in its logarithm. */
export interface LogRange {
  readonly low: number;
  readonly high: number;
  /** `profile` where the range by profile likelihood differs from the one by covariance, and stands instead. */
  readonly basis: 'covariance' | 'profile';
  /** True where the range ends at a bound of the search: the readings set no limit there. */
  readonly openLow: boolean;
  readonly openHigh: boolean;
}

export interface Ranges {
  readonly ranges: readonly LogRange[];
  /** Grounds on the way, all within 95 % of the best one. */
  readonly alike: readonly Float64Array[];
  /** A better fit, when the search for ranges came upon one: then the ranges have to be made anew. */
  readonly better: LeastSquaresFit | null;
}

/** Ranges by covariance and by profile are the same when both ends agree within this share of the half-width (choice). */
const SAME = 0.1;
const MOST_STEPS = 14;
/** In ln: steps of the search are never longer than a factor 4.5 nor shorter than 0.1 %. */
const LONGEST = 1.5;
const SHORTEST = 1e-3;
/** The first step where the covariance says nothing. */
const FIRST = 0.1;

/**
 * 95 % ranges of all parameters of a fit. `halfWidth` is half the width in standard errors (1.96, or Student's t where σ
 * is estimated) and `sigma` the common factor on all σ (1 where they are known).
 * By covariance: σ²(JᵀJ)⁻¹. By profile likelihood: the values for which the sum of squares, all other parameters fitted
 * anew, rises by (halfWidth·sigma)² (Venzon & Moolgavkar 1988, Applied Statistics 37:87).
 */
export function rangesOf(problem: LeastSquaresProblem, fit: LeastSquaresFit, halfWidth: number, sigma: number): Ranges {
  const covariance = covarianceOf(problem, fit);
  const alike: Float64Array[] = [];
  const ranges: LogRange[] = [];
  for (let i = 0; i < fit.parameters.length; i += 1) {
    const found = oneRange(problem, fit, i, covariance, halfWidth, sigma, alike);
    if ('better' in found) return { ranges, alike, better: found.better };
    ranges.push(found);
  }
  return { ranges, alike, better: null };
}

/** The range of one parameter alone, by profile; null when a better fit turned up on the way. */
export function rangeOf(
  problem: LeastSquaresProblem,
  fit: LeastSquaresFit,
  index: number,
  halfWidth: number,
  sigma: number,
): LogRange | null {
  const found = oneRange(problem, fit, index, null, halfWidth, sigma, []);
  return 'better' in found ? null : found;
}

function oneRange(
  problem: LeastSquaresProblem,
  fit: LeastSquaresFit,
  i: number,
  covariance: Float64Array | null,
  halfWidth: number,
  sigma: number,
  alike: Float64Array[],
): LogRange | { readonly better: LeastSquaresFit } {
  const n = fit.parameters.length;
  const at = fit.parameters[i] as number;
  const rise = (halfWidth * sigma) ** 2;
  const error = covariance ? halfWidth * sigma * Math.sqrt(covariance[i * n + i] as number) : Infinity;
  const low = profileEnd(problem, fit, i, -1, error, rise, alike);
  const high = profileEnd(problem, fit, i, 1, error, rise, alike);
  const better = low.better ?? high.better;
  if (better) return { better };
  const same =
    Number.isFinite(error) &&
    !low.open &&
    !high.open &&
    Math.abs(at - error - low.value) <= SAME * error &&
    Math.abs(at + error - high.value) <= SAME * error;
  return {
    low: same ? at - error : low.value,
    high: same ? at + error : high.value,
    basis: same ? 'covariance' : 'profile',
    openLow: low.open,
    openHigh: high.open,
  };
}

function covarianceOf({ observations }: LeastSquaresProblem, { jacobian, parameters }: LeastSquaresFit) {
  const n = parameters.length;
  const curvature = new Float64Array(n * n);
  for (let k = 0; k < observations; k += 1) {
    for (let i = 0; i < n; i += 1) {
      for (let j = 0; j < n; j += 1) {
        curvature[i * n + j] =
          (curvature[i * n + j] as number) + (jacobian[k * n + i] as number) * (jacobian[k * n + j] as number);
      }
    }
  }
  return invertSymmetric(curvature, n);
}

/**
 * Whether a bound of another parameter sets the limit: moved out by a factor of two it would win back a tenth of the rise
 * or more (choice).
 */
function isPressed(
  { lower, upper, observations }: LeastSquaresProblem,
  { parameters, residuals, jacobian }: LeastSquaresFit,
  except: number,
  rise: number,
): boolean {
  const n = parameters.length;
  return parameters.some((value, i) => {
    if (i === except || (value > (lower[i] as number) && value < (upper[i] as number))) return false;
    let slope = 0;
    for (let k = 0; k < observations; k += 1) slope += 2 * (residuals[k] as number) * (jacobian[k * n + i] as number);
    return Math.abs(slope) * Math.LN2 > 0.1 * rise;
  });
}

interface End {
  readonly value: number;
  readonly open: boolean;
  readonly better: LeastSquaresFit | null;
}

/** Where the profile of one parameter crosses the limit on one side; the bound when it does not. */
function profileEnd(
  problem: LeastSquaresProblem,
  fit: LeastSquaresFit,
  index: number,
  side: 1 | -1,
  error: number,
  rise: number,
  alike: Float64Array[],
): End {
  const at = fit.parameters[index] as number;
  const bound = (side > 0 ? problem.upper[index] : problem.lower[index]) as number;
  const room = Math.abs(bound - at);
  // The square root of the rise is nearly straight in the distance from the best.
  const limit = Math.sqrt(rise);
  let inside = { away: 0, root: 0, from: fit.parameters };
  let outside: { away: number; root: number } | null = null;
  // Where another parameter stands at a bound of the search, it is the bound that sets the limit.
  let held = false;
  let next = Math.min(room, Math.max(SHORTEST, Math.min(LONGEST, Number.isFinite(error) ? error : FIRST)));
  for (let step = 0; step < MOST_STEPS; step += 1) {
    if (room === 0) break;
    const start = Float64Array.from(inside.from);
    start[index] = at + side * next;
    const refit = dampedLeastSquares(problem, start, { held: index, mostIterations: 40, shareLeft: 1e-5 });
    const risen = (refit?.sumOfSquares ?? Infinity) - fit.sumOfSquares;
    if (refit && risen < -0.01 * rise - 1e-12) {
      const freed = dampedLeastSquares(problem, refit.parameters);
      if (freed?.converged && freed.sumOfSquares < fit.sumOfSquares) return { value: at, open: false, better: freed };
    }
    const root = Math.sqrt(Math.max(0, risen));
    if (refit && root <= limit) {
      inside = { away: next, root, from: refit.parameters };
      alike.push(refit.parameters);
      held = isPressed(problem, refit, index, rise);
    } else {
      outside = { away: next, root: Math.min(root, 10 * limit) };
    }
    if (!outside && inside.away >= room) return { value: bound, open: true, better: null };
    if (outside && outside.away - inside.away <= 0.02 * outside.away) break;
    if (Math.abs(root - limit) <= 0.005 * limit) return { value: at + side * next, open: held, better: null };
    if (outside) {
      const share = (limit - inside.root) / (outside.root - inside.root);
      next = inside.away + Math.min(0.9, Math.max(0.1, share)) * (outside.away - inside.away);
    } else {
      const straight = inside.root > 0 ? (inside.away * limit * 1.02) / inside.root : 3 * inside.away;
      next = Math.min(room, inside.away + LONGEST, Math.max(1.1 * inside.away, Math.min(straight, 3 * inside.away)));
    }
  }
  if (!outside) return { value: room === 0 ? bound : at + side * inside.away, open: true, better: null };
  const share = (limit - inside.root) / (outside.root - inside.root);
  return { value: at + side * (inside.away + share * (outside.away - inside.away)), open: held, better: null };
}
