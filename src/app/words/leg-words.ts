import { azimuthDeg, geodesicDistanceM } from '../../position/geodesic';
import type { Sketch } from '../state/layout-state';

interface LonLat {
  readonly lon: number;
  readonly lat: number;
}

/** Length and true bearing of a leg on the ellipsoid: "12.3 m, bearing 45.0°". */
export const legWords = (from: LonLat, to: LonLat): string =>
  `${geodesicDistanceM(from, to).toFixed(1)} m, bearing ${azimuthDeg(from, to).toFixed(1)}°`;

/** The leg from the last corner to the pointer; null where the pointer rests on the corner, as after a tap. */
export function aheadWords({ vertices, pointer }: Sketch): string | null {
  const last = vertices[vertices.length - 1];
  return last && pointer && geodesicDistanceM(last, pointer) > 0.01 ? legWords(last, pointer) : null;
}
