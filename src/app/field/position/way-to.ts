import { azimuthDeg, geodesicDistanceM } from '../../../position/geodesic';
import type { OwnFix } from './own-position';

/** A place that somebody walks to. */
export interface Target {
  /** "Line C at 104 m". */
  readonly label: string;
  readonly lon: number;
  readonly lat: number;
  /** How surely it is placed itself: radius that holds it with 95 %, metres; null where nobody knows. */
  readonly uncertainty95M: number | null;
}

export interface Way {
  /** Along the WGS 84 ellipsoid. */
  readonly distanceM: number;
  /** Clockwise from true north, 0 to 360. */
  readonly bearingDeg: number;
  /** From the way one goes, −180 (left) to 180 (right); null while one stands. */
  readonly turnDeg: number | null;
  /** The target lies inside the circle that holds oneself with 95 %: the device can lead no nearer. */
  readonly asNearAsGps: boolean;
}

/** The way from a fix to a target. */
export function wayTo(fix: OwnFix, target: Pick<Target, 'lon' | 'lat'>): Way {
  const distanceM = geodesicDistanceM(fix, target);
  const bearingDeg = azimuthDeg(fix, target);
  return {
    distanceM,
    bearingDeg,
    turnDeg: fix.headingDeg === null ? null : turnFrom(fix.headingDeg, bearingDeg),
    asNearAsGps: distanceM <= fix.r95M,
  };
}

/** From one bearing to another the short way, −180 to 180, to the right above 0. */
export function turnFrom(headingDeg: number, bearingDeg: number): number {
  const turn = (((bearingDeg - headingDeg) % 360) + 360) % 360;
  return turn > 180 ? turn - 360 : turn;
}
