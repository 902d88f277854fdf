import { type LonLat, localPlane } from '../position/crs';
import { geodesicDistanceM } from '../position/geodesic';
import type { PlacedFeature } from './placed';

type Rings = readonly (readonly LonLat[])[];

/**
 * Distance in metres from a place to a shape: 0 in an area, else to its edge; to a line; between points the geodesic.
 * Edges are straight in the transverse Mercator plane about the place (scale 1, 0.05 mm within 2.5 km), and the length
 * to the nearest place of the edge is then a geodesic on the ellipsoid.
 */
export function distanceToShapeM(from: LonLat, shape: 'point' | 'line' | 'area', parts: Rings): number {
  const [first] = parts;
  if (shape === 'point') return geodesicDistanceM(from, first?.[0] as LonLat);
  const plane = localPlane(from.lon, from.lat);
  let nearest = Infinity;
  let [nx, ny] = [0, 0];
  let inside = false;
  for (const places of parts) {
    const points = places.map(({ lon, lat }) => plane.toPlane(lon, lat));
    for (let i = 1; i < points.length; i += 1) {
      const [px, py] = points[i - 1] as readonly [number, number];
      const [qx, qy] = points[i] as readonly [number, number];
      const [dx, dy] = [qx - px, qy - py];
      const square = dx * dx + dy * dy;
      const along = square > 0 ? Math.min(1, Math.max(0, -(px * dx + py * dy) / square)) : 0;
      const [x, y] = [px + along * dx, py + along * dy];
      if (Math.hypot(x, y) < nearest) {
        nearest = Math.hypot(x, y);
        [nx, ny] = [x, y];
      }
      // Holes count by themselves: every edge that is crossed turns outside to inside and back.
      if (py > 0 !== qy > 0 && px + (-py / dy) * dx > 0) inside = !inside;
    }
  }
  if (shape === 'area' && inside) return 0;
  return geodesicDistanceM(from, plane.toLonLat(nx, ny));
}

export const distanceToFeatureM = (from: LonLat, { feature, parts }: PlacedFeature): number =>
  distanceToShapeM(
    from,
    feature.shape,
    parts.map(({ places }) => places),
  );

/** A footprint of something computed, such as a zone: rings of longitude and latitude. */
export interface Footprint {
  readonly key: string;
  readonly name: string;
  readonly rings: Rings;
}

export interface FeatureDistance {
  readonly footprint: string;
  readonly featureId: PlacedFeature['feature']['id'];
  /** From the middle of the feature to the footprint, or from a corner of the footprint to its edge: the shorter. */
  readonly distanceM: number;
  /** 95 % radius of the feature's place, m. */
  readonly r95M: number;
}

/** Distances between footprints and features that are not longer than `withinM`, the nearest first. */
export function footprintDistances(
  footprints: readonly Footprint[],
  features: readonly PlacedFeature[],
  withinM: number,
): readonly FeatureDistance[] {
  return footprints
    .flatMap(({ key, rings }) =>
      features.flatMap((feature) => {
        let distanceM = distanceToShapeM(feature.place, 'area', rings);
        if (feature.feature.shape !== 'point') {
          for (const place of rings.flat()) distanceM = Math.min(distanceM, distanceToFeatureM(place, feature));
          for (const place of feature.parts.flatMap(({ places }) => places)) {
            distanceM = Math.min(distanceM, distanceToShapeM(place, 'area', rings));
          }
        }
        return distanceM <= withinM
          ? [{ footprint: key, featureId: feature.feature.id, distanceM, r95M: feature.r95M }]
          : [];
      }),
    )
    .sort((p, q) => p.distanceM - q.distanceM || (p.featureId < q.featureId ? -1 : 1));
}
