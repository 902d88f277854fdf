/** A square matrix taken apart into L·U with its rows exchanged; made by `factorise`. */
export interface DenseLu {
  readonly size: number;
  /** Row after row; U on and above the diagonal, L below it (its diagonal of ones left out). */
  readonly entries: Float64Array;
  /** Row of the given matrix that became row i. */
  readonly rowOf: Int32Array;
}

/** Columns taken together, so that each entry is fetched a quarter as often. */
const BLOCK = 4;

/**
 * Gaussian elimination with partial pivoting, four columns at a time (Golub & Van Loan 2013, Matrix Computations,
 * sect. 3.4 and 3.2.11). `entries` is size × size, row after row, and is overwritten. A singular matrix gives entries
 * that are not finite.
 */
export function factorise(entries: Float64Array, size: number): DenseLu {
  const rowOf = Int32Array.from({ length: size }, (_, i) => i);
  for (let start = 0; start < size; start += BLOCK) {
    const end = Math.min(size, start + BLOCK);
    for (let k = start; k < end; k += 1) {
      exchangeRows(entries, rowOf, size, k, pivotRow(entries, size, k));
      const inverse = 1 / (entries[k * size + k] as number);
      for (let i = k + 1; i < size; i += 1) {
        const factor = (entries[i * size + k] as number) * inverse;
        entries[i * size + k] = factor;
        subtractRow(entries, i * size, k * size, factor, k + 1, end);
      }
    }
    for (let k = start; k < end; k += 1) {
      for (let i = k + 1; i < end; i += 1) {
        subtractRow(entries, i * size, k * size, entries[i * size + k] as number, end, size);
      }
    }
    if (end < size) subtractBlock(entries, size, start, end);
  }
  return { size, entries, rowOf };
}

function pivotRow(entries: Float64Array, size: number, k: number): number {
  let row = k;
  let largest = Math.abs(entries[k * size + k] as number);
  for (let i = k + 1; i < size; i += 1) {
    const entry = Math.abs(entries[i * size + k] as number);
    if (entry <= largest) continue;
    largest = entry;
    row = i;
  }
  return row;
}

function exchangeRows(entries: Float64Array, rowOf: Int32Array, size: number, p: number, q: number): void {
  if (p === q) return;
  const kept = entries.slice(p * size, (p + 1) * size);
  entries.copyWithin(p * size, q * size, (q + 1) * size);
  entries.set(kept, q * size);
  const row = rowOf[p] as number;
  rowOf[p] = rowOf[q] as number;
  rowOf[q] = row;
}

function subtractRow(
  entries: Float64Array,
  to: number,
  from: number,
  factor: number,
  left: number,
  right: number,
): void {
  for (let j = left; j < right; j += 1) {
    entries[to + j] = (entries[to + j] as number) - factor * (entries[from + j] as number);
  }
}

/** Takes the four finished rows from all rows below; only ever called with a whole block. */
function subtractBlock(entries: Float64Array, size: number, start: number, end: number): void {
  const r0 = start * size;
  const r1 = r0 + size;
  const r2 = r1 + size;
  const r3 = r2 + size;
  for (let i = end; i < size; i += 1) {
    const to = i * size;
    const f0 = entries[to + start] as number;
    const f1 = entries[to + start + 1] as number;
    const f2 = entries[to + start + 2] as number;
    const f3 = entries[to + start + 3] as number;
    for (let j = end; j < size; j += 1) {
      entries[to + j] =
        (entries[to + j] as number) -
        f0 * (entries[r0 + j] as number) -
        f1 * (entries[r1 + j] as number) -
        f2 * (entries[r2 + j] as number) -
        f3 * (entries[r3 + j] as number);
    }
  }
}

/** x of A·x = `right`, for the matrix A that was taken apart. */
export function solve({ size, entries, rowOf }: DenseLu, right: Float64Array): Float64Array {
  const x = new Float64Array(size);
  for (let i = 0; i < size; i += 1) {
    let sum = right[rowOf[i] as number] as number;
    const row = i * size;
    for (let j = 0; j < i; j += 1) sum -= (entries[row + j] as number) * (x[j] as number);
    x[i] = sum;
  }
  for (let i = size - 1; i >= 0; i -= 1) {
    let sum = x[i] as number;
    const row = i * size;
    for (let j = i + 1; j < size; j += 1) sum -= (entries[row + j] as number) * (x[j] as number);
    x[i] = sum / (entries[row + i] as number);
  }
  return x;
}
