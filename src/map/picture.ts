import type { Feature, FeatureCollection, Geometry, LineString, Point } from 'geojson';
import type { Layers } from '../exchange/write/layer-collection';
import { lanes } from './lanes';
import { rampKey, rampRank } from './ramp';
import { cutAtSharpCorners } from './sharp-corners';

/** Everything of a survey that the map draws: the file layers, with what only drawing needs added to each feature. */
export interface Picture {
  readonly lines: FeatureCollection;
  readonly line_starts: FeatureCollection;
  readonly controls: FeatureCollection;
  readonly electrodes: FeatureCollection;
  readonly midpoints: FeatureCollection;
  readonly segments: FeatureCollection;
  readonly corridors: FeatureCollection;
  readonly relief: FeatureCollection;
  readonly bounds: Bounds | null;
}

/** West, south, east, north in degrees; east is above 180 where the survey lies across that meridian. */
export type Bounds = readonly [number, number, number, number];

export const EMPTY_COLLECTION: FeatureCollection = { type: 'FeatureCollection', features: [] };

/** Contour lines whose height is a multiple of this many metres are drawn stronger and labelled. */
const INDEX_CONTOUR_M = 5;

/** Features keep their properties; `ramp`, `rank`, `lane` and the like are added for the style. Pure. */
export function picture(layers: Layers, relief: FeatureCollection | null): Picture {
  return {
    lines: layers.lines,
    line_starts: lineStarts(layers.lines),
    controls: layers.controls,
    electrodes: layers.electrodes,
    midpoints: graded(layers.midpoints),
    segments: besideEachOther(layers.segments),
    corridors: layers.corridors,
    relief: relief ? indexContours(relief) : EMPTY_COLLECTION,
    bounds: boundsOf([layers.lines, layers.midpoints]),
  };
}

function withProperties<G extends Geometry>(feature: Feature<G>, added: Record<string, unknown>): Feature<G> {
  return { ...feature, properties: { ...feature.properties, ...added } };
}

/** What was drawn of a feature of the layers, by that feature: an edit leaves most of them as they were. */
const drawnOf = new WeakMap<Feature, { readonly lane: number | null; readonly drawn: readonly Feature[] }>();

function graded(collection: FeatureCollection): FeatureCollection {
  return { type: 'FeatureCollection', features: collection.features.flatMap((feature) => drawn(feature, null)) };
}

function besideEachOther(collection: FeatureCollection): FeatureCollection {
  const lane = lanes(
    collection.features.map(({ properties }) => ({
      line: String(properties?.line),
      spacingM: typeof properties?.spacing_m === 'number' ? properties.spacing_m : null,
    })),
  );
  return {
    type: 'FeatureCollection',
    features: collection.features.flatMap((feature, i) => drawn(feature, lane[i] ?? 0)),
  };
}

/** A feature with its place on the ramp, and beside its neighbours where it has a lane. */
function drawn(feature: Feature, lane: number | null): readonly Feature[] {
  const known = drawnOf.get(feature);
  if (known && known.lane === lane) return known.drawn;
  const key = rampKey(feature.properties ?? {});
  const made = withProperties(feature, { ramp: key, rank: rampRank(key), ...(lane === null ? {} : { lane }) });
  const { geometry } = made;
  const pieces =
    lane !== null && geometry.type === 'LineString'
      ? cutAtSharpCorners(geometry.coordinates).map(
          (coordinates): Feature<LineString> => ({ ...made, geometry: { type: 'LineString', coordinates } }),
        )
      : [made];
  drawnOf.set(feature, { lane, drawn: pieces });
  return pieces;
}

function lineStarts(lines: FeatureCollection): FeatureCollection {
  const features = lines.features.flatMap((feature): Feature<Point>[] => {
    const first = firstPlace(feature.geometry);
    if (!first) return [];
    const properties = { sid: feature.properties?.sid, line: feature.properties?.line };
    return [{ type: 'Feature', properties, geometry: { type: 'Point', coordinates: first } }];
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
      return withProperties(feature, { index: isIndex, label: `${Number(height.toFixed(1))} m` });
    }),
  };
}

/** Bounds of every position, going the short way round. Null when there is none. */
export function boundsOf(collections: readonly FeatureCollection[]): Bounds | null {
  let bounds: [number, number, number, number] | null = null;
  for (const [lon, lat] of positions(collections)) {
    if (!bounds) {
      bounds = [lon, lat, lon, lat];
      continue;
    }
    const near: number = lon - 360 * Math.round((lon - bounds[0]) / 360);
    bounds = [Math.min(bounds[0], near), Math.min(bounds[1], lat), Math.max(bounds[2], near), Math.max(bounds[3], lat)];
  }
  return bounds;
}

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
