import type { Layout } from './layout';
import { choleskyFactor, invertSymmetric } from './small-cholesky';
import { type EvenPlaces, type SoilOverRock, soilKernel } from './soil-kernel';

/** A reading of a line beside its reference. */
export interface LineReading {
  readonly layout: Layout;
  readonly apparentOhmM: number;
  /** What quiet ground reads at this spacing. */
  readonly referenceOhmM: number;
  /** Standard error of ln ρa by the meter and repeats. */
  readonly noiseLn: number;
  /** Standard error of ln of the reference, which all readings with the same `group` share. */
  readonly referenceLn: number;
  /** Readings of one spacing and hookup are compared with one figure. */
  readonly group: string;
}

/** How uneven the soil of a line is: standard deviation of ln thickness, and the length over which it changes. */
export interface Unevenness {
  readonly lnThickness: number;
  readonly lengthM: number;
}

/** Errors of a whole line's ln(ratio) for one unevenness. */
export interface LineErrors {
  readonly uneven: Unevenness;
  /** C⁻¹, row by row. */
  readonly inverse: Float64Array;
  /** Lower triangle L of C = L·Lᵀ, row by row. */
  readonly factor: Float64Array;
  readonly logDeterminant: number;
}

/** Standard deviation of the level of all readings, in ln: as good as free. */
const LEVEL_LN = 1;
/** Standard deviation of ln of the mean thickness of the line's soil against the reference's (choice). */
const MEAN_LN = 0.3;
/**
 * Noise is reckoned so much larger than it is said to be: soil that is no Gaussian field, and a reference ground that is a
 * little off, leave scatter of their own. Without it every twelfth made survey without a void had a candidate, at a stated
 * rate of one in twenty (choice, set on surveys made for it; tests/bench). Ranges of a void that is there do without:
 * with it they hold the truth too often.
 */
const NOISE_MARGIN = 1.2;
/** Unevenness that is tried (choice: from even soil to a third of its thickness, over one to eight metres). */
const TRIED: readonly Unevenness[] = [
  { lnThickness: 0, lengthM: 1 },
  ...[0.07, 0.13, 0.21, 0.32].flatMap((lnThickness) => [0.6, 1.2, 2.5].map((lengthM) => ({ lnThickness, lengthM }))),
];
/** Places at which the thickness is told: even, from beyond one end of the readings to beyond the other. */
const STEP_M = 0.25;
const BEYOND_M = 3;
const MOST_PLACES = 600;

/** Places under a line's readings for the soil kernel. */
export function placesUnder(layouts: readonly Layout[]): EvenPlaces {
  const chainages = layouts.flatMap(({ a, b, m, n }) => [a, b, m, n]).filter((chainage) => chainage !== null);
  const fromM = Math.min(...chainages) - BEYOND_M;
  const lengthM = Math.max(...chainages) + BEYOND_M - fromM;
  const stepM = Math.max(STEP_M, lengthM / MOST_PLACES);
  return { fromM, stepM, count: Math.ceil(lengthM / stepM) + 1 };
}

/**
 * The errors of a line's ln(ratio) for every unevenness that is tried: noise of each reading, the error of each reference
 * figure shared by the readings compared with it, a level and a mean thickness of soil that are left open, and soil whose
 * ln thickness wanders along the line with a Gaussian covariance, seen through the first-order kernel of two layers.
 */
export function lineErrors(
  readings: readonly LineReading[],
  soil: SoilOverRock,
  tried: readonly Unevenness[] = TRIED,
  noiseMargin = NOISE_MARGIN,
): readonly LineErrors[] {
  const n = readings.length;
  const layouts = readings.map(({ layout }) => layout);
  const places = placesUnder(layouts);
  const kernel = soilKernel(soil, layouts, places);
  const whole = Float64Array.from({ length: n }, (_, i) => {
    let sum = 0;
    for (let k = 0; k < places.count; k += 1) sum += kernel[i * places.count + k] as number;
    return sum;
  });
  const plain = new Float64Array(n * n);
  for (let i = 0; i < n; i += 1) {
    for (let j = 0; j < n; j += 1) {
      const [p, q] = [readings[i] as LineReading, readings[j] as LineReading];
      plain[i * n + j] =
        LEVEL_LN ** 2 +
        MEAN_LN ** 2 * (whole[i] as number) * (whole[j] as number) +
        (p.group === q.group ? p.referenceLn * q.referenceLn : 0) +
        (i === j ? (noiseMargin * p.noiseLn) ** 2 : 0);
    }
  }
  const lengths = [...new Set(tried.map(({ lengthM }) => lengthM))];
  const wandering = new Map(lengths.map((lengthM) => [lengthM, seenWandering(kernel, n, places, lengthM)]));
  return tried.flatMap((uneven): LineErrors[] => {
    const seen = wandering.get(uneven.lengthM) as Float64Array;
    const covariance = plain.map((value, at) => value + uneven.lnThickness ** 2 * (seen[at] as number));
    const factor = choleskyFactor(covariance, n);
    const inverse = invertSymmetric(covariance, n);
    return factor && inverse ? [{ uneven, factor, inverse, logDeterminant: logDeterminantOf(factor, n) }] : [];
  });
}

/** K·c·Kᵀ for ln thickness of variance 1 that forgets itself over `lengthM` (standard deviation of a Gaussian). */
function seenWandering(kernel: Float64Array, n: number, { stepM, count }: EvenPlaces, lengthM: number): Float64Array {
  const reach = Math.ceil((4 * lengthM) / stepM);
  const alike = Float64Array.from({ length: reach + 1 }, (_, k) => Math.exp(-0.5 * ((k * stepM) / lengthM) ** 2));
  const smooth = new Float64Array(n * count);
  for (let i = 0; i < n; i += 1) {
    for (let k = 0; k < count; k += 1) {
      let sum = 0;
      const last = Math.min(count - 1, k + reach);
      for (let l = Math.max(0, k - reach); l <= last; l += 1) {
        sum += (kernel[i * count + l] as number) * (alike[Math.abs(k - l)] as number);
      }
      smooth[i * count + k] = sum;
    }
  }
  const seen = new Float64Array(n * n);
  for (let i = 0; i < n; i += 1) {
    for (let j = 0; j <= i; j += 1) {
      let sum = 0;
      for (let k = 0; k < count; k += 1) sum += (smooth[i * count + k] as number) * (kernel[j * count + k] as number);
      seen[i * n + j] = sum;
      seen[j * n + i] = sum;
    }
  }
  return seen;
}

function logDeterminantOf(l: Float64Array, n: number): number {
  let sum = 0;
  for (let i = 0; i < n; i += 1) sum += 2 * Math.log(l[i * n + i] as number);
  return sum;
}
