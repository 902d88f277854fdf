import type { Feature, FeatureCollection, Geometry, LineString, Point } from 'geojson';
import type { Layers } from '../exchange/write/layer-collection';
import { lanes } from './lanes';
import { type RampKey, rampKey, rampRank } from './ramp';
import { cutAtSharpCorners } from './sharp-corners';

/**
 * Everything of a survey that the map draws: the file layers, each feature with what drawing needs and no more. The map
 * carries every property into every tile, and looks up what a tap asks for elsewhere.
 */
export interface Picture {
  readonly lines: FeatureCollection;
  readonly line_starts: FeatureCollection;
  readonly controls: FeatureCollection;
  readonly electrodes: FeatureCollection;
  readonly midpoints: FeatureCollection;
  readonly segments: FeatureCollection;
  readonly corridors: FeatureCollection;
  readonly zones: FeatureCollection;
  /** Readings that are proposed next, with their rank. */
  readonly next_readings: FeatureCollection;
  readonly relief: FeatureCollection;
  readonly bounds: Bounds | null;
}

/** West, south, east, north in degrees; east is above 180 where the survey lies across that meridian. */
export type Bounds = readonly [number, number, number, number];

export const EMPTY_COLLECTION: FeatureCollection = { type: 'FeatureCollection', features: [] };

/** Contour lines whose height is a multiple of this many metres are drawn stronger and labelled. */
const INDEX_CONTOUR_M = 5;

/** Features are the layers' own; their properties are `sid` and what the style asks for. Pure. */
export function picture(layers: Layers, relief: FeatureCollection | null): Picture {
  return {
    lines: thinned(layers.lines, NAMED),
    line_starts: lineStarts(layers.lines),
    controls: thinned(layers.controls, NAMED),
    electrodes: thinned(layers.electrodes, ['sid', 'role', 'chainage_m']),
    midpoints: thinned(layers.midpoints, ['sid', 'spacing_m']),
    segments: besideEachOther(layers.segments),
    corridors: thinned(layers.corridors, NAMED),
    zones: thinned(layers.zones, ['sid', 'name', 'verdict', 'figure_kind']),
    next_readings: byPlace(layers.next_readings),
    relief: relief ? indexContours(relief) : EMPTY_COLLECTION,
    bounds: boundsOf([layers.lines]),
  };
}

/** Readings proposed at one place share a mark, which has all their ranks. */
function byPlace(collection: FeatureCollection): FeatureCollection {
  const places = new Map<string, Feature>();
  for (const { geometry, properties } of collection.features) {
    const key = JSON.stringify(geometry);
    const before = places.get(key)?.properties?.ranks;
    const ranks = before ? `${before}, ${properties?.rank}` : String(properties?.rank);
    places.set(key, { type: 'Feature', geometry, properties: { sid: properties?.sid, ranks } });
  }
  return { type: 'FeatureCollection', features: [...places.values()] };
}

const NAMED = ['sid'] as const;

/** What was drawn of a feature of the layers, by that feature: an edit leaves most of them as they were. */
const drawnOf = new WeakMap<Feature, { readonly lane: number | null; readonly drawn: readonly Feature[] }>();

function thinned(collection: FeatureCollection, kept: readonly string[]): FeatureCollection {
  const features = collection.features.flatMap((feature): readonly Feature[] => {
    const known = drawnOf.get(feature);
    if (known) return known.drawn;
    const drawn = [{ type: 'Feature' as const, properties: only(feature, kept), geometry: feature.geometry }];
    drawnOf.set(feature, { lane: null, drawn });
    return drawn;
  });
  return { type: 'FeatureCollection', features };
}

/** The map has no use for a property that is null. */
function only({ properties }: Feature, kept: readonly string[]): Record<string, unknown> {
  const said: Record<string, unknown> = {};
  for (const name of kept) {
    const value = properties?.[name];
    if (value !== null && value !== undefined) said[name] = value;
  }
  return said;
}

function besideEachOther(collection: FeatureCollection): FeatureCollection {
  const lane = lanes(
    collection.features.map(({ properties }) => ({
      line: String(properties?.line),
      spacingM: typeof properties?.spacing_m === 'number' ? properties.spacing_m : null,
    })),
  );
  const strokes = collection.features.flatMap((feature, i) => stroke(feature, lane[i] ?? 0));
  // The map draws in this order: what asks for attention lies on top.
  const ranked: Feature[][] = [];
  for (const each of strokes) {
    const rank = rampRank(each.properties?.ramp as RampKey);
    const same = ranked[rank];
    if (same) same.push(each);
    else ranked[rank] = [each];
  }
  return { type: 'FeatureCollection', features: ranked.flat() };
}

