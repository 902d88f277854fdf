import { intersect } from '@turf/intersect';
import type { FeatureCollection, MultiPolygon, Polygon, Position, Feature as Shape } from 'geojson';
import { type LonLat, localPlane, type Plane } from '../position/crs';
import { joinAreas } from '../position/join-areas';
import type { FeatureId } from '../survey/ids';
import type { PlacedFeature } from './placed';
import { ruleFor, type SetbackRule } from './setback-rules';

/** Ground that a rule keeps clear, joined where it overlaps. */
export interface Setback {
  readonly rule: SetbackRule;
  readonly features: readonly FeatureId[];
  /** Polygons of rings, outer ones counter-clockwise, holes clockwise, cut at 180°. */
  readonly coordinates: readonly (readonly (readonly (readonly [lon: number, lat: number])[])[])[];
}

export interface Setbacks {
  readonly setbacks: readonly Setback[];
  /** Features that no rule speaks of. */
  readonly withoutRule: readonly FeatureId[];
}

/** A circle is drawn round, never into, the distance: at most 0.5 % too far out at a corner. */
const ROUND_CORNERS = 32;
const SNAP_M = 0.001;
const LEAST_AREA_M2 = 0.01;
type Ring = (readonly [x: number, y: number])[];

/**
 * Buffers of features by the user's rules, measured on the ground in a transverse Mercator plane about each feature
 * (scale 1). Those of one rule that overlap are one area.
 */
export function setbacksOf(features: readonly PlacedFeature[], rules: readonly SetbackRule[]): Setbacks {
  const { areas, withoutRule } = setbackAreas(features, rules);
  return { setbacks: [...areas], withoutRule };
}

/** The same, each area made when it is asked for: many of them need not stand in memory together. */
export function setbackAreas(
  features: readonly PlacedFeature[],
  rules: readonly SetbackRule[],
): { readonly areas: Iterable<Setback>; readonly withoutRule: readonly FeatureId[] } {
  const byRule = new Map<SetbackRule, PlacedFeature[]>();
  const withoutRule: FeatureId[] = [];
  for (const placed of features) {
    const rule = ruleFor(rules, placed.feature.type);
    if (!rule) withoutRule.push(placed.feature.id);
    else {
      const list = byRule.get(rule);
      if (list) list.push(placed);
      else byRule.set(rule, [placed]);
    }
  }
  return { areas: areasOf(byRule), withoutRule };
}

function* areasOf(byRule: ReadonlyMap<SetbackRule, readonly PlacedFeature[]>): Generator<Setback> {
  for (const [rule, members] of byRule) {
    const reaching = members.filter((placed) => radiusOf(placed, rule) > 0 || isKeptWhole(placed, rule));
    for (const group of groupsOf(reaching, rule)) {
      yield { rule, features: group.map(({ feature }) => feature.id).sort(), coordinates: joined(group, rule) };
    }
  }
}

/** Distance in metres that a feature's own place or edge is widened by. */
export function radiusOf({ feature, r95M }: PlacedFeature, rule: SetbackRule): number {
  // A point knows its edge by the extent that was written down.
  const ownM =
    rule.from === 'point' || feature.shape !== 'point' ? 0 : Math.max(feature.length_m ?? 0, feature.width_m ?? 0) / 2;
  return rule.distance_m + ownM + (rule.with_uncertainty ? r95M : 0);
}

const isKeptWhole = ({ feature }: PlacedFeature, { from }: SetbackRule): boolean =>
  feature.shape === 'area' && from !== 'point';

