import { accuracyOf, radius95M } from '../position/accuracy';
import { type LonLat, toLonLat } from '../position/crs';
import type { Feature, LocalGrid } from '../survey/survey';

/** A feature with its place in longitude and latitude. */
export interface PlacedFeature {
  readonly feature: Feature;
  /** The point; the middle of a line by its length; the centroid of an area. */
  readonly place: LonLat;
  /** Parts of a line, rings of an area (closed), or one part of one point. */
  readonly parts: readonly { readonly hole: boolean; readonly places: readonly LonLat[] }[];
  /** 95 % radius of its place, m: the largest of its positions. */
  readonly r95M: number;
  /** Whether anybody said how sure the place is; else 10 m are taken, as for every fix. */
  readonly accuracySaid: boolean;
}

export interface UnplacedFeature {
  readonly feature: Feature;
  readonly sentence: string;
}

/** What is wrong with the shape of a feature; null when it is right. */
export function featureShapeFault({
  shape,
  positions,
  parts,
}: Pick<Feature, 'shape' | 'positions' | 'parts'>): string | null {
  if (positions.some(({ x, y }) => !Number.isFinite(x) || !Number.isFinite(y))) return 'A coordinate is not a number.';
  if (shape === 'point') return positions.length === 1 ? null : 'A point has exactly one position.';
  const starts = parts?.length ? parts.map(({ from }) => from) : [0];
  const least = shape === 'line' ? 2 : 3;
  const lengths = starts.map((from, i) => (starts[i + 1] ?? positions.length) - from);
  if (starts[0] !== 0 || lengths.some((length) => length < least)) {
    return shape === 'line'
      ? 'Each part of a line needs two positions.'
      : 'Each ring of an area needs three positions.';
  }
  return null;
}

/** Places features; those that cannot be are told with the reason. Retired ones are left out. */
export function placeFeatures(
  features: readonly Feature[],
  grids: readonly LocalGrid[],
): { readonly placed: PlacedFeature[]; readonly unplaced: UnplacedFeature[] } {
  const placed: PlacedFeature[] = [];
  const unplaced: UnplacedFeature[] = [];
  for (const feature of features) {
    if (feature.retired) continue;
    const result = placeFeature(feature, grids);
    if ('sentence' in result) unplaced.push(result);
    else placed.push(result);
  }
  return { placed, unplaced };
}

export function placeFeature(feature: Feature, grids: readonly LocalGrid[]): PlacedFeature | UnplacedFeature {
  const { positions, shape } = feature;
  const fault = featureShapeFault(feature);
  if (fault !== null) return { feature, sentence: fault };
  const places: LonLat[] = [];
  let r95M = 0;
  let accuracySaid = true;
  for (const position of positions) {
    const lonLat = toLonLat(position, grids);
    if (!lonLat.ok) return { feature, sentence: lonLat.sentence };
    places.push(lonLat.value);
    const { sigmaM, said } = accuracyOf(position);
    r95M = Math.max(r95M, radius95M(sigmaM));
    accuracySaid &&= said;
  }
  if (shape === 'point') {
    return { feature, place: places[0] as LonLat, parts: [{ hole: false, places }], r95M, accuracySaid };
  }
  const starts = feature.parts?.length ? feature.parts : [{ from: 0 }];
  const parts = starts.map((part, i) => {
    const own = places.slice(part.from, starts[i + 1]?.from ?? places.length);
    const [first, last] = [own[0] as LonLat, own[own.length - 1] as LonLat];
    const closed = first.lon === last.lon && first.lat === last.lat;
    return {
      hole: ('hole' in part && part.hole) === true,
      places: shape === 'area' && !closed ? [...own, first] : own,
    };
  });
  return { feature, place: shape === 'line' ? middleOf(parts) : centroidOf(parts), parts, r95M, accuracySaid };
}

type Parts = PlacedFeature['parts'];

/** Degrees as metres of a small plane up to one factor; longitudes on one side of the first. */
function flattened(parts: Parts): {
  readonly origin: LonLat;
  readonly shrink: number;
  readonly xy: (place: LonLat) => readonly [number, number];
} {
  const origin = parts[0]?.places[0] as LonLat;
  const shrink = Math.cos((origin.lat * Math.PI) / 180);
  return {
    origin,
    shrink,
    xy: ({ lon, lat }) => [(((lon - origin.lon + 540) % 360) - 180) * shrink, lat - origin.lat],
  };
}

function back({ origin, shrink }: { readonly origin: LonLat; readonly shrink: number }, x: number, y: number): LonLat {
  const lon = origin.lon + (shrink > 0 ? x / shrink : 0);
  return { lon: lon - 360 * Math.round(lon / 360), lat: origin.lat + y };
}

function middleOf(parts: Parts): LonLat {
  const flat = flattened(parts);
  const legs = parts.flatMap(({ places }) =>
    places.slice(1).map((place, i) => {
      const [px, py] = flat.xy(places[i] as LonLat);
      const [qx, qy] = flat.xy(place);
      return { px, py, qx, qy, length: Math.hypot(qx - px, qy - py) };
    }),
  );
  let left = legs.reduce((sum, { length }) => sum + length, 0) / 2;
  for (const { px, py, qx, qy, length } of legs) {
    if (left <= length && length > 0)
      return back(flat, px + ((qx - px) * left) / length, py + ((qy - py) * left) / length);
    left -= length;
  }
  return flat.origin;
}

function centroidOf(parts: Parts): LonLat {
  const flat = flattened(parts);
  let [sum, sx, sy] = [0, 0, 0];
  for (const { hole, places } of parts) {
    let [area, ax, ay] = [0, 0, 0];
    for (let i = 1; i < places.length; i += 1) {
      const [px, py] = flat.xy(places[i - 1] as LonLat);
      const [qx, qy] = flat.xy(places[i] as LonLat);
      const cross = px * qy - qx * py;
      area += cross;
      ax += (px + qx) * cross;
      ay += (py + qy) * cross;
    }
    // Whatever way a ring runs, a hole takes away.
    const sign = area < 0 !== hole ? -1 : 1;
    sum += sign * area;
    sx += sign * ax;
    sy += sign * ay;
  }
  return sum !== 0 ? back(flat, sx / (3 * sum), sy / (3 * sum)) : flat.origin;
}
