import type { Skyline } from './skyline';

/** One observation's derivatives by the unknowns that it meets. */
export class SparseRow {
  private readonly at: number[] = [];
  private readonly weights: number[] = [];
  private count = 0;

  clear(): void {
    this.count = 0;
  }

  add(unknown: number, weight: number): void {
    this.at[this.count] = unknown;
    this.weights[this.count] = weight;
    this.count += 1;
  }

  /** Adds the row's squares to a matrix of normal equations and their right side. */
  addTo(matrix: Skyline, right: Float64Array, off: number): void {
    const { at, weights, count } = this;
    for (let i = 0; i < count; i += 1) {
      const row = at[i] as number;
      const weight = weights[i] as number;
      right[row] = (right[row] as number) + weight * off;
      for (let j = 0; j < count; j += 1) {
        if ((at[j] as number) <= row) matrix.add(row, at[j] as number, weight * (weights[j] as number));
      }
    }
  }

  get least(): number {
    let least = Infinity;
    for (let i = 0; i < this.count; i += 1) least = Math.min(least, this.at[i] as number);
    return least;
  }

  dense(size: number): Float64Array {
    const column = new Float64Array(size);
    for (let i = 0; i < this.count; i += 1) {
      const unknown = this.at[i] as number;
      column[unknown] = (column[unknown] as number) + (this.weights[i] as number);
    }
    return column;
  }
}
