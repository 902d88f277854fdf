/**
 * A symmetric positive definite matrix of which every row is kept from its first non-zero column on, and its Cholesky
 * factor in the same place. A line's unknowns only meet their neighbours, so this costs linear time where a full matrix
 * costs cubic (envelope method, George & Liu 1981).
 */
export class Skyline {
  readonly size: number;
  /** Where column 0 of each row would stand among the values. */
  private readonly origin: readonly number[];
  private readonly values: Float64Array;

  /** `first`: of each row, the column that it starts at. */
  constructor(private readonly first: readonly number[]) {
    const origin: number[] = [];
    let length = 0;
    for (let i = 0; i < first.length; i += 1) {
      const column = first[i] as number;
      origin.push(length - column);
      length += i - column + 1;
    }
    this.size = first.length;
    this.origin = origin;
    this.values = new Float64Array(length);
  }

  clear(): void {
    this.values.fill(0);
  }

  /** Adds to an entry of the lower triangle (row ≥ column ≥ the start of the row). */
  add(row: number, column: number, value: number): void {
    const at = (this.origin[row] as number) + column;
    this.values[at] = (this.values[at] as number) + value;
  }

  /** Turns the matrix into its factor; false when it is not positive definite. */
  factor(): boolean {
    const { values, origin, first, size } = this;
    for (let i = 0; i < size; i += 1) {
      const row = origin[i] as number;
      const start = first[i] as number;
      const diagonal = values[row + i] as number;
      let rest = diagonal;
      for (let j = start; j < i; j += 1) {
        const other = origin[j] as number;
        let sum = values[row + j] as number;
        for (let k = Math.max(start, first[j] as number); k < j; k += 1) {
          sum -= (values[row + k] as number) * (values[other + k] as number);
        }
        sum /= values[other + j] as number;
        values[row + j] = sum;
        rest -= sum * sum;
      }
      // A pivot that is only rounding: nothing determines this unknown.
      if (!(rest > 1e-11 * diagonal)) return false;
      values[row + i] = Math.sqrt(rest);
    }
    return true;
  }

  /** Solves L y = b in place, from row `from` on (b is zero before it). */
  forward(b: Float64Array, from = 0): void {
    const { values, origin, first, size } = this;
    for (let i = from; i < size; i += 1) {
      const row = origin[i] as number;
      let sum = b[i] as number;
      for (let k = Math.max(first[i] as number, from); k < i; k += 1)
        sum -= (values[row + k] as number) * (b[k] as number);
      b[i] = sum / (values[row + i] as number);
    }
  }

  /** Solves Lᵀ x = y in place. */
  backward(y: Float64Array): void {
    const { values, origin, first, size } = this;
    for (let i = size - 1; i >= 0; i -= 1) {
      const row = origin[i] as number;
      const x = (y[i] as number) / (values[row + i] as number);
      y[i] = x;
      for (let k = first[i] as number; k < i; k += 1) y[k] = (y[k] as number) - (values[row + k] as number) * x;
    }
  }

  /** Variance of the last unknown. */
  get lastVariance(): number {
    return 1 / (this.values[this.values.length - 1] as number) ** 2;
  }
}
