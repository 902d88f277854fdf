/** Right-hand sides that are solved side by side, so that each entry of the factor is fetched once for all of them. */
export const SIDE_BY_SIDE = 8;

/**
 * Cholesky factor of a symmetric, positive definite band matrix in place (Golub & Van Loan 2013, §4.3). Row i holds its
 * entries from column i − halfBand to i, the last being the diagonal, at i·(halfBand + 1). False where the matrix is not
 * positive definite.
 */
export function factoriseBand(band: Float64Array, size: number, halfBand: number): boolean {
  const width = halfBand + 1;
  for (let i = 0; i < size; i += 1) {
    const row = i * width + halfBand - i;
    const first = i > halfBand ? i - halfBand : 0;
    for (let j = first; j < i; j += 1) {
      const other = j * width + halfBand - j;
      let p = 0;
      let q = 0;
      let k = first;
      for (; k + 1 < j; k += 2) {
        p += (band[row + k] as number) * (band[other + k] as number);
        q += (band[row + k + 1] as number) * (band[other + k + 1] as number);
      }
      if (k < j) p += (band[row + k] as number) * (band[other + k] as number);
      band[row + j] = ((band[row + j] as number) - p - q) * (band[other + j] as number);
    }
    let square = band[row + i] as number;
    for (let k = first; k < i; k += 1) square -= (band[row + k] as number) ** 2;
    if (!(square > 0)) return false;
    // The inverse is kept: every later use divides by the diagonal.
    band[row + i] = 1 / Math.sqrt(square);
  }
  return true;
}

/** Solves for `SIDE_BY_SIDE` right-hand sides in place; entry i of right-hand side r is at i·SIDE_BY_SIDE + r. */
export function solveBand(band: Float64Array, size: number, halfBand: number, x: Float64Array): void {
  const width = halfBand + 1;
  for (let i = 0; i < size; i += 1) {
    const diagonal = i * width + halfBand;
    const first = i > halfBand ? i - halfBand : 0;
    solveRow(band, diagonal, x, i, first, i, diagonal - (i - first), 1);
  }
  for (let i = size - 1; i >= 0; i -= 1) {
    const diagonal = i * width + halfBand;
    const end = i + halfBand < size ? i + halfBand + 1 : size;
    // Down column i of the factor: each entry lies halfBand behind that of the row before.
    solveRow(band, diagonal, x, i, i + 1, end, diagonal + halfBand, halfBand);
  }
}

/** Takes unknowns `first` to `end` off unknown i; their entries of the factor lie `step` apart, beginning `at`. */
function solveRow(
  band: Float64Array,
  diagonal: number,
  x: Float64Array,
  i: number,
  first: number,
  end: number,
  at: number,
  step: number,
): void {
  const to = i * 8;
  let x0 = x[to] as number;
  let x1 = x[to + 1] as number;
  let x2 = x[to + 2] as number;
  let x3 = x[to + 3] as number;
  let x4 = x[to + 4] as number;
  let x5 = x[to + 5] as number;
  let x6 = x[to + 6] as number;
  let x7 = x[to + 7] as number;
  for (let j = first, entry = at; j < end; j += 1, entry += step) {
    const l = band[entry] as number;
    const from = j * 8;
    x0 -= l * (x[from] as number);
    x1 -= l * (x[from + 1] as number);
    x2 -= l * (x[from + 2] as number);
    x3 -= l * (x[from + 3] as number);
    x4 -= l * (x[from + 4] as number);
    x5 -= l * (x[from + 5] as number);
    x6 -= l * (x[from + 6] as number);
    x7 -= l * (x[from + 7] as number);
  }
  const d = band[diagonal] as number;
  x[to] = x0 * d;
  x[to + 1] = x1 * d;
  x[to + 2] = x2 * d;
  x[to + 3] = x3 * d;
  x[to + 4] = x4 * d;
  x[to + 5] = x5 * d;
  x[to + 6] = x6 * d;
  x[to + 7] = x7 * d;
}
