import { factoriseBand, SIDE_BY_SIDE, solveBand } from './band-cholesky';

/** What is taken for likely before any reading: even ground. */
export interface Smoothness {
  /** (∇ᵀ∇ + 1/ℓ²)⁻¹ applied to up to `SIDE_BY_SIDE` fields of the cells in place, laid out as in `solveBand`. */
  smooth(fields: Float64Array): void;
}

/** Over this many times the size of the section its level may wander for nothing (choice). */
const WANDER = 5;

/**
 * The squared slope of ln ρ over the section, ∫|∇ ln ρ|²/depth dA, between the middles of neighbouring cells, alike in
 * all directions; and a hair of the level's own distance from where the search began, so that it can be inverted.
 * Without 1/depth (choice) whatever is found rises towards the electrodes, where a little ground does as much as a lot of
 * it further down. Cells are numbered down the columns.
 */
export function smoothnessOf(widthsM: readonly number[], thicknessesM: readonly number[]): Smoothness {
  const rows = thicknessesM.length;
  const size = widthsM.length * rows;
  const width = rows + 1;
  const band = new Float64Array(size * width);
  const add = (i: number, j: number, value: number): void => {
    const at = i * width + rows - i + j;
    band[at] = (band[at] as number) + value;
  };
  const whole = widthsM.reduce((sum, w) => sum + w, 0) + thicknessesM.reduce((sum, t) => sum + t, 0);
  const level = 1 / (WANDER * whole) ** 2;
  for (const [p, w] of widthsM.entries()) {
    let topM = 0;
    for (const [q, t] of thicknessesM.entries()) {
      const weight = 1 / (topM + t / 2);
      topM += t;
      const cell = p * rows + q;
      add(cell, cell, weight * level * w * t);
      const below = thicknessesM[q + 1];
      if (below !== undefined) tie(add, cell + 1, cell, (weight * w) / ((t + below) / 2));
      const beside = widthsM[p + 1];
      if (beside !== undefined) tie(add, cell + rows, cell, (weight * t) / ((w + beside) / 2));
    }
  }
  if (!factoriseBand(band, size, rows)) throw new Error('smoothness is positive definite');
  return { smooth: (fields) => solveBand(band, size, rows, fields) };
}

function tie(add: (i: number, j: number, value: number) => void, i: number, j: number, weight: number): void {
  add(i, i, weight);
  add(j, j, weight);
  add(i, j, -weight);
}

/** One field alone. */
export function smoothOne({ smooth }: Smoothness, field: Float64Array, scratch: Float64Array): void {
  scratch.fill(0);
  for (let i = 0; i < field.length; i += 1) scratch[i * SIDE_BY_SIDE] = field[i] as number;
  smooth(scratch);
  for (let i = 0; i < field.length; i += 1) field[i] = scratch[i * SIDE_BY_SIDE] as number;
}
