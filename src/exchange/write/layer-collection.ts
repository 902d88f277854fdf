import type { Feature, FeatureCollection, Geometry } from 'geojson';
import type { ElectrodeFinding, LineFindings } from '../../findings';
import { rounded } from './coordinate';
import { layerBounds } from './layer-bounds';

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
  const bounds = layerBounds();
  for (const feature of features) bounds.add(feature);
  const bbox = bounds.bbox();
  return { type: 'FeatureCollection', ...(bbox ? { bbox } : {}), features };
}
