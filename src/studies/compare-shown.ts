import { twoSided } from '../evidence/false-discovery';
import type { Settings } from '../findings';

/** Beyond any |z| that a test can give. */
const FARTHEST = 40;

/**
 * |z| from which one more reading would have stood out: the threshold of a single reading, or that at which the control of
 * false discoveries lets one more p-value through than the `stands` (largest that stands, −1 for none) of these.
 */
export function zThatShows(pValues: Float64Array, stands: number, settings: Settings): number {
  const { zThreshold, falseDiscoveryRate, falseDiscoveryMethod } = settings;
  const count = pValues.length;
  if (count === 0 || falseDiscoveryRate >= 1) return zThreshold;
  const rejected = pValues.reduce((sum, p) => sum + (p <= stands ? 1 : 0), 0);
  let share = falseDiscoveryRate / count;
  if (falseDiscoveryMethod === 'benjamini_yekutieli') {
    share /= Array.from({ length: count }, (_, i) => 1 / (i + 1)).reduce((sum, part) => sum + part, 0);
  }
  return Math.max(zThreshold, zOf(Math.max(stands, Math.min(count, rejected + 1) * share)));
}

/** The |z| that chance reaches with probability p, to either side. */
function zOf(p: number): number {
  let [low, high] = [0, FARTHEST];
  while (high - low > 1e-6) {
    const middle = (low + high) / 2;
    if (twoSided(middle) > p) low = middle;
    else high = middle;
  }
  return high;
}
