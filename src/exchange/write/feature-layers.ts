import type { Geometry, Position } from 'geojson';
import type { Disclosed } from '../../discretion/disclose';
import { accuracyOf, radius95M } from '../../position/accuracy';
import { type LonLat, toLonLat } from '../../position/crs';
import type { Feature } from '../../survey/survey';
import { coordinate, rounded } from './coordinate';
import { collectionOf, type Layer, type LayerFeature, type LayerValue } from './layer-collection';

/*
 * Layers of karst features: points, lines and areas, one kind of geometry each, and the user's setbacks.
 */

export interface FeatureLayers {
  readonly feature_points: Layer;
  readonly feature_lines: Layer;
  readonly feature_areas: Layer;
}

/** A setback as it is written: rings in longitude and latitude, wound and cut by whoever made it. */
export interface SetbackArea {
  readonly rule: {
    readonly type: string;
    readonly distance_m: number;
    readonly from: string;
    readonly with_uncertainty: boolean;
    readonly cites?: string | null | undefined;
  };
  readonly features: readonly string[];
  readonly coordinates: readonly (readonly (readonly (readonly [lon: number, lat: number])[])[])[];
}

/** Every feature that stands and has a place. Rejected ones are written too, with their status. */
export function featureLayers({ survey }: Disclosed): FeatureLayers {
  const layers: Record<Feature['shape'], LayerFeature[]> = { point: [], line: [], area: [] };
  for (const feature of survey.features) {
    if (feature.retired) continue;
    const geometry = geometryOf(feature, survey.site.local_grids);
    if (geometry)
      layers[feature.shape].push({ type: 'Feature', id: feature.id, properties: propertiesOf(feature), geometry });
  }
  return {
    feature_points: collectionOf(layers.point),
    feature_lines: collectionOf(layers.line),
    feature_areas: collectionOf(layers.area),
  };
}

/** Setbacks as areas, each with its rule and what it cites. `_disclosed` is asked for as a pledge: they show where features are. */
export function setbackLayer(disclosed: Disclosed, areas: Iterable<SetbackArea>): Layer {
  return collectionOf([...setbackFeatures(disclosed, areas)]);
}

/** The same one by one. */
export function* setbackFeatures(_disclosed: Disclosed, areas: Iterable<SetbackArea>): Generator<LayerFeature> {
  for (const { rule, features, coordinates } of areas) {
    const polygons = coordinates.map((rings) => rings.map(written)).filter(([outer]) => (outer?.length ?? 0) >= 4);
    if (polygons.length === 0) continue;
    const sid = `setback:${rule.type}:${features[0] ?? ''}`;
    yield {
      type: 'Feature',
      id: sid,
      properties: {
        sid,
        type: rule.type,
        distance_m: rule.distance_m,
        measured_from: rule.from,
        with_uncertainty: rule.with_uncertainty ? 'yes' : 'no',
        cites: rule.cites ?? null,
        features: features.join(';'),
      },
      geometry: { type: 'MultiPolygon', coordinates: polygons },
    };
  }
}

function propertiesOf(feature: Feature): Record<string, LayerValue> {
  const r95 = Math.max(...feature.positions.map((position) => radius95M(accuracyOf(position).sigmaM)));
  return {
    sid: feature.id,
    type: feature.type,
    name: feature.name ?? null,
    status: feature.status,
    length_m: feature.length_m ?? null,
    width_m: feature.width_m ?? null,
    depth_m: feature.depth_m ?? null,
    long_axis_deg: feature.long_axis_deg ?? null,
    water: feature.water ?? null,
    external_id: feature.external_id ?? null,
    source: feature.source ?? null,
    confidentiality: feature.confidentiality ?? null,
    observed_at: feature.observed_at ?? null,
    position_uncertainty_95_m: Number(r95.toFixed(2)),
    generalised_grid_m: feature.generalised_grid_m ?? null,
    note: feature.note ?? null,
  };
}

function geometryOf(feature: Feature, grids: Parameters<typeof toLonLat>[1]): Geometry | null {
  const places: LonLat[] = [];
  for (const position of feature.positions) {
    const place = toLonLat(position, grids);
    if (!place.ok) return null;
    places.push(place.value);
  }
  const [first] = places;
  if (!first) return null;
  if (feature.shape === 'point') return { type: 'Point', coordinates: [...coordinate(first)] };
  const starts = feature.parts?.length ? feature.parts : [{ from: 0 }];
  const parts = starts.map((part, i) => ({
    hole: 'hole' in part && part.hole === true,
    ring: written(
      places.slice(part.from, starts[i + 1]?.from ?? places.length).map(({ lon, lat }) => [lon, lat] as const),
    ),
  }));
  if (feature.shape === 'line') {
    const lines = parts.map(({ ring }) => ring).filter((ring) => ring.length >= 2);
    return lines.length > 0 ? { type: 'MultiLineString', coordinates: lines } : null;
  }
  const polygons: Position[][][] = [];
  for (const { hole, ring } of parts) {
    const [start, end] = [ring[0], ring[ring.length - 1]];
    const closed = start && (start[0] !== end?.[0] || start[1] !== end?.[1]) ? [...ring, start] : ring;
    if (closed.length < 4) continue;
    const isCounterClockwise = signedArea(closed) > 0;
    const wound = isCounterClockwise === hole ? [...closed].reverse() : closed;
    const last = polygons[polygons.length - 1];
    if (hole && last) last.push(wound);
    else polygons.push([wound]);
  }
  return polygons.length > 0 ? { type: 'MultiPolygon', coordinates: polygons } : null;
}

/** Coordinates as they are written, none twice in a row. */
const written = (ring: readonly (readonly [lon: number, lat: number])[]): Position[] =>
  ring
    .map(([lon, lat]): Position => [rounded(lon), rounded(lat)])
    .filter(([lon, lat], i, all) => i === 0 || lon !== all[i - 1]?.[0] || lat !== all[i - 1]?.[1]);

function signedArea(ring: readonly Position[]): number {
  let sum = 0;
  for (let i = 1; i < ring.length; i += 1) {
    const [px = 0, py = 0] = ring[i - 1] as Position;
    const [qx = 0, qy = 0] = ring[i] as Position;
    sum += px * qy - qx * py;
  }
  return sum;
}
