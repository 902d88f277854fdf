import type { Geometry } from 'geojson';
import type { LayerFeature, LayerValue } from './layer-collection';

const POWERS = [1, 10, 100, 1000, 10_000] as const;

/** A number as it is written: so many places and no more, null for what is missing. */
export function decimals(value: number | null, places: 1 | 2 | 3 | 4): number | null {
  // + 0 makes a −0 of rounding a plain 0.
  return value === null ? null : Math.round(value * POWERS[places]) / POWERS[places] + 0;
}

/** A feature of a layer: its `id` at the top and again as `sid`. */
export function feature(sid: string, geometry: Geometry, properties: Record<string, LayerValue>): LayerFeature {
  return { type: 'Feature', id: sid, properties: { sid, ...properties }, geometry };
}
