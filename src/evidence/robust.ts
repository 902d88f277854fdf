/** Makes the median absolute deviation an estimate of a normal standard deviation: 1 / Φ⁻¹(0.75). */
const MAD_TO_SIGMA = 1.482602218505602;

const FEW = 32;

/** The values by size, for a few of them. */
function inserted(values: readonly number[]): number[] {
  const sorted: number[] = [];
  for (const value of values) {
    let at = sorted.length;
    while (at > 0 && (sorted[at - 1] as number) > value) {
      sorted[at] = sorted[at - 1] as number;
      at -= 1;
    }
    sorted[at] = value;
  }
  return sorted;
}

/** Median of at least one number; the input is left as it is. */
export function medianOf(values: readonly number[]): number {
  // A typed array sorts by number and several times faster, but is slow to make for a few values.
  const sorted = values.length > FEW ? new Float64Array(values).sort() : inserted(values);
  const middle = sorted.length >> 1;
  const upper = sorted[middle] as number;
  return sorted.length % 2 === 1 ? upper : ((sorted[middle - 1] as number) + upper) / 2;
}

/**
 * What makes 1.4826·MAD of n normal values right on average, n = 2…9; n/(n − 0.8) from 10 on.
 * Croux & Rousseeuw 1992 (Computational Statistics 1:411), values from memory; the test measures them.
 */
const SMALL_SAMPLE = [1.196, 1.495, 1.363, 1.206, 1.2, 1.14, 1.129, 1.107];

/** Robust standard deviation: 1.4826 × the median absolute deviation, right on average; 0 for fewer than two values. */
export function robustSigma(values: readonly number[]): number {
  const count = values.length;
  if (count < 2) return 0;
  const centre = medianOf(values);
  const correction = SMALL_SAMPLE[count - 2] ?? count / (count - 0.8);
  return correction * MAD_TO_SIGMA * medianOf(values.map((value) => Math.abs(value - centre)));
}

/** Sample standard deviation; 0 for fewer than two values. */
export function sampleSigma(values: readonly number[]): number {
  if (values.length < 2) return 0;
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1));
}

/**
 * Variance of the median of n normal values of variance 1, n = 1…10; π/(2n + 1.14) beyond, right to 5 %.
 * David & Nagaraja, Order Statistics, values from memory; the test measures them.
 */
const MEDIAN_VARIANCE = [1, 0.5, 0.4487, 0.2982, 0.2868, 0.2147, 0.2104, 0.1682, 0.1661, 0.1383];

/** Variance of the median of `count` values, in units of their own variance. Infinite for none. */
export function medianVariance(count: number): number {
  return count < 1 ? Infinity : (MEDIAN_VARIANCE[count - 1] ?? Math.PI / (2 * count + 1.14));
}

/** How many more values halve the standard error of the median of `count` of them; null for none. */
export function moreToHalve(count: number): number | null {
  if (count < 1) return null;
  const wanted = medianVariance(count) / 4;
  let enough = count;
  while (medianVariance(enough) > wanted) enough += 1;
  return enough - count;
}