/** Rings in a plane that together are the buffer of one feature. */
function ringsOf(placed: PlacedFeature, rule: SetbackRule, plane: Plane): readonly Shape<Polygon>[] {
  const radius = radiusOf(placed, rule);
  if (rule.from === 'point' || placed.feature.shape === 'point') {
    return [polygon([disc(placed.place, radius, ROUND_CORNERS, plane)])];
  }
  const shapes: Shape<Polygon>[] = [];
  const local = localPlane(placed.place.lon, placed.place.lat);
  const toShared = ([x, y]: readonly [number, number]): readonly [number, number] => {
    const { lon, lat } = local.toLonLat(x, y);
    return plane.toPlane(lon, lat);
  };
  for (const { places } of placed.parts) {
    const points = places.map(({ lon, lat }) => local.toPlane(lon, lat));
    points.forEach(([qx, qy], i) => {
      if (radius === 0) return;
      const before = points[i - 1];
      const isClosing = placed.feature.shape === 'area' && i === points.length - 1;
      if (!isClosing) shapes.push(polygon([circle(qx, qy, radius, ROUND_CORNERS).map(toShared)]));
      if (!before) return;
      const [px, py] = before;
      const length = Math.hypot(qx - px, qy - py);
      if (length < SNAP_M) return;
      const [nx, ny] = [(-(qy - py) / length) * radius, ((qx - px) / length) * radius];
      const strip: Ring = [
        [px - nx, py - ny],
        [qx - nx, qy - ny],
        [qx + nx, qy + ny],
        [px + nx, py + ny],
      ];
      shapes.push(polygon([strip.map(toShared)]));
    });
  }
  return placed.feature.shape === 'area' ? [...shapes, ...insides(placed, plane)] : shapes;
}

/** The area itself, with its holes: outer rings each with the holes that follow it. */
function insides({ parts }: PlacedFeature, plane: Plane): readonly Shape<Polygon>[] {
  const polygons: Ring[][] = [];
  for (const { hole, places } of parts) {
    const ring = places.map(({ lon, lat }) => plane.toPlane(lon, lat));
    const last = polygons[polygons.length - 1];
    if (hole && last) last.push(ring);
    else polygons.push([ring]);
  }
  return polygons.map(polygon);
}

const circle = (x: number, y: number, radius: number, corners: number): Ring => {
  const around = radius / Math.cos(Math.PI / corners);
  return Array.from({ length: corners }, (_, k) => {
    const angle = (2 * Math.PI * k) / corners;
    return [x + around * Math.cos(angle), y + around * Math.sin(angle)] as const;
  });
};

/** A circle on the ground about a place, in another plane. */
function disc(place: LonLat, radius: number, corners: number, plane: Plane): Ring {
  const local = localPlane(place.lon, place.lat);
  return circle(0, 0, radius, corners).map(([x, y]) => {
    const { lon, lat } = local.toLonLat(x, y);
    return plane.toPlane(lon, lat);
  });
}

function polygon(rings: readonly (readonly (readonly [number, number])[])[]): Shape<Polygon> {
  const coordinates = rings.map((ring) => {
    const snapped = ring.map(([x, y]): Position => [Math.round(x / SNAP_M) * SNAP_M, Math.round(y / SNAP_M) * SNAP_M]);
    const [first, last] = [snapped[0] as Position, snapped[snapped.length - 1] as Position];
    return first[0] === last[0] && first[1] === last[1] ? snapped : [...snapped, first];
  });
  return { type: 'Feature', properties: {}, geometry: { type: 'Polygon', coordinates } };
}

const polygonsOf = ({ geometry }: Shape<Polygon | MultiPolygon>): Position[][][] =>
  geometry.type === 'Polygon' ? [geometry.coordinates] : geometry.coordinates;

function joined(group: readonly PlacedFeature[], rule: SetbackRule): Setback['coordinates'] {
  const [first] = group as readonly [PlacedFeature, ...PlacedFeature[]];
  const { lon, lat } = first.place;
  const plane = localPlane(lon, lat);
  // Most points stand alone, about the middle of their own plane.
  const isLone = group.length === 1 && (rule.from === 'point' || first.feature.shape === 'point');
  const shapes = isLone
    ? [polygon([circle(0, 0, radiusOf(first, rule), ROUND_CORNERS)])]
    : group.flatMap((placed) => ringsOf(placed, rule, plane));
  const whole = joinAreas(shapes);
  if (!whole) return [];
  const unwrapped = polygonsOf(whole)
    .map((rings) =>
      rings
        .filter((ring) => Math.abs(signedArea(ring)) >= LEAST_AREA_M2)
        .map((ring) =>
          ring.map(([x = 0, y = 0]): Position => {
            const place = plane.toLonLat(x, y);
            return [place.lon - 360 * Math.round((place.lon - lon) / 360), place.lat];
          }),
        ),
    )
    .filter((rings) => rings.length > 0);
  return cutAt180(unwrapped).map((rings) =>
    rings.map((ring, i) => {
      const turned = signedArea(ring) > 0 === (i === 0) ? ring : [...ring].reverse();
      return turned.map(([x = 0, y = 0]) => [x, y] as const);
    }),
  );
}

