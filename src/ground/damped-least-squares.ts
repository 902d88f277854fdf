import { solveSymmetric } from './small-cholesky';

/** A sum of squares to be made small within bounds. */
export interface LeastSquaresProblem {
  readonly observations: number;
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  /**
   * Fills the residuals and, row by row, their derivatives by the parameters; false where the parameters make no sense.
   */
  evaluate(parameters: Float64Array, residuals: Float64Array, jacobian: Float64Array): boolean;
}

export interface LeastSquaresFit {
  readonly parameters: Float64Array;
  readonly residuals: Float64Array;
  readonly jacobian: Float64Array;
  readonly sumOfSquares: number;
  readonly converged: boolean;
  readonly iterations: number;
}

export interface LeastSquaresOptions {
  /** Index of a parameter that is held where it starts. */
  readonly held?: number;
  readonly mostIterations?: number;
  /** Converged when a step wins no more than this share of the sum; 1e-9 when not said. */
  readonly shareLeft?: number;
}

const MOST_ITERATIONS = 100;
/** The usual share; a little more is left to sums of nearly nothing. */
const SHARE_LEFT = 1e-9;
const NOTHING = 1e-18;

/**
 * Damped least squares within bounds (Levenberg 1944; Marquardt 1963, SIAM J. Appl. Math. 11:431, damping scaled by the
 * diagonal): a parameter at a bound that the descent would leave is set aside for the step, and steps end at the bounds.
 * Null when the start itself makes no sense.
 */
export function dampedLeastSquares(
  problem: LeastSquaresProblem,
  start: ArrayLike<number>,
  options: LeastSquaresOptions = {},
): LeastSquaresFit | null {
  const { lower, upper, observations: m } = problem;
  const n = lower.length;
  let parameters = Float64Array.from(start);
  for (let i = 0; i < n; i += 1) parameters[i] = within(parameters[i] as number, lower[i], upper[i]);
  let residuals = new Float64Array(m);
  let jacobian = new Float64Array(m * n);
  if (!problem.evaluate(parameters, residuals, jacobian)) return null;
  let sum = sumOfSquares(residuals);
  let trial = new Float64Array(n);
  let trialResiduals = new Float64Array(m);
  let trialJacobian = new Float64Array(m * n);
  let damping = 1e-2;
  let iterations = 0;
  let converged = false;
  const most = options.mostIterations ?? MOST_ITERATIONS;
  const shareLeft = options.shareLeft ?? SHARE_LEFT;
  while (iterations < most && !converged) {
    iterations += 1;
    const gradient = new Float64Array(n);
    for (let k = 0; k < m; k += 1) {
      const r = residuals[k] as number;
      for (let i = 0; i < n; i += 1) gradient[i] = (gradient[i] as number) + r * (jacobian[k * n + i] as number);
    }
    const free: number[] = [];
    for (let i = 0; i < n; i += 1) {
      const at = parameters[i] as number;
      const slope = gradient[i] as number;
      const leaves = (at <= (lower[i] as number) && slope >= 0) || (at >= (upper[i] as number) && slope <= 0);
      if (!leaves && i !== options.held) free.push(i);
    }
    if (free.length === 0) {
      converged = true;
      break;
    }
    const curvature = new Float64Array(free.length * free.length);
    for (let k = 0; k < m; k += 1) {
      for (let p = 0; p < free.length; p += 1) {
        const left = jacobian[k * n + (free[p] as number)] as number;
        for (let q = 0; q <= p; q += 1) {
          const at = p * free.length + q;
          curvature[at] = (curvature[at] as number) + left * (jacobian[k * n + (free[q] as number)] as number);
        }
      }
    }
    let stepped = false;
    while (!stepped && damping < 1e12) {
      const damped = Float64Array.from(curvature);
      for (let p = 0; p < free.length; p += 1) {
        const at = p * free.length + p;
        damped[at] = (damped[at] as number) * (1 + damping) + 1e-14;
      }
      const step = solveSymmetric(
        damped,
        free.map((i) => -(gradient[i] as number)),
      );
      if (!step) {
        damping *= 10;
        continue;
      }
      trial.set(parameters);
      let promised = 0;
      for (const [p, i] of free.entries()) {
        trial[i] = within((parameters[i] as number) + (step[p] as number), lower[i], upper[i]);
        promised -= (gradient[i] as number) * (step[p] as number);
      }
      const sensible = problem.evaluate(trial, trialResiduals, trialJacobian);
      const trialSum = sensible ? sumOfSquares(trialResiduals) : Infinity;
      if (trialSum < sum) {
        const won = sum - trialSum;
        [parameters, trial] = [trial, parameters];
        [residuals, trialResiduals] = [trialResiduals, residuals];
        [jacobian, trialJacobian] = [trialJacobian, jacobian];
        sum = trialSum;
        stepped = true;
        // Steps held short by the damping win little wherever they are.
        if (damping < 1 && won <= shareLeft * sum + NOTHING) converged = true;
        damping = Math.max(damping / 5, 1e-9);
      } else if (promised <= shareLeft * sum + NOTHING) {
        stepped = true;
        converged = true;
      } else {
        damping *= 4;
      }
    }
    // No step of any length wins: as low as numbers can tell.
    if (!stepped) converged = true;
  }
  return { parameters, residuals, jacobian, sumOfSquares: sum, converged, iterations };
}

const within = (value: number, low: number | undefined, high: number | undefined): number =>
  Math.min(high ?? Infinity, Math.max(low ?? -Infinity, value));

function sumOfSquares(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value * value;
  return sum;
}
