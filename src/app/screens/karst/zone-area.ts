import type { Layers } from '../../../exchange/write/layer-collection';

/** The footprint of a zone as it is drawn: polygons of rings of longitude and latitude; empty where it has none. */
export function zoneArea(layers: Layers | null, key: string): number[][][][] {
  const geometry = layers?.zones.features.find(({ properties }) => properties.sid === key)?.geometry;
  if (geometry?.type === 'MultiPolygon') return geometry.coordinates;
  return geometry?.type === 'Polygon' ? [geometry.coordinates] : [];
}
