import type { SectionForward } from './section-forward';
import type { Smoothness } from './section-smoothness';
import { couplingOf, evenLambda, type FittedStep, type LinearFit, smoothFit } from './section-step';

export interface FitOptions {
  readonly lnApparent: Float64Array;
  /** Standard errors of them. */
  readonly sigmaLn: Float64Array;
  readonly robust: boolean;
  readonly tick?: (fraction: number) => void;
}

export interface SectionFit {
  readonly startOhmM: number;
  /** Of the cells, down the columns. */
  readonly ohmM: Float64Array;
  readonly computedOhmM: Float64Array;
  /** Residuals in standard errors. */
  readonly residuals: Float64Array;
  /** 1, or less for readings that were weighted down. */
  readonly weights: Float64Array;
  /** Over the readings that keep half their weight or more. */
  readonly chiSquarePerReading: number;
  readonly iterations: number;
  readonly converged: boolean;
  /** Σ (∂ln ρa/∂ln ρ / σ)² of each cell. */
  readonly information: Float64Array;
}

/** χ² per reading that is aimed at, and how near to it is there. */
const TARGET = 1;
const NEAR = 0.04;
/** An iteration may lower χ² to this share of itself at most: the linear answer is not to be trusted further (choice). */
const LOWERING = 0.3;
/** Less than this lowering twice in a row is rest (choice). */
const REST = 0.03;
const MOST_ITERATIONS = 12;
/** Residuals beyond so many standard errors weigh as much as that (Huber 1964, Ann. Math. Stat. 35:73; 2 is our choice). */
const HUBER = 2;
/** So many iterations every reading counts, if with less weight: what one only shows may still be borne out (choice). */
const TRIED = 2;
/** Under this share of the aim the ground is smoothed again (choice). */
const OVERDONE = 0.85;
/** Farthest that a cell may lie from the even ground, ln: a thousandfold either way. */
const FARTHEST_LN = Math.log(1000);
const HALVINGS = 3;
/** Steps of the search for λ, each by this factor at first. */
const LAMBDA_STEP = 8;

interface Standing {
  readonly model: Float64Array;
  readonly computed: Float64Array;
  readonly residuals: Float64Array;
}

/**
 * The smoothest ground whose readings agree with the measured ones within their errors (Gauss–Newton in ln ρ; Constable,
 * Parker & Constable 1987, Geophysics 52:289). Each iteration takes the largest λ whose linear answer lowers χ² to the
 * aim of 1 per reading, or to `LOWERING` of what it is; steps that do not lower it are halved. It ends at the aim, or
 * where two iterations bring next to nothing. Bad readings weigh less from the start, and after `TRIED` iterations χ² leaves
 * them out. It starts from even ground at the middle of the readings.
 */
