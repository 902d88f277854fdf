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
  /** All that go with no void nearly as well: 95 % of likelihood ratios with one degree of freedom are smaller. */
  readonly errorsOpen: readonly number[];
  /** Twice the log likelihood with no void, its constant left out. */
  readonly without: number;
}

/** χ² with one degree of freedom, 95 %. */
const OPEN = 3.84;

/** Sums that are made side by side. */
const AT_ONCE = 4;

/** A line's templates and errors, ready for many scans. */
export interface Scanner {
  scan(lnRatio: Float64Array): Scan;
  /** Twice the gain of every template over no void, each with the unevenness that suits it best. */
  gains(lnRatio: Float64Array): Float64Array;
  /**
   * The same for many sets of ln(ratio), which is quicker than one by one; of the unevenness only that is no more than
   * `farthest` behind the best with no void.
   */
  gainsOfEach(sets: readonly Float64Array[], farthest?: number): readonly Float64Array[];
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
  const together = new Float64Array(n * AT_ONCE);

  /** What belongs to one set of ln(ratio) under one of the errors. */
  interface Asked {
    readonly set: number;
    readonly errors: number;
    readonly base: number;
    readonly weights: Float64Array;
  }

  /** Every template under every of the errors that may matter, for each of the sets; the bases of all of them. */
  function each(
    sets: readonly Float64Array[],
    farthest: number,
    visit: (asked: Asked, template: number, gain: number) => void,
  ): readonly (readonly number[])[] {
    const asked: Asked[] = [];
    const basesOfEach = sets.map((y, set) => {
      const bases = errors.map((own) => -own.logDeterminant - weigh(own.inverse, y, weighted));
      const least = Math.max(...bases) - farthest;
      for (const [e, base] of bases.entries()) {
        if (base < least) continue;
        const weights = new Float64Array(n);
        weigh((errors[e] as LineErrors).inverse, y, weights);
        asked.push({ set, errors: e, base, weights });
      }
      return bases;
    });
    for (let from = 0; from < asked.length; from += AT_ONCE) visitAll(asked.slice(from, from + AT_ONCE), visit);
    return basesOfEach;
  }

  /** A template is fetched from memory once for as many as go together, and their sums do not wait for each other. */
  function visitAll(asked: readonly Asked[], visit: (asked: Asked, template: number, gain: number) => void): void {
    for (let i = 0; i < n; i += 1) {
      for (let k = 0; k < AT_ONCE; k += 1) together[i * AT_ONCE + k] = asked[k]?.weights[i] ?? 0;
    }
    const [first, second, third, fourth] = asked;
    const gain = (own: Asked, t: number, product: number): number =>
      2 * product - ((strengths[own.errors] as Float64Array)[t] as number);
    for (let t = 0; t < count; t += 1) {
      let [p, q, r, s] = [0, 0, 0, 0];
      const from = t * n;
      for (let i = 0; i < n; i += 1) {
        const response = responses[from + i] as number;
        const at = i * AT_ONCE;
        p += response * (together[at] as number);
        q += response * (together[at + 1] as number);
        r += response * (together[at + 2] as number);
        s += response * (together[at + 3] as number);
      }
      if (first) visit(first, t, gain(first, t, p));
      if (second) visit(second, t, gain(second, t, q));
      if (third) visit(third, t, gain(third, t, r));
      if (fourth) visit(fourth, t, gain(fourth, t, s));
    }
  }

  const gainsOfEach: Scanner['gainsOfEach'] = (sets, farthest = Infinity) => {
    const gainsOf = sets.map(() => new Float64Array(count).fill(-Infinity));
    const bases = each(sets, farthest, ({ set, base }, t, gain) => {
      const gains = gainsOf[set] as Float64Array;
      if (base + gain > (gains[t] as number)) gains[t] = base + gain;
    });
    return gainsOf.map((gains, set) => {
      const without = Math.max(...(bases[set] as readonly number[]));
      return gains.map((gain) => gain - without);
    });
  };

  return {
    scan(y) {
      let best = -Infinity;
      let template = 0;
      let at = 0;
      const [bases] = each([y], Infinity, (asked, t, gain) => {
        if (asked.base + gain <= best) return;
        best = asked.base + gain;
        template = t;
        at = asked.errors;
      }) as [readonly number[]];
      const without = Math.max(...bases);
      return {
        statistic: best - without,
        template,
        errors: at,
        errorsWithout: bases.indexOf(without),
        errorsOpen: bases.flatMap((base, e) => (without - base <= OPEN ? [e] : [])),
        without,
      };
    },
    gains: (y) => gainsOfEach([y])[0] as Float64Array,
    gainsOfEach,
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
