import type { Position } from 'geojson';
import ramp from '../../../styles/ramp.json';
import type { Disclosed } from '../../discretion/disclose';
import type { LineId } from '../../survey/ids';
import { cutAtAntimeridian, groundPath } from './ground-path';
import { collectionOf, type Layer, type LayerFeature } from './layer-collection';
import { cellValues, type WrittenCell } from './section-cell';

/**
 * The cells of a section as lines on the ground: each is the path of the line over it, with exactly its bends, so that
 * cells of one chainage lie on each other and are told apart by `depth_top_m`. RFC 7946 like the other layers; a cell
 * that crosses 180° becomes two features with `part`. Strokes from pale (low) to dark (high resistivity).
 */
export function sectionLayer({ findings }: Disclosed, lineId: LineId, cells: readonly WrittenCell[]): Layer {
  const line = findings.lines.find((each) => each.lineId === lineId);
  if (!line) return collectionOf([]);
  const path = groundPath(line.track);
  const logs = cells.map(({ resistivityOhmM }) => Math.log(resistivityOhmM));
  const range = [Math.min(...logs), Math.max(...logs)] as const;
  const features = cells.flatMap((cell, i): LayerFeature[] => {
    const places = path.cut(cell.chainageFromM, cell.chainageToM).map(([x, y]) => path.plane.toLonLat(x, y));
    return cutAtAntimeridian(places).map((piece, k) => {
      const sid = `${lineId}:section:${i + 1}:${k + 1}`;
      const coordinates: Position[] = piece.map(([lon, lat]) => [lon, lat]);
      return {
        type: 'Feature',
        id: sid,
        properties: {
          sid,
          line: line.name,
          ...cellValues(cell),
          part: k + 1,
          stroke: strokeOf(logs[i] as number, range),
          'stroke-width': 4,
          'stroke-opacity': 1,
        },
        geometry: { type: 'LineString', coordinates },
      };
    });
  });
  return collectionOf(features);
}

function strokeOf(log: number, [low, high]: readonly [number, number]): string {
  const scale = ramp.resistivity.light;
  const at = high > low ? Math.round(((log - low) / (high - low)) * (scale.length - 1)) : scale.length >> 1;
  return scale[at] as string;
}