export function fitSection(forward: SectionForward, smoothness: Smoothness, options: FitOptions): SectionFit {
  const { lnApparent, sigmaLn, robust, tick = () => {} } = options;
  const count = lnApparent.length;
  const startLn = middleOf(lnApparent, sigmaLn, robust);
  const standingAt = (model: Float64Array, onTick?: (fraction: number) => void): Standing => {
    const { apparentOhmM } = forward.answer(forward.elementsOf(ohmsOf(startLn, model)), false, onTick);
    return standingOf(model, apparentOhmM, lnApparent, sigmaLn);
  };
  let at = standingOf(
    new Float64Array(forward.cells),
    new Float64Array(count).fill(Math.exp(startLn)),
    lnApparent,
    sigmaLn,
  );
  let weights = weightsOf(at.residuals, robust);
  let chi = chiOf(at.residuals, weights, 0);
  let iterations = 0;
  let resting = 0;
  let jacobian: Float64Array | null = null;
  let lambda: number | null = null;
  const progress = (part: number): void => tick(Math.min(0.98, (iterations + part) / (iterations + part + 3)));
  const sensitivities = (): Float64Array => {
    const answer = forward.answer(forward.elementsOf(ohmsOf(startLn, at.model)), true, (f) => progress(0.5 * f));
    return answer.jacobian as Float64Array;
  };
  while (!isThere(chi, iterations) && iterations < MOST_ITERATIONS && resting < 2) {
    jacobian = sensitivities();
    const problem = linearised(jacobian, forward.cells, at, weights, sigmaLn);
    const coupling = couplingOf(problem, smoothness);
    lambda ??= 10 * evenLambda(coupling);
    const fitted = (tried: number): FittedStep => smoothFit(problem, coupling, smoothness, tried);
    const aim = Math.max(TARGET, LOWERING * chi);
    const found = searchLambda(fitted, { weights, iterations, aim }, lambda);
    lambda = found.lambda;
    const next = stepTowards(at, found.step.model, { weights, iterations, aim }, standingAt, (f) =>
      progress(0.5 + 0.5 * f),
    );
    iterations += 1;
    if (!next) break;
    at = next;
    weights = weightsOf(at.residuals, robust);
    const chiNow = chiOf(at.residuals, weights, iterations);
    resting = chiNow > chi * (1 - REST) ? resting + 1 : 0;
    chi = chiNow;
    jacobian = null;
  }
  jacobian ??= sensitivities();
  tick(1);
  return {
    startOhmM: Math.exp(startLn),
    ohmM: ohmsOf(startLn, at.model),
    computedOhmM: at.computed,
    residuals: at.residuals,
    weights,
    chiSquarePerReading: chi,
    iterations,
    converged: chi <= TARGET * (1 + NEAR),
    information: informationOf(jacobian, forward.cells, sigmaLn, weights),
  };
}

/** How readings are judged within an iteration. */
interface Judging {
  readonly weights: Float64Array;
  /** Done so far. */
  readonly iterations: number;
  readonly aim: number;
}

const isThere = (chi: number, iterations: number): boolean =>
  chi <= TARGET * (1 + NEAR) && (iterations === 0 || chi >= TARGET * OVERDONE);

const ohmsOf = (startLn: number, model: Float64Array): Float64Array => model.map((ln) => Math.exp(startLn + ln));

function standingOf(
  model: Float64Array,
  computed: Float64Array,
  lnApparent: Float64Array,
  sigmaLn: Float64Array,
): Standing {
  const residuals = lnApparent.map((ln, i) => {
    const value = computed[i] as number;
    // A wild model can turn the sign of a reading; nothing agrees with that.
    return value > 0 ? (ln - Math.log(value)) / (sigmaLn[i] as number) : Infinity;
  });
  return { model, computed, residuals };
}

function weightsOf(residuals: Float64Array, robust: boolean): Float64Array {
  if (!robust) return new Float64Array(residuals.length).fill(1);
  // As long as most readings disagree it is the model that is wrong, not they.
  const sizes = Float64Array.from(residuals, Math.abs).sort();
  const scale = Math.max(1, 1.4826 * (sizes[sizes.length >> 1] as number));
  return residuals.map((residual) => Math.min(1, (HUBER * scale) / Math.abs(residual)));
}

function chiOf(residuals: Float64Array, weights: Float64Array, iterations: number): number {
  let sum = 0;
  let kept = 0;
  for (const [i, residual] of residuals.entries()) {
    const weight = weights[i] as number;
    if (iterations >= TRIED && weight < 0.5) continue;
    sum += (iterations >= TRIED ? 1 : weight) * residual * residual;
    kept += 1;
  }
  return sum / kept;
}

function middleOf(lnApparent: Float64Array, sigmaLn: Float64Array, robust: boolean): number {
  const sorted = Float64Array.from(lnApparent).sort();
  let middle = sorted[sorted.length >> 1] as number;
  for (let i = 0; i < 20; i += 1) {
    const weights = weightsOf(
      lnApparent.map((ln, k) => (ln - middle) / (sigmaLn[k] as number)),
      robust,
    );
    let [sum, weight] = [0, 0];
    for (const [k, ln] of lnApparent.entries()) {
      const own = (weights[k] as number) / (sigmaLn[k] as number) ** 2;
      sum += own * ln;
      weight += own;
    }
    middle = sum / weight;
  }
  return middle;
}

