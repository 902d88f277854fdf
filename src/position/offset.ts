import { elongated, sum, type UncertainPlace } from './covariance';
import { geodesicDestination } from './geodesic';
import { tapeSigmaM } from './tape';

/** A right angle set out by eye and outstretched arms (common practice, no source). */
export const RIGHT_ANGLE_SIGMA_DEG = 2;

/** Where a base line is at a chainage, and where it goes there (clockwise from true north). */
export interface BasePoint extends UncertainPlace {
  readonly azimuthDeg: number;
}

/**
 * The place at right angles to a base line: positive offsets lie to the right of its direction, negative to the left.
 * The angle's error moves it along the base, the tape's error across.
 */
export function placeByOffset(
  baseAt: (chainageM: number) => BasePoint,
  chainageM: number,
  offsetRightM: number,
): UncertainPlace {
  const base = baseAt(chainageM);
  const offsetM = Math.abs(offsetRightM);
  if (offsetM === 0) return { lon: base.lon, lat: base.lat, covariance: base.covariance };
  const azimuth = base.azimuthDeg + (offsetRightM > 0 ? 90 : -90);
  const { lon, lat } = geodesicDestination(base, azimuth, offsetM);
  const alongBaseM = ((RIGHT_ANGLE_SIGMA_DEG * Math.PI) / 180) * offsetM;
  return { lon, lat, covariance: sum(base.covariance, elongated(azimuth, tapeSigmaM(offsetM), alongBaseM)) };
}
