import { intersect } from '@turf/intersect';
import type { Feature, MultiPolygon, Polygon, Position } from 'geojson';
import type { Plane } from '../../position/crs';
import { joinAreas } from '../../position/join-areas';
import { rounded } from './coordinate';
import type { GroundPath } from './ground-path';

/** Corners of the round end that joins two legs at a bend. */
const ROUND_CORNERS = 16;
/** Coordinates are snapped to this before they are joined; unsnapped edges make slivers (Turfjs/turf issue 3168). */
const SNAP_M = 0.001;
/** A hole or an island smaller than this is a rounding remnant. */
const LEAST_AREA_M2 = 0.01;

export type Ring = (readonly [x: number, y: number])[];
type Area = Feature<Polygon | MultiPolygon>;

/** Everything within `halfWidthM` of a stretch of line, ends cut off square, in longitude and latitude. */
export function corridorArea(path: GroundPath, fromM: number, toM: number, halfWidthM: number): MultiPolygon {
  return areaInDegrees(stripRings(path.cut(fromM, toM), halfWidthM), path.plane);
}

/** Rings that together are everything within `halfWidthM` of a way through a plane, ends cut off square. */
export function stripRings(points: readonly (readonly [x: number, y: number])[], halfWidthM: number): Ring[] {
  const rings: Ring[] = [];
  for (let i = 1; i < points.length; i += 1) {
    const [px, py] = points[i - 1] as readonly [number, number];
    const [qx, qy] = points[i] as readonly [number, number];
    const length = Math.hypot(qx - px, qy - py);
    if (length === 0) continue;
    const nx = (-(qy - py) / length) * halfWidthM;
    const ny = ((qx - px) / length) * halfWidthM;
    rings.push([
      [px - nx, py - ny],
      [qx - nx, qy - ny],
      [qx + nx, qy + ny],
      [px + nx, py + ny],
    ]);
    if (i < points.length - 1) rings.push(disc(qx, qy, halfWidthM));
  }
  return rings;
}

/** Rings of a plane as one valid area in longitude and latitude. */
export function areaInDegrees(rings: readonly Ring[], plane: Plane): MultiPolygon {
  return inDegrees(joinAreas(rings.map(area)), plane);
}

const disc = (x: number, y: number, radius: number): Ring =>
  Array.from({ length: ROUND_CORNERS }, (_, k) => {
    const angle = (2 * Math.PI * k) / ROUND_CORNERS;
    return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)] as const;
  });

function area(ring: Ring): Feature<Polygon> {
  const snapped = ring.map(([x, y]): Position => [Math.round(x / SNAP_M) * SNAP_M, Math.round(y / SNAP_M) * SNAP_M]);
  return {
    type: 'Feature',
    properties: {},
    geometry: { type: 'Polygon', coordinates: [[...snapped, snapped[0] as Position]] },
  };
}

const polygonsOf = (feature: Area): Position[][][] =>
  feature.geometry.type === 'Polygon' ? [feature.geometry.coordinates] : feature.geometry.coordinates;

/** Twice the signed area; positive = counter-clockwise. */
function signedArea(ring: readonly Position[]): number {
  let sum = 0;
  for (let i = 1; i < ring.length; i += 1) {
    const [px = 0, py = 0] = ring[i - 1] as Position;
    const [qx = 0, qy = 0] = ring[i] as Position;
    sum += px * qy - qx * py;
  }
  return sum;
}

function inDegrees(joined: Area | null, plane: Plane): MultiPolygon {
  if (!joined) return { type: 'MultiPolygon', coordinates: [] };
  let reference: number | null = null;
  const unwrapped = polygonsOf(joined).map((rings) =>
    rings
      .filter((ring) => Math.abs(signedArea(ring)) / 2 >= LEAST_AREA_M2)
      .map((ring) =>
        ring.map(([x = 0, y = 0]): Position => {
          const { lon, lat } = plane.toLonLat(x, y);
          reference ??= lon;
          // Longitudes stay on one side of the first, so that a corridor across 180° is whole before it is cut.
          return [lon - 360 * Math.round((lon - reference) / 360), lat];
        }),
      ),
  );
  return { type: 'MultiPolygon', coordinates: cutPolygons(unwrapped.filter((rings) => rings.length > 0)).map(wound) };
}

/** Cuts polygons at ±180° (RFC 7946, 3.1.9), where they cross it. */
function cutPolygons(polygons: Position[][][]): Position[][][] {
  const lons = polygons.flat(2).map(([lon = 0]) => lon);
  if (lons.every((lon) => Math.abs(lon) <= 180)) return polygons;
  return [-360, 0, 360].flatMap((turn) => {
    const box = area([
      [-180 + turn, -90],
      [180 + turn, -90],
      [180 + turn, 90],
      [-180 + turn, 90],
    ]);
    const whole: Feature<MultiPolygon> = {
      type: 'Feature',
      properties: {},
      geometry: { type: 'MultiPolygon', coordinates: polygons },
    };
    const part = intersect({ type: 'FeatureCollection', features: [whole, box] });
    return part
      ? polygonsOf(part).map((rings) => rings.map((ring) => ring.map(([lon = 0, lat = 0]) => [lon - turn, lat])))
      : [];
  });
}

/** Outer rings counter-clockwise, holes clockwise (RFC 7946, 3.1.6), coordinates as they are written, each once. */
function wound(rings: Position[][]): Position[][] {
  return rings.map((ring, i) => {
    const written = ring
      .map(([lon = 0, lat = 0]): Position => [rounded(lon), rounded(lat)])
      .filter(([lon, lat], k, all) => k === 0 || lon !== all[k - 1]?.[0] || lat !== all[k - 1]?.[1]);
    const isCounterClockwise = signedArea(written) > 0;
    return isCounterClockwise === (i === 0) ? written : written.reverse();
  });
}
