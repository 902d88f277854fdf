import { done, type Outcome, refuse } from '../survey/outcome';
import type { LocalGrid } from '../survey/survey';
import { crsOf, type LonLat, localPlane, type Plane, toLonLat } from './crs';
import { azimuthDeg } from './geodesic';

/** Long enough for the projection's last digits not to count, short enough for the grid line to be straight. */
const STEP_M = 50;

/**
 * Azimuth of grid north at a place: degrees clockwise from true north, so that true = grid + convergence.
 * East of a transverse Mercator's middle it is positive in the north. Taken from the projection itself by walking along
 * the grid line, so it holds for every projected system of the table, conformal or not.
 * Refusals: those of `crsOf`, `unknown_grid`, `not_a_grid` for degrees, `outside_crs` where the projection has no answer.
 */
export function gridConvergenceDeg(code: string, place: LonLat, grids: readonly LocalGrid[]): Outcome<number> {
  if (code.startsWith('grid:')) {
    const grid = grids.find(({ name }) => `grid:${name}` === code);
    if (!grid) return refuse('unknown_grid', `The site has no local grid named ${code.slice(5)}.`);
    const plane = localPlane(grid.origin_lon, grid.origin_lat);
    const [x, y] = plane.toPlane(place.lon, place.lat);
    return done(signed(planeConvergenceDeg(plane, x, y) + grid.bearing_deg));
  }
  const crs = crsOf(code);
  if (!crs.ok) return crs;
  if (crs.value.unit === 'degree') {
    return refuse(
      'not_a_grid',
      `${code} (${crs.value.name}) has no grid north: it counts in degrees. Say true instead.`,
    );
  }
  const [x, y] = crs.value.fromLonLat(place.lon, place.lat);
  if (Number.isFinite(x) && Number.isFinite(y)) {
    const before = toLonLat({ x, y: y - STEP_M, crs: code }, grids);
    const after = toLonLat({ x, y: y + STEP_M, crs: code }, grids);
    if (before.ok && after.ok) return done(midwayAzimuthDeg(before.value, after.value));
  }
  return refuse('outside_crs', `${code} (${crs.value.name}) cannot be used at ${place.lat}, ${place.lon}.`);
}

/** The same for the plane of a line at a point of it: azimuth of the plane's y axis there, degrees. */
export function planeConvergenceDeg(plane: Plane, x: number, y: number): number {
  return midwayAzimuthDeg(plane.toLonLat(x, y - STEP_M), plane.toLonLat(x, y + STEP_M));
}

/** Azimuth of a short line at its middle: the mean of those at its ends. */
function midwayAzimuthDeg(from: LonLat, to: LonLat): number {
  const out = signed(azimuthDeg(from, to));
  return signed(out + signed(azimuthDeg(to, from) + 180 - out) / 2);
}

const signed = (deg: number): number => deg - 360 * Math.round(deg / 360);
