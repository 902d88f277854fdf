/**
 * Solves A·x = b for a symmetric, positive definite A of n rows (row by row in `matrix`, left as it is).
 * Null where A is not positive definite to working precision. Cholesky's method (Golub & Van Loan 2013, §4.2).
 */
export function solveSymmetric(matrix: ArrayLike<number>, rightSide: ArrayLike<number>): Float64Array | null {
  const factor = choleskyFactor(matrix, rightSide.length);
  if (!factor) return null;
  const x = Float64Array.from(rightSide);
  solveFactored(factor, x);
  return x;
}

/** The inverse of such a matrix, row by row; null where it is not positive definite. */
export function invertSymmetric(matrix: ArrayLike<number>, n: number): Float64Array | null {
  const factor = choleskyFactor(matrix, n);
  if (!factor) return null;
  const inverse = new Float64Array(n * n);
  const column = new Float64Array(n);
  for (let j = 0; j < n; j += 1) {
    column.fill(0);
    column[j] = 1;
    solveFactored(factor, column);
    for (let i = 0; i < n; i += 1) inverse[i * n + j] = column[i] as number;
  }
  return inverse;
}

/** A diagonal entry that shrinks below this share of itself has nothing left but rounding. */
const ROUNDING = 1e-14;

/** The lower triangle L of A = L·Lᵀ, row by row; null where A is not positive definite. */
export function choleskyFactor(matrix: ArrayLike<number>, n: number): Float64Array | null {
  const l = new Float64Array(n * n);
  for (let i = 0; i < n; i += 1) {
    for (let j = 0; j <= i; j += 1) {
      const sum = (matrix[i * n + j] as number) - rowProduct(l, i * n, j * n, j);
      if (i === j) {
        if (!(sum > ROUNDING * (matrix[i * n + i] as number))) return null;
        l[i * n + i] = Math.sqrt(sum);
      } else {
        l[i * n + j] = sum / (l[j * n + j] as number);
      }
    }
  }
  return l;
}

/** The first `count` entries of two rows; four sums, which do not wait for each other. */
function rowProduct(l: Float64Array, p: number, q: number, count: number): number {
  let [s0, s1, s2, s3] = [0, 0, 0, 0];
  let k = 0;
  for (; k + 3 < count; k += 4) {
    s0 += (l[p + k] as number) * (l[q + k] as number);
    s1 += (l[p + k + 1] as number) * (l[q + k + 1] as number);
    s2 += (l[p + k + 2] as number) * (l[q + k + 2] as number);
    s3 += (l[p + k + 3] as number) * (l[q + k + 3] as number);
  }
  for (; k < count; k += 1) s0 += (l[p + k] as number) * (l[q + k] as number);
  return s0 + s1 + (s2 + s3);
}

function solveFactored(l: Float64Array, x: Float64Array): void {
  const n = x.length;
  for (let i = 0; i < n; i += 1) {
    let sum = x[i] as number;
    for (let k = 0; k < i; k += 1) sum -= (l[i * n + k] as number) * (x[k] as number);
    x[i] = sum / (l[i * n + i] as number);
  }
  for (let i = n - 1; i >= 0; i -= 1) {
    let sum = x[i] as number;
    for (let k = i + 1; k < n; k += 1) sum -= (l[k * n + i] as number) * (x[k] as number);
    x[i] = sum / (l[i * n + i] as number);
  }
}
