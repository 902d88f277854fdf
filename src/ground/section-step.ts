import { SIDE_BY_SIDE } from './band-cholesky';
import { type Smoothness, smoothOne } from './section-smoothness';

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

const MOST_STEPS = 200;
const CLOSELY = 1e-5;

/**
 * The model x that makes |A·x − wanted|² + λ·roughness(x) least, by conjugate gradients on the readings:
 * (A C Aᵀ + λ) y = wanted, x = C Aᵀ y, with C the inverse of the roughness. What is left of the wanted values is λ·y.
 * So the work is that of the readings, however many cells there are.
 */
export function smoothFit({ rows, cells, wanted }: LinearFit, smoothness: Smoothness, lambda: number): FittedStep {
  const count = wanted.length;
  const field = new Float64Array(cells);
  const scratch = new Float64Array(cells * SIDE_BY_SIDE);
  const toModel = (y: Float64Array): void => {
    field.fill(0);
    for (let i = 0; i < count; i += 1) {
      const factor = y[i] as number;
      const row = i * cells;
      for (let c = 0; c < cells; c += 1) field[c] = (field[c] as number) + factor * (rows[row + c] as number);
    }
    smoothOne(smoothness, field, scratch);
  };
  const y = new Float64Array(count);
  const residual = Float64Array.from(wanted);
  const direction = Float64Array.from(wanted);
  const image = new Float64Array(count);
  let square = dot(residual, residual);
  const enough = square * CLOSELY ** 2;
  for (let step = 0; step < MOST_STEPS && square > enough; step += 1) {
    toModel(direction);
    for (let i = 0; i < count; i += 1) {
      let sum = lambda * (direction[i] as number);
      const row = i * cells;
      for (let c = 0; c < cells; c += 1) sum += (field[c] as number) * (rows[row + c] as number);
      image[i] = sum;
    }
    const along = square / dot(direction, image);
    for (let i = 0; i < count; i += 1) {
      y[i] = (y[i] as number) + along * (direction[i] as number);
      residual[i] = (residual[i] as number) - along * (image[i] as number);
    }
    const next = dot(residual, residual);
    const keep = next / square;
    square = next;
    for (let i = 0; i < count; i += 1) direction[i] = (residual[i] as number) + keep * (direction[i] as number);
  }
  toModel(y);
  return { model: Float64Array.from(field), left: y.map((value) => lambda * value) };
}

/** Mean of the diagonal of A C Aᵀ: the λ at which smoothness and readings weigh alike. */
export function evenLambda({ rows, cells, wanted }: LinearFit, smoothness: Smoothness): number {
  const count = wanted.length;
  const block = new Float64Array(cells * SIDE_BY_SIDE);
  let sum = 0;
  for (let first = 0; first < count; first += SIDE_BY_SIDE) {
    const last = Math.min(count, first + SIDE_BY_SIDE);
    block.fill(0);
    for (let i = first; i < last; i += 1) {
      for (let c = 0; c < cells; c += 1) block[c * SIDE_BY_SIDE + i - first] = rows[i * cells + c] as number;
    }
    smoothness.smooth(block);
    for (let i = first; i < last; i += 1) {
      for (let c = 0; c < cells; c += 1) {
        sum += (block[c * SIDE_BY_SIDE + i - first] as number) * (rows[i * cells + c] as number);
      }
    }
  }
  return sum / count;
}

function dot(p: Float64Array, q: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < p.length; i += 1) sum += (p[i] as number) * (q[i] as number);
  return sum;
}
