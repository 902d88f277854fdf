import type { DiscoveryFinding, FalseDiscoveryMethod, Settings } from '../findings';
import { isTwoProbe } from '../survey/hookup';
import type { ScoredPlace } from './doubts/doubt-context';

/**
 * Which p-values stand when all of them were looked at: at most the share `rate` of those is false on average.
 * Step-up of Benjamini & Hochberg 1995 (J. R. Stat. Soc. B 57:289, doi 10.1111/j.2517-6161.1995.tb02031.x), which also
 * holds for tests that depend on each other positively, as neighbours along a line and readings against one reference
 * do; for any dependence Benjamini & Yekutieli 2001 (Ann. Stat. 29:1165, doi 10.1214/aos/1013699998), which divides the
 * rate by 1 + 1/2 + … + 1/m. Returns the largest p-value that stands, −1 for none.
 */
export function largestThatStands(pValues: Float64Array, rate: number, method: FalseDiscoveryMethod): number {
  const sorted = pValues.slice().sort();
  const count = sorted.length;
  let share = rate / count;
  if (method === 'benjamini_yekutieli') {
    let harmonic = 0;
    for (let i = 1; i <= count; i += 1) harmonic += 1 / i;
    share /= harmonic;
  }
  for (let i = count - 1; i >= 0; i -= 1) {
    if ((sorted[i] as number) <= (i + 1) * share) return sorted[i] as number;
  }
  return -1;
}

/** Coefficients of Abramowitz & Stegun 7.1.26. */
const P = 0.3275911;
const A = [0.254829592, -0.284496736, 1.421413741, -1.453152027, 1.061405429] as const;
/** From here on the asymptotic series is the better one: 7.1.26 is right to 1.5e-7 and no better. */
const FAR = 4;

/** Chance that a normal number lies as far from 0 as z, to either side; right to 2e-7, and to 2 % of itself beyond |z| = 4. */
export function twoSided(z: number): number {
  const size = Math.abs(z);
  if (size > FAR) {
    return (Math.sqrt(2 / Math.PI) * Math.exp((-size * size) / 2) * (1 - 1 / size ** 2 + 3 / size ** 4)) / size;
  }
  const x = size * Math.SQRT1_2;
  const t = 1 / (1 + P * x);
  return t * (A[0] + t * (A[1] + t * (A[2] + t * (A[3] + t * A[4])))) * Math.exp(-x * x);
}

export interface Controlled {
  readonly places: readonly ScoredPlace[];
  readonly discovery: DiscoveryFinding;
}

/**
 * Takes away the grades of a line that chance alone gives among so many readings. Two-probe hints are counted apart.
 * Grades of over-range bounds stay: they are no tests at a known p-value, and their true figure stands out more.
 */
export function controlled(places: readonly ScoredPlace[], settings: Settings): Controlled {
  let tested = 0;
  let beyondThreshold = 0;
  for (const { score } of places) {
    if (score.zScore === null) continue;
    tested += 1;
    if (score.grade !== 'none') beyondThreshold += 1;
  }
  if (beyondThreshold === 0 || settings.falseDiscoveryRate >= 1) {
    return { places, discovery: { tested, beyondThreshold, kept: beyondThreshold } };
  }
  const limits = [false, true].map((twoProbe) => largestOf(places, twoProbe, settings));
  let kept = 0;
  const after = places.map((scored): ScoredPlace => {
    const { place, score } = scored;
    if (score.zScore === null || score.grade === 'none') return scored;
    if (twoSided(score.zScore) <= (limits[isTwoProbe(place.hookup) ? 1 : 0] as number)) {
      kept += 1;
      return scored;
    }
    return { place, score: { ...score, grade: 'none' } };
  });
  return { places: after, discovery: { tested, beyondThreshold, kept } };
}

function largestOf(places: readonly ScoredPlace[], twoProbe: boolean, settings: Settings): number {
  const pValues = new Float64Array(places.length);
  let count = 0;
  for (const { place, score } of places) {
    if (score.zScore === null || isTwoProbe(place.hookup) !== twoProbe) continue;
    pValues[count] = twoSided(score.zScore);
    count += 1;
  }
  return largestThatStands(pValues.subarray(0, count), settings.falseDiscoveryRate, settings.falseDiscoveryMethod);
}
