import type { MultiPolygon } from 'geojson';
import type { LineFindings, ZoneFinding } from '../../findings';
import type { LineId } from '../../survey/ids';
import { areaInDegrees, type Ring, stripRings } from './corridor-area';
import { type GroundPath, groundPath } from './ground-path';

/** A passage is drawn from line to line at least this wide to either side, m. */
const LEAST_HALF_WIDTH_M = 0.5;

/** The footprint of a zone: the strips along its lines, and the way of a passage from line to line; valid and right-handed. */
export function zoneArea(zone: ZoneFinding, lines: ReadonlyMap<LineId, LineFindings>): MultiPolygon {
  const paths = new Map<LineId, GroundPath>();
  const pathOf = (id: LineId): GroundPath | null => {
    const known = paths.get(id);
    if (known) return known;
    const line = lines.get(id);
    if (!line || line.track.length < 2) return null;
    const path = groundPath(line.track);
    paths.set(id, path);
    return path;
  };
  const [first] = zone.footprint;
  const plane = first && pathOf(first.lineId)?.plane;
  if (!plane) return { type: 'MultiPolygon', coordinates: [] };
  const wayOf = (id: LineId, fromM: number, toM: number): (readonly [number, number])[] => {
    const path = pathOf(id);
    if (!path) return [];
    return path.cut(fromM, toM).map(([x, y]) => {
      const { lon, lat } = path.plane.toLonLat(x, y);
      return plane.toPlane(lon, lat);
    });
  };
  const strips = zone.footprint.flatMap(({ lineId, fromM, toM, halfWidthM }): Ring[] =>
    stripRings(wayOf(lineId, fromM, toM), halfWidthM),
  );
  const crossings = inARow(
    zone.crossings.flatMap(({ lineId, chainageM: { best, low95, high95 } }) => {
      const at = best ?? (low95 + high95) / 2;
      return wayOf(lineId, at, at).slice(0, 1);
    }),
  );
  const halfWidthM = Math.max(LEAST_HALF_WIDTH_M, zone.radiusM?.high95 ?? 0);
  return areaInDegrees([...strips, ...stripRings(crossings, halfWidthM)], plane);
}

/** Points in the order in which they come along the longest way between two of them. */
function inARow(points: readonly (readonly [number, number])[]): readonly (readonly [number, number])[] {
  let longest = 0;
  let [ux, uy] = [1, 0];
  for (const [px, py] of points) {
    for (const [qx, qy] of points) {
      const length = Math.hypot(qx - px, qy - py);
      if (length > longest) {
        longest = length;
        [ux, uy] = [(qx - px) / length, (qy - py) / length];
      }
    }
  }
  return [...points].sort(([px, py], [qx, qy]) => (px - qx) * ux + (py - qy) * uy);
}
