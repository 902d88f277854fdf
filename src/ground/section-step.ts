import { SIDE_BY_SIDE } from './band-cholesky';
import { type Smoothness, smoothOne } from './section-smoothness';
import { solveSymmetric } from './small-cholesky';

/** A linear problem: rows of sensitivities and what they have to come to, in standard errors. */
export interface LinearFit {
  readonly rows: Float64Array;
  readonly cells: number;
  readonly wanted: Float64Array;
}

export interface FittedStep {
  /** The smooth model, over the even one. */
  readonly model: Float64Array;
  /** What it leaves of each wanted value. */
  readonly left: Float64Array;
}

/** A C Aᵀ, row by row: how much each reading has to do with each other, through a smooth model. */
export type Coupling = Float64Array;

/** Made once for all λ: C is the inverse of the roughness. */
export function couplingOf({ rows, cells, wanted }: LinearFit, smoothness: Smoothness): Coupling {
  const count = wanted.length;
  const coupling = new Float64Array(count * count);
  const block = new Float64Array(cells * SIDE_BY_SIDE);
  for (let first = 0; first < count; first += SIDE_BY_SIDE) {
    const last = Math.min(count, first + SIDE_BY_SIDE);
    block.fill(0);
    for (let i = first; i < last; i += 1) {
      for (let c = 0; c < cells; c += 1) block[c * SIDE_BY_SIDE + i - first] = rows[i * cells + c] as number;
    }
    smoothness.smooth(block);
    for (let j = first; j < count; j += 1) {
      const products = eightProducts(rows, j * cells, cells, block);
      for (let i = first; i < last; i += 1) {
        coupling[i * count + j] = products[i - first] as number;
        coupling[j * count + i] = products[i - first] as number;
      }
    }
  }
  return coupling;
}

/** A row with each of the eight that stand side by side in a block: an entry of the row is fetched once for all. */
function eightProducts(rows: Float64Array, from: number, cells: number, block: Float64Array): readonly number[] {
  let [p0, p1, p2, p3, p4, p5, p6, p7] = [0, 0, 0, 0, 0, 0, 0, 0];
  for (let c = 0, at = 0; c < cells; c += 1, at += SIDE_BY_SIDE) {
    const entry = rows[from + c] as number;
    p0 += entry * (block[at] as number);
    p1 += entry * (block[at + 1] as number);
    p2 += entry * (block[at + 2] as number);
    p3 += entry * (block[at + 3] as number);
    p4 += entry * (block[at + 4] as number);
    p5 += entry * (block[at + 5] as number);
    p6 += entry * (block[at + 6] as number);
    p7 += entry * (block[at + 7] as number);
  }
  return [p0, p1, p2, p3, p4, p5, p6, p7];
}

/**
 * The model x that makes |A·x − wanted|² + λ·roughness(x) least, solved on the readings:
 * (A C Aᵀ + λ) y = wanted, x = C Aᵀ y. What is left of the wanted values is λ·y.
 * So the work is that of the readings, however many cells there are.
 */
export function smoothFit(
  { rows, cells, wanted }: LinearFit,
  coupling: Coupling,
  smoothness: Smoothness,
  lambda: number,
): FittedStep {
  const count = wanted.length;
  const damped = Float64Array.from(coupling);
  for (let i = 0; i < count; i += 1) damped[i * (count + 1)] = (damped[i * (count + 1)] as number) + lambda;
  const y = solveSymmetric(damped, wanted);
  if (!y) throw new Error('a positive λ makes the matrix positive definite');
  const model = new Float64Array(cells);
  for (let i = 0; i < count; i += 1) {
    const share = y[i] as number;
    const row = i * cells;
    for (let c = 0; c < cells; c += 1) model[c] = (model[c] as number) + share * (rows[row + c] as number);
  }
  smoothOne(smoothness, model, new Float64Array(cells * SIDE_BY_SIDE));
  return { model, left: y.map((value) => lambda * value) };
}

/** Mean of the diagonal of A C Aᵀ: the λ at which smoothness and readings weigh alike. */
export function evenLambda(coupling: Coupling): number {
  const count = Math.sqrt(coupling.length);
  let sum = 0;
  for (let i = 0; i < count; i += 1) sum += coupling[i * count + i] as number;
  return sum / count;
}
