import { toLonLat } from '../position/crs';
import type { Position, Survey } from '../survey/survey';
import type { Rim } from './next-readings';

/** Surroundings that nobody should put a probe near. */
const EDGES: readonly string[] = ['opening', 'rock_face'];

/**
 * Places to keep off: every vertex of the features and openings that are known, but for what was rejected or only
 * inferred from readings, or is somewhere in a square that a share shows it by. What has no readable place keeps nobody off,
 * and is told of where it is read.
 */
export function rimsOf({ features, surroundings, site }: Survey, distanceM: number): readonly Rim[] {
  const positions = [
    ...features.filter(
      ({ retired, status, type, generalised_grid_m: gridM }) =>
        !retired && !gridM && status !== 'rejected' && type !== 'geophysical_anomaly',
    ),
    ...surroundings.filter(({ retired, kind }) => !retired && EDGES.includes(kind)),
  ].flatMap((known): readonly Position[] => known.positions);
  return positions.flatMap((position) => {
    const place = toLonLat(position, site.local_grids);
    return place.ok ? [{ ...place.value, distanceM }] : [];
  });
}
