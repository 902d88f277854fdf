import { plainDecimal } from './csv';
import type { LayerFeature } from './layer-collection';
import { xmlText } from './written-text';

/*
 * GPX 1.1 waypoints: places to be walked to with a receiver.
 */

/** The schema leaves 180° east out. */
const longitude = (lon: number): string => plainDecimal(lon === 180 ? -180 : lon);

/** A GPX document of points, in pieces; `madeAt` is ISO 8601. Children of a waypoint stand in the order of the schema. */
export function* gpxPieces(title: string, points: Iterable<LayerFeature>, madeAt: string): Generator<string> {
  yield `<?xml version="1.0" encoding="UTF-8"?>\n<gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1" creator="Hollowline">\n`;
  yield `<metadata><name>${xmlText(title)}</name><time>${new Date(madeAt).toISOString()}</time></metadata>\n`;
  for (const point of points) yield waypoint(point);
  yield '</gpx>\n';
}

function waypoint({ geometry, properties }: LayerFeature): string {
  if (geometry.type !== 'Point') return '';
  const [lon = 0, lat = 0] = geometry.coordinates;
  const { elevation_m: heightM, line, chainage_m: chainageM, role, kind, meaning, sid } = properties;
  const at = typeof chainageM === 'number' ? `${plainDecimal(chainageM)} m` : 'remote';
  const ele = typeof heightM === 'number' ? `<ele>${plainDecimal(heightM)}</ele>` : '';
  const type = role ?? (kind === undefined ? null : `next reading: ${String(kind).replaceAll('_', ' ')}`);
  return [
    `<wpt lat="${plainDecimal(lat)}" lon="${longitude(lon)}">${ele}<name>${xmlText(`${line ?? ''} ${at}`.trim())}</name>`,
    typeof meaning === 'string' ? `<desc>${xmlText(meaning)}</desc>` : '',
    `<src>${xmlText(String(sid))}</src>`,
    type === null || type === undefined ? '' : `<type>${xmlText(String(type))}</type>`,
    '</wpt>\n',
  ].join('');
}
