import { SHARED_VARIANCE_SHARE } from './accuracy';
import { type LonLat, localPlane } from './crs';

/** Whether a fix was made after the tap that asked for it: an older one is where the phone was before. */
export const isFresh = (fixTimeMs: number, tapTimeMs: number): boolean => fixTimeMs >= tapTimeMs;

export interface SingleFix extends LonLat {
  /** Standard deviation per axis, metres, as the device said it. */
  readonly sigmaM: number;
}

export interface AveragedFix extends LonLat {
  readonly count: number;
  /** Root mean square distance per axis of the single fixes from their mean. */
  readonly spreadM: number;
  /** Standard deviation per axis of the mean: never less than what the fixes share. */
  readonly sigmaM: number;
}

/**
 * The mean of single fixes made one after another at one place, weighted by what they said of themselves; null without
 * any. What the fixes do not share averages down with their number, by their observed spread where that is larger than
 * what they claim.
 */
export function averageFixes(
  singles: readonly SingleFix[],
  sharedShare: number = SHARED_VARIANCE_SHARE,
): AveragedFix | null {
  const [first] = singles;
  if (!first) return null;
  const plane = localPlane(first.lon, first.lat);
  const points = singles.map(({ lon, lat, sigmaM }) => {
    const [x, y] = plane.toPlane(lon, lat);
    return { x, y, weight: 1 / sigmaM ** 2 };
  });
  const total = points.reduce((sum, { weight }) => sum + weight, 0);
  const mean = (of: (point: (typeof points)[number]) => number): number =>
    points.reduce((sum, point) => sum + point.weight * of(point), 0) / total;
  const [x, y] = [mean((point) => point.x), mean((point) => point.y)];
  const spreadM = Math.sqrt(mean((point) => (point.x - x) ** 2 + (point.y - y) ** 2) / 2);

  // As many equal fixes as would weigh the same: one good fix among bad ones is not averaged with them.
  const effective = total ** 2 / points.reduce((sum, { weight }) => sum + weight ** 2, 0);
  const claimedM = Math.sqrt(singles.length / total);
  const sharedVariance = sharedShare * claimedM ** 2;
  const ownVariance = (1 - sharedShare) * claimedM ** 2;
  const observedVariance = effective > 1 ? (spreadM ** 2 * effective) / (effective - 1) : 0;
  const scatterVariance = Math.max(ownVariance, observedVariance) / effective;
  return {
    ...plane.toLonLat(x, y),
    count: singles.length,
    spreadM,
    sigmaM: Math.sqrt(sharedVariance + scatterVariance),
  };
}
