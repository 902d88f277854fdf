import type { BBox, Feature, FeatureCollection, Geometry, Position } from 'geojson';
import type { ElectrodeFinding, LineFindings } from '../../findings';
import { rounded } from './coordinate';

export const LAYER_NAMES = [
  'lines',
  'controls',
  'electrodes',
  'midpoints',
  'segments',
  'corridors',
  'zones',
  'next_readings',
] as const;
export type LayerName = (typeof LAYER_NAMES)[number];
/** Layers that a map shows at any zoom, and those that it shows only from near. */
export const DRAWN = {
  far: ['lines', 'controls', 'segments', 'corridors', 'zones', 'next_readings'],
  near: ['electrodes', 'midpoints'],
} as const satisfies Record<string, readonly LayerName[]>;
export type Distance = keyof typeof DRAWN;

export type Drape = 'midpoint' | 'probes';

export type LayerValue = string | number | null;
export type LayerFeature = Feature<Geometry, Record<string, LayerValue>> & { id: string };
export type Layer = FeatureCollection<Geometry, Record<string, LayerValue>>;
export type Layers = Record<LayerName, Layer>;

/** The `sid` of a segment: its midpoint's, how it is laid, and its part. */
export const strokeSid = (midpointSid: string, drape: Drape, part: number): string => `${midpointSid}:${drape}:${part}`;

/** The `sid` of the midpoint that a segment stands for; that of a midpoint is its own. */
export const midpointSidOf = (sid: string): string => sid.replace(/:(?:midpoint|probes):\d+$/, '');

/** The `sid` of an electrode in its layer. */
export function electrodeSid({ lineId }: LineFindings, electrode: ElectrodeFinding): string {
  const { role, remoteRole, chainageM, lon, lat } = electrode;
  // Two days may have their remotes at different places.
  const which =
    remoteRole === null ? Math.round((chainageM ?? 0) * 1000) : `${remoteRole}:${rounded(lon)}:${rounded(lat)}`;
  return `${lineId}:${role}:${which}`;
}

/** The features of one line, layer by layer. */
export type LineLayers = Readonly<Record<LayerName, readonly LayerFeature[]>>;

/** A part without anything in it. */
export const NO_FEATURES = Object.fromEntries(LAYER_NAMES.map((name) => [name, []])) as unknown as LineLayers;

/** Layers of the parts of all lines, in the order of the lines. */
export function joinLayers(parts: readonly LineLayers[]): Layers {
  return Object.fromEntries(
    LAYER_NAMES.map((name) => [name, collectionOf(parts.flatMap((part) => part[name]))]),
  ) as Layers;
}

/** A layer of these features with its bbox. */
export function collectionOf(features: LayerFeature[]): Layer {
  const bbox = bboxOf(features);
  return { type: 'FeatureCollection', ...(bbox ? { bbox } : {}), features };
}

/** West, south, east, north (RFC 7946, 5); west > east where the layer crosses 180°. */
function bboxOf(features: readonly LayerFeature[]): BBox | null {
  let south = Infinity;
  let north = -Infinity;
  // Bounds of the longitudes in −180…180 and of the same turned to 0…360: the narrower of the two is the layer's.
  let west = Infinity;
  let east = -Infinity;
  let westTurned = Infinity;
  let eastTurned = -Infinity;
  for (const { geometry } of features) {
    eachPosition(geometry, ([lon = 0, lat = 0]) => {
      const turned = lon < 0 ? lon + 360 : lon;
      south = Math.min(south, lat);
      north = Math.max(north, lat);
      west = Math.min(west, lon);
      east = Math.max(east, lon);
      westTurned = Math.min(westTurned, turned);
      eastTurned = Math.max(eastTurned, turned);
    });
  }
  if (west > east) return null;
  if (east - west <= eastTurned - westTurned) return [west, south, east, north];
  const back = (turned: number): number => Number((turned > 180 ? turned - 360 : turned).toFixed(7));
  return [back(westTurned), south, back(eastTurned), north];
}

function eachPosition(geometry: Geometry, visit: (position: Position) => void): void {
  switch (geometry.type) {
    case 'Point':
      visit(geometry.coordinates);
      break;
    case 'LineString':
      for (const position of geometry.coordinates) visit(position);
      break;
    case 'MultiLineString':
      for (const position of geometry.coordinates.flat()) visit(position);
      break;
    case 'MultiPolygon':
      for (const position of geometry.coordinates.flat(2)) visit(position);
      break;
    default:
      throw new Error(`no layer holds a ${geometry.type}`);
  }
}
