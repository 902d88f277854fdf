import { union } from '@turf/union';
import type { Feature, MultiPolygon, Polygon } from 'geojson';
import { setPrecision } from 'polyclip-ts';

/**
 * Corners nearer than this are one, tried in turn. Exact arithmetic loses its way where the edges of circles nearly meet,
 * and a tolerance loses its way among others, where the exact way ends.
 */
const SAME_CORNER_M = [undefined, 1e-6, 1e-5, 1e-4] as const;

/** Polygons of a plane in metres as one area; null where there is none. */
export function joinAreas(areas: readonly Feature<Polygon>[]): Feature<Polygon | MultiPolygon> | null {
  if (areas.length < 2) return areas[0] ?? null;
  let fault: unknown;
  for (const sameCornerM of SAME_CORNER_M) {
    setPrecision(sameCornerM);
    try {
      return union({ type: 'FeatureCollection', features: [...areas] });
    } catch (error) {
      fault = error;
    } finally {
      setPrecision();
    }
  }
  throw fault;
}