/** A stroke with its place on the ramp, beside its neighbours. */
function stroke(feature: Feature, lane: number): readonly Feature[] {
  const known = drawnOf.get(feature);
  if (known && known.lane === lane) return known.drawn;
  const key = rampKey(feature.properties ?? {});
  const properties = {
    ...only(feature, ['sid', 'spacing_m']),
    ramp: key,
    lane,
    // A flag only where it is set: most strokes are none.
    ...(feature.properties?.figure_kind === 'two_probe' ? { hint: true } : {}),
  };
  const { geometry } = feature;
  const pieces = geometry.type === 'LineString' ? cutAtSharpCorners(geometry.coordinates) : [];
  const drawn =
    pieces.length > 1
      ? pieces.map(
          (coordinates): Feature<LineString> => ({
            type: 'Feature',
            properties,
            geometry: { type: 'LineString', coordinates },
          }),
        )
      : [{ type: 'Feature' as const, properties, geometry }];
  drawnOf.set(feature, { lane, drawn });
  return drawn;
}

const startOf = new WeakMap<Feature, readonly Feature<Point>[]>();

function lineStarts(lines: FeatureCollection): FeatureCollection {
  const features = lines.features.flatMap((feature): readonly Feature<Point>[] => {
    const known = startOf.get(feature);
    if (known) return known;
    const first = firstPlace(feature.geometry);
    const properties = { sid: feature.properties?.sid, line: feature.properties?.line };
    const start: Feature<Point>[] = first
      ? [{ type: 'Feature', properties, geometry: { type: 'Point', coordinates: first } }]
      : [];
    startOf.set(feature, start);
    return start;
  });
  return { type: 'FeatureCollection', features };
}

function firstPlace(geometry: Geometry): number[] | null {
  if (geometry.type === 'MultiLineString') return geometry.coordinates[0]?.[0] ?? null;
  if (geometry.type === 'LineString') return geometry.coordinates[0] ?? null;
  return null;
}

function indexContours(relief: FeatureCollection): FeatureCollection {
  return {
    type: 'FeatureCollection',
    features: relief.features.map((feature) => {
      const height = Number(feature.properties?.elevation_m);
      const isIndex = Math.abs(height / INDEX_CONTOUR_M - Math.round(height / INDEX_CONTOUR_M)) < 1e-6;
      const label = `${Number(height.toFixed(1))} m`;
      return { ...feature, properties: { ...feature.properties, index: isIndex, label } };
    }),
  };
}

/** Bounds of every position, going the short way round. Null when there is none. */
export function boundsOf(collections: readonly FeatureCollection[]): Bounds | null {
  return around(positions(collections));
}

function around(all: Iterable<readonly [number, number]>): Bounds | null {
  let bounds: [number, number, number, number] | null = null;
  for (const [lon, lat] of all) {
    if (!bounds) {
      bounds = [lon, lat, lon, lat];
      continue;
    }
    const near: number = lon - 360 * Math.round((lon - bounds[0]) / 360);
    bounds = [Math.min(bounds[0], near), Math.min(bounds[1], lat), Math.max(bounds[2], near), Math.max(bounds[3], lat)];
  }
  return bounds;
}

/** Bounds of places, going the short way round. Null when there is none. */
export const boundsOfPlaces = (places: readonly { readonly lon: number; readonly lat: number }[]): Bounds | null =>
  around(places.map(({ lon, lat }) => [lon, lat] as const));

function* positions(collections: readonly FeatureCollection[]): Generator<readonly [number, number]> {
  for (const { features } of collections) {
    for (const { geometry } of features) {
      if (geometry && 'coordinates' in geometry) yield* places(geometry.coordinates);
    }
  }
}

type Nested = number[] | Nested[];

function* places(nested: Nested): Generator<readonly [number, number]> {
  const [first, second] = nested;
  if (typeof first === 'number') {
    if (typeof second === 'number') yield [first, second];
    return;
  }
  for (const inner of nested) {
    if (typeof inner !== 'number') yield* places(inner);
  }
}
