import type { Position } from 'geojson';
import type { Disclosed } from '../discretion/disclose';
import { coordinate } from '../exchange/write/coordinate';
import type { LayerFeature } from '../exchange/write/layer-collection';
import type { LineFindings } from '../findings';

/*
 * Heights of what lies on a line: known at electrodes, between them along the straight, beyond them not at all.
 */

/** The height of a position of a feature in the survey's own height system, m; null where none is known. */
export function heightsOf({ findings }: Disclosed): (feature: LayerFeature, position: Position) => number | null {
  const byName = new Map<string, (chainageM: number) => number | null>();
  const byVertex = new Map<string, Map<string, number>>();
  for (const line of findings.lines) {
    const at = profileOf(line);
    if (!byName.has(line.name)) byName.set(line.name, at);
    byVertex.set(line.lineId, new Map(line.track.map((vertex) => [String(coordinate(vertex)), vertex.chainageM])));
  }
  return ({ id, properties, geometry }, [lon = 0, lat = 0]) => {
    if (typeof properties.elevation_m === 'number') return properties.elevation_m;
    const at = typeof properties.line === 'string' ? byName.get(properties.line) : undefined;
    if (!at) return null;
    if (geometry.type === 'MultiLineString') {
      const chainageM = byVertex.get(id)?.get(String([lon, lat]));
      return chainageM === undefined ? null : at(chainageM);
    }
    return geometry.type === 'Point' && typeof properties.chainage_m === 'number' ? at(properties.chainage_m) : null;
  };
}

function profileOf({ electrodes }: LineFindings): (chainageM: number) => number | null {
  const known = electrodes
    .flatMap(({ chainageM, elevationM }) =>
      chainageM === null || elevationM === null ? [] : [{ chainageM, elevationM }],
    )
    .sort((p, q) => p.chainageM - q.chainageM);
  return (chainageM) => {
    const after = known.findIndex((each) => each.chainageM >= chainageM);
    const q = known[after];
    if (!q) return null;
    if (q.chainageM === chainageM) return q.elevationM;
    const p = known[after - 1];
    if (!p) return null;
    const t = (chainageM - p.chainageM) / (q.chainageM - p.chainageM);
    return Math.round(100 * (p.elevationM + t * (q.elevationM - p.elevationM))) / 100;
  };
}