function cutAt180(polygons: Position[][][]): Position[][][] {
  if (polygons.flat(2).every(([lon = 0]) => Math.abs(lon) <= 180)) return polygons;
  const whole: Shape<MultiPolygon> = {
    type: 'Feature',
    properties: {},
    geometry: { type: 'MultiPolygon', coordinates: polygons },
  };
  return [-360, 0, 360].flatMap((turn) => {
    const ring: Position[] = [
      [-180 + turn, -90],
      [180 + turn, -90],
      [180 + turn, 90],
      [-180 + turn, 90],
      [-180 + turn, -90],
    ];
    const box: Shape<Polygon> = { type: 'Feature', properties: {}, geometry: { type: 'Polygon', coordinates: [ring] } };
    const collection: FeatureCollection<Polygon | MultiPolygon> = { type: 'FeatureCollection', features: [whole, box] };
    const part = intersect(collection);
    if (!part) return [];
    return polygonsOf(part).map((rings) => rings.map((each) => each.map(([lon = 0, lat = 0]) => [lon - turn, lat])));
  });
}

function signedArea(ring: readonly Position[]): number {
  let sum = 0;
  for (let i = 1; i < ring.length; i += 1) {
    const [px = 0, py = 0] = ring[i - 1] as Position;
    const [qx = 0, qy = 0] = ring[i] as Position;
    sum += px * qy - qx * py;
  }
  return sum / 2;
}

/** Features whose buffers may touch, by boxes in degrees: each group is joined by itself. */
function groupsOf(members: readonly PlacedFeature[], rule: SetbackRule): readonly (readonly PlacedFeature[])[] {
  const boxes = members.map((placed) => boxOf(placed, rule));
  const parent = members.map((_, i) => i);
  const root = (i: number): number => {
    let at = i;
    while (parent[at] !== at) {
      parent[at] = parent[parent[at] as number] as number;
      at = parent[at] as number;
    }
    return at;
  };
  // From south to north; only boxes that have not ended yet can touch.
  const order = members.map((_, i) => i).sort((i, j) => (boxes[i] as Box).south - (boxes[j] as Box).south || i - j);
  let open: number[] = [];
  for (const i of order) {
    const box = boxes[i] as Box;
    open = open.filter((j) => (boxes[j] as Box).north >= box.south);
    for (const j of open) if (touch(box, boxes[j] as Box)) parent[root(i)] = root(j);
    open.push(i);
  }
  const groups = new Map<number, PlacedFeature[]>();
  members.forEach((placed, i) => {
    const at = root(i);
    const list = groups.get(at);
    if (list) list.push(placed);
    else groups.set(at, [placed]);
  });
  return [...groups.values()];
}

interface Box {
  readonly west: number;
  readonly east: number;
  readonly south: number;
  readonly north: number;
}

/** A degree of latitude is never shorter than this on the ellipsoid (110.57 km at the equator). */
const LEAST_DEGREE_M = 110_500;

function boxOf(placed: PlacedFeature, rule: SetbackRule): Box {
  const places = rule.from === 'point' ? [placed.place] : placed.parts.flatMap(({ places: own }) => own);
  const { lon } = placed.place;
  const nearLon = (each: number): number => each - 360 * Math.round((each - lon) / 360);
  const reach = ((radiusOf(placed, rule) + 1) / LEAST_DEGREE_M) * 1.01;
  const lats = places.map(({ lat }) => lat);
  const south = Math.min(...lats) - reach;
  const north = Math.max(...lats) + reach;
  const widest = Math.cos((Math.min(89.9, Math.max(Math.abs(south), Math.abs(north))) * Math.PI) / 180);
  const lons = places.map((place) => nearLon(place.lon));
  return { south, north, west: Math.min(...lons) - reach / widest, east: Math.max(...lons) + reach / widest };
}

const touch = (p: Box, q: Box): boolean =>
  p.south <= q.north &&
  q.south <= p.north &&
  [-360, 0, 360].some((turn) => p.west + turn <= q.east && q.west <= p.east + turn);
