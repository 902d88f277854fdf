import { done, type Outcome, refuse } from '../survey/outcome';
import type { TrueBearing } from './bearings';
import { elongated, sum, type UncertainPlace } from './covariance';
import { geodesicDestination } from './geodesic';
import { tapeSigmaM } from './tape';

const RADIANS = Math.PI / 180;
/** A slope read with a clinometer or a phone (common practice, no source). */
export const SLOPE_SIGMA_DEG = 1;
/** No tape lies steeper on ground that a line is laid over. */
const STEEPEST_DEG = 75;

export interface TapedDistance {
  /** Along the ground, metres. */
  readonly distanceM: number;
  /** Upwards positive; null where nobody measured it: the distance is taken for level then. */
  readonly slopeDeg: number | null;
}

export interface LevelDistance {
  readonly horizontalM: number;
  readonly horizontalSigmaM: number;
  /** Null where no slope was measured. */
  readonly riseM: number | null;
}

/** A taped distance brought to the level. Refusals: `distance_not_positive`, `slope_too_steep`. */
export function levelled({ distanceM, slopeDeg }: TapedDistance): Outcome<LevelDistance> {
  if (!(distanceM > 0 && Number.isFinite(distanceM))) {
    return refuse('distance_not_positive', `A distance has to be more than 0 m, and this one is ${distanceM} m.`);
  }
  if (slopeDeg === null) {
    return done({ horizontalM: distanceM, horizontalSigmaM: tapeSigmaM(distanceM), riseM: null });
  }
  if (!(Math.abs(slopeDeg) <= STEEPEST_DEG)) {
    return refuse(
      'slope_too_steep',
      `A slope of ${slopeDeg}° is steeper than a tape can lie. Give degrees from the level, not per cent.`,
    );
  }
  const [cos, sin] = [Math.cos(slopeDeg * RADIANS), Math.sin(slopeDeg * RADIANS)];
  return done({
    horizontalM: distanceM * cos,
    horizontalSigmaM: Math.hypot(tapeSigmaM(distanceM) * cos, distanceM * sin * SLOPE_SIGMA_DEG * RADIANS),
    riseM: distanceM * sin,
  });
}

/**
 * The place at a bearing and a taped distance from another: as unsure across as the bearing makes it, along as the tape.
 * Refusals: those of `levelled`.
 */
export function placeByBearing(
  start: UncertainPlace,
  bearing: TrueBearing,
  taped: TapedDistance,
): Outcome<UncertainPlace> {
  const level = levelled(taped);
  if (!level.ok) return level;
  const { horizontalM, horizontalSigmaM } = level.value;
  const { lon, lat } = geodesicDestination(start, bearing.azimuthDeg, horizontalM);
  const acrossM = bearing.sigmaDeg * RADIANS * horizontalM;
  const covariance = sum(start.covariance, elongated(bearing.azimuthDeg, horizontalSigmaM, acrossM));
  return done({ lon, lat, covariance });
}
