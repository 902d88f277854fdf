import proj4 from 'proj4';
import type { LonLat, Plane } from '../position/crs';

/**
 * A plane whose areas are those of the WGS 84 ellipsoid: Lambert's azimuthal equal-area projection about a place, metres.
 * Its lengths are off by about (d/2R)²/2 at a distance d from the middle: 0.03 % at 300 km.
 */
export function equalAreaPlane({ lon, lat }: LonLat): Plane {
  const converter = proj4(
    '+proj=longlat +datum=WGS84',
    `+proj=laea +lat_0=${lat} +lon_0=${lon} +x_0=0 +y_0=0 +datum=WGS84 +units=m`,
  );
  return {
    toPlane: (lonDeg, latDeg) => converter.forward([lonDeg, latDeg]) as [number, number],
    toLonLat(x, y) {
      const [lonDeg, latDeg] = converter.inverse([x, y]) as [number, number];
      return { lon: lonDeg, lat: latDeg };
    },
  };
}

/** The middle of places: of the sum of their directions from the centre of the Earth. */
export function middleOf(places: readonly LonLat[]): LonLat {
  let [x, y, z] = [0, 0, 0];
  for (const { lon, lat } of places) {
    const [lambda, phi] = [(lon * Math.PI) / 180, (lat * Math.PI) / 180];
    x += Math.cos(phi) * Math.cos(lambda);
    y += Math.cos(phi) * Math.sin(lambda);
    z += Math.sin(phi);
  }
  if (Math.hypot(x, y, z) < 1e-9 * Math.max(1, places.length)) return { lon: 0, lat: 0 };
  return { lon: (Math.atan2(y, x) * 180) / Math.PI, lat: (Math.atan2(z, Math.hypot(x, y)) * 180) / Math.PI };
}

/** Said beside every number that comes from the plane. */
export const EQUAL_AREA_WORDS =
  'Areas are those of the WGS 84 ellipsoid (Lambert azimuthal equal-area plane about the middle of the features).';
export const GEODESIC_WORDS = 'Distances are geodesics on the WGS 84 ellipsoid.';

export type Corner = readonly [x: number, y: number];

/** Area of a ring, m²; positive counter-clockwise. */
export function ringArea(ring: readonly Corner[]): number {
  let sum = 0;
  ring.forEach(([px, py], i) => {
    const [qx, qy] = ring[(i + 1) % ring.length] as Corner;
    sum += px * qy - qx * py;
  });
  return sum / 2;
}

/** The convex hull, counter-clockwise, without points on its edges (Andrew's monotone chain, 1979). */
export function convexHull(points: readonly Corner[]): readonly Corner[] {
  const sorted = [...points].sort(([px, py], [qx, qy]) => px - qx || py - qy);
  const half = (list: readonly Corner[]): Corner[] => {
    const hull: Corner[] = [];
    for (const point of list) {
      while (hull.length >= 2 && !turnsLeft(hull[hull.length - 2] as Corner, hull[hull.length - 1] as Corner, point))
        hull.pop();
      hull.push(point);
    }
    return hull.slice(0, -1);
  };
  const hull = [...half(sorted), ...half(sorted.reverse())];
  return hull.length > 0 ? hull : sorted.slice(0, 1);
}

const turnsLeft = ([ax, ay]: Corner, [bx, by]: Corner, [cx, cy]: Corner): boolean =>
  (bx - ax) * (cy - ay) - (by - ay) * (cx - ax) > 0;

export function perimeter(ring: readonly Corner[]): number {
  return ring.reduce((sum, [px, py], i) => {
    const [qx, qy] = ring[(i + 1) % ring.length] as Corner;
    return sum + Math.hypot(qx - px, qy - py);
  }, 0);
}
