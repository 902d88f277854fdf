import { type PlacedFeature, placeFeature } from '../../src/karst/placed';
import { makeId } from '../../src/survey/ids';
import type { Feature } from '../../src/survey/survey';

/** A feature at a point, sure to 3 m, with whatever else is said. */
export function madeFeature(key: string, lon: number, lat: number, said: Partial<Feature> = {}): Feature {
  return {
    id: makeId('feature', 'made', key),
    revised: { at: null, by: null, count: 0 },
    type: 'sinkhole_unknown',
    status: 'reported',
    shape: 'point',
    positions: [{ x: lon, y: lat, crs: 'EPSG:4326', accuracy_m: 3, accuracy_level: 95 }],
    ...said,
  };
}

export function placed(feature: Feature): PlacedFeature {
  const result = placeFeature(feature, []);
  if ('sentence' in result) throw new Error(result.sentence);
  return result;
}

/** An area of these corners. */
export const madeArea = (
  key: string,
  corners: readonly (readonly [number, number])[],
  said: Partial<Feature> = {},
): Feature =>
  madeFeature(key, 0, 0, {
    shape: 'area',
    positions: corners.map(([x, y]) => ({ x, y, crs: 'EPSG:4326', accuracy_m: 3, accuracy_level: 95 })),
    ...said,
  });
