import type { LineErrors } from './line-errors';
import type { Templates } from './void-templates';

/** What one set of ln(ratio) gives when every template is held against it. */
export interface Scan {
  /** Twice the gain in log likelihood of the best template, unevenness fitted anew with and without it. */
  readonly statistic: number;
  /** Which template that is. */
  readonly template: number;
  /** Which of the errors goes with it, and which goes with no void. */
  readonly errors: number;
  readonly errorsWithout: number;
  /** Twice the log likelihood with no void, its constant left out. */
  readonly without: number;
}

/** A line's templates and errors, ready for many scans. */
export interface Scanner {
  scan(lnRatio: Float64Array): Scan;
  /**
   * Twice the gain of every template over no void, each with the unevenness that suits it best; of those only that are
   * no more than `farthest` behind the best with no void.
   */
  gains(lnRatio: Float64Array, farthest?: number): Float64Array;
  /** tᵀC⁻¹t of every template under one of the errors. */
  strengths(errors: number): Float64Array;
}

/**
 * Likelihood ratios for voids under a line: twice log L(with the template) − log L(without), each maximised over the
 * unevenness of the soil that is tried (generalised least squares; the level and the reference are within the errors).
 */
export function createScanner(errors: readonly LineErrors[], { list, lnRatio: responses }: Templates): Scanner {
  const count = list.length;
  const n = count > 0 ? responses.length / count : 0;
  const strengths = errors.map(({ inverse }) => quadratics(inverse, responses, count, n));
  const weighted = new Float64Array(n);

  /** Every template under every of the errors that may matter; the bases of all of them. */
  function each(
    y: Float64Array,
    farthest: number,
    visit: (errors: number, base: number, template: number, gain: number) => void,
  ): number[] {
    const bases = errors.map((own) => -own.logDeterminant - weigh(own.inverse, y, weighted));
    const least = Math.max(...bases) - farthest;
    for (const [e, base] of bases.entries()) {
      if (base < least) continue;
      weigh((errors[e] as LineErrors).inverse, y, weighted);
      const strength = strengths[e] as Float64Array;
      for (let t = 0; t < count; t += 1) {
        let product = 0;
        const from = t * n;
        for (let i = 0; i < n; i += 1) product += (responses[from + i] as number) * (weighted[i] as number);
        visit(e, base, t, 2 * product - (strength[t] as number));
      }
    }
    return bases;
  }

  return {
    scan(y) {
      let best = -Infinity;
      let template = 0;
      let at = 0;
      const bases = each(y, Infinity, (e, base, t, gain) => {
        if (base + gain <= best) return;
        best = base + gain;
        template = t;
        at = e;
      });
      const without = Math.max(...bases);
      return { statistic: best - without, template, errors: at, errorsWithout: bases.indexOf(without), without };
    },
    gains(y, farthest = Infinity) {
      const gains = new Float64Array(count).fill(-Infinity);
      const bases = each(y, farthest, (_, base, t, gain) => {
        if (base + gain > (gains[t] as number)) gains[t] = base + gain;
      });
      const without = Math.max(...bases);
      return gains.map((gain) => gain - without);
    },
    strengths: (e) => strengths[e] as Float64Array,
  };
}

function quadratics(inverse: Float64Array, responses: Float64Array, count: number, n: number): Float64Array {
  const values = new Float64Array(count);
  for (let t = 0; t < count; t += 1) {
    const from = t * n;
    let sum = 0;
    for (let i = 0; i < n; i += 1) {
      const ti = responses[from + i] as number;
      let row = 0.5 * (inverse[i * n + i] as number) * ti;
      for (let j = 0; j < i; j += 1) row += (inverse[i * n + j] as number) * (responses[from + j] as number);
      sum += 2 * ti * row;
    }
    values[t] = sum;
  }
  return values;
}

/** yᵀC⁻¹y, with C⁻¹y left in `into`. */
export function weigh(inverse: Float64Array, y: Float64Array, into: Float64Array): number {
  const n = y.length;
  let square = 0;
  for (let i = 0; i < n; i += 1) {
    let sum = 0;
    for (let j = 0; j < n; j += 1) sum += (inverse[i * n + j] as number) * (y[j] as number);
    into[i] = sum;
    square += sum * (y[i] as number);
  }
  return square;
}
