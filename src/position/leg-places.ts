import type { LonLat, Plane } from './crs';

interface PlanePoint {
  readonly x: number;
  readonly y: number;
}

/** Longitude and latitude along a straight leg of the plane, by a parabola through its ends and its middle. */
export interface LegPlaces {
  readonly start: PlanePoint;
  readonly dx: number;
  readonly dy: number;
  readonly lengthSquared: number;
  readonly lon: readonly [start: number, linear: number, square: number];
  readonly lat: readonly [start: number, linear: number, square: number];
}

/** What the parabola leaves out grows with the cube of the length over R²: under 0.01 mm for a leg of a kilometre. */
const LONGEST_PARABOLA_M = 1000;
/** Close to a pole longitude bends faster. */
const FARTHEST_PARABOLA_LAT = 75;

/** Null for a leg on which only the full projection is exact enough. */
export function legPlacesOf(p: PlanePoint, q: PlanePoint, plane: Plane): LegPlaces | null {
  const dx = q.x - p.x;
  const dy = q.y - p.y;
  const lengthSquared = dx * dx + dy * dy;
  const start = plane.toLonLat(p.x, p.y);
  if (lengthSquared === 0 || lengthSquared > LONGEST_PARABOLA_M ** 2) return null;
  if (Math.abs(start.lat) > FARTHEST_PARABOLA_LAT) return null;
  const middle = plane.toLonLat(p.x + dx / 2, p.y + dy / 2);
  const end = plane.toLonLat(q.x, q.y);
  if (Math.abs(end.lon - start.lon) > 1 || Math.abs(middle.lon - start.lon) > 1) return null;
  return {
    start: p,
    dx,
    dy,
    lengthSquared,
    lon: parabola(start.lon, middle.lon, end.lon),
    lat: parabola(start.lat, middle.lat, end.lat),
  };
}

/** Coefficients in t = 0…1 of the parabola through f(0), f(½), f(1). */
const parabola = (f0: number, f1: number, f2: number): LegPlaces['lon'] => [
  f0,
  4 * f1 - 3 * f0 - f2,
  2 * (f0 - 2 * f1 + f2),
];

/** A point on the straight of a leg, also somewhat beyond its ends. */
export function placeOnLeg({ start, dx, dy, lengthSquared, lon, lat }: LegPlaces, x: number, y: number): LonLat {
  const t = ((x - start.x) * dx + (y - start.y) * dy) / lengthSquared;
  const degrees = lon[0] + t * (lon[1] + t * lon[2]);
  return { lon: degrees - 360 * Math.round(degrees / 360), lat: lat[0] + t * (lat[1] + t * lat[2]) };
}