function linearised(
  jacobian: Float64Array,
  cells: number,
  { model, residuals }: Standing,
  weights: Float64Array,
  sigmaLn: Float64Array,
): LinearFit {
  const rows = new Float64Array(jacobian.length);
  const wanted = new Float64Array(residuals.length);
  for (let i = 0; i < residuals.length; i += 1) {
    const root = Math.sqrt(weights[i] as number);
    const scale = root / (sigmaLn[i] as number);
    let sum = root * (residuals[i] as number);
    for (let c = i * cells; c < (i + 1) * cells; c += 1) {
      const entry = scale * (jacobian[c] as number);
      rows[c] = entry;
      sum += entry * (model[c - i * cells] as number);
    }
    wanted[i] = sum;
  }
  return { rows, cells, wanted };
}

/** The largest λ whose linear answer comes to χ² of the aim; the smallest that was tried where none does. */
function searchLambda(
  fitted: (lambda: number) => FittedStep,
  { weights, iterations, aim }: Judging,
  startLambda: number,
): { lambda: number; step: FittedStep } {
  const tried = (lambda: number) => {
    const step = fitted(lambda);
    const residuals = step.left.map((left, i) => left / Math.sqrt(weights[i] as number));
    return { lambda, step, over: Math.log(chiOf(residuals, weights, iterations) / aim) };
  };
  let low = tried(startLambda);
  let high = low;
  for (let i = 0; i < 8 && low.over > 0; i += 1) {
    high = low;
    low = tried(low.lambda / LAMBDA_STEP);
  }
  for (let i = 0; i < 6 && high.over <= 0; i += 1) {
    low = high;
    high = tried(high.lambda * LAMBDA_STEP);
  }
  if (low.over > 0 || high.over <= 0) return low.over > 0 ? low : high;
  for (let i = 0; i < 8 && high.lambda / low.lambda > 1.05; i += 1) {
    const share = Math.min(0.9, Math.max(0.1, -low.over / (high.over - low.over)));
    const middle = tried(low.lambda * (high.lambda / low.lambda) ** share);
    if (Math.abs(middle.over) < 0.01) return middle;
    if (middle.over > 0) high = middle;
    else low = middle;
  }
  return low;
}

/** The whole step, or as little of it as lowers the misfit; null where none does. */
function stepTowards(
  at: Standing,
  target: Float64Array,
  { weights, iterations, aim }: Judging,
  standingAt: (model: Float64Array, tick: (fraction: number) => void) => Standing,
  tick: (fraction: number) => void,
): Standing | null {
  const enough = Math.max(chiOf(at.residuals, weights, iterations), aim * (1 + NEAR));
  let share = 1;
  for (let i = 0; i <= HALVINGS; i += 1) {
    const model = at.model.map((ln, c) => {
      const to = ln + share * ((target[c] as number) - ln);
      return Math.min(FARTHEST_LN, Math.max(-FARTHEST_LN, to));
    });
    const next = standingAt(model, tick);
    if (chiOf(next.residuals, weights, iterations) < enough) return next;
    share /= 2;
  }
  return null;
}

function informationOf(jacobian: Float64Array, cells: number, sigmaLn: Float64Array, weights: Float64Array) {
  const information = new Float64Array(cells);
  for (let i = 0; i < sigmaLn.length; i += 1) {
    const weight = (weights[i] as number) / (sigmaLn[i] as number) ** 2;
    for (let c = 0; c < cells; c += 1) {
      information[c] = (information[c] as number) + weight * (jacobian[i * cells + c] as number) ** 2;
    }
  }
  return information;
}
