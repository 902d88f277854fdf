import type { SketchClosure, SketchVertex } from '../../figures/traverse-sketch';
import { trueBearing } from '../../position/bearings';
import { localPlane } from '../../position/crs';
import { closedTraverse, openTraverse, type TraverseLeg } from '../../position/traverse';
import { uncertainPlaceOf } from '../../position/uncertain-place';
import { done, type Outcome, refuse } from '../../survey/outcome';
import type { Line, LocalGrid, PathItem } from '../../survey/survey';

/** Chainages within this are one point. */
const SAME_M = 0.005;

type Leg = Extract<PathItem, { kind: 'leg' }>;

export interface TraverseOfLine {
  readonly vertices: readonly SketchVertex[];
  readonly knownEnd: { readonly eastM: number; readonly northM: number } | null;
  readonly closure: SketchClosure | null;
}

/**
 * The legs of a line as one traverse from a placed point, and how it closes on the placed point at its end; null without
 * legs. Refusals: `no_start`, `legs_apart`, those of `trueBearing` and of the traverse.
 */
export function traverseOf(line: Line, grids: readonly LocalGrid[]): Outcome<TraverseOfLine> | null {
  const legs = line.path
    .flatMap((item): Leg[] => (item.kind === 'leg' && !item.retired ? [item] : []))
    .sort((p, q) => p.from_chainage_m - q.from_chainage_m);
  const [first] = legs;
  const last = legs[legs.length - 1];
  if (!first || !last) return null;
  const apart = legs.find((leg, i) => {
    const before = legs[i - 1];
    return before && Math.abs(before.from_chainage_m + before.distance_m - leg.from_chainage_m) > SAME_M;
  });
  if (apart) {
    return refuse(
      'legs_apart',
      `The leg from ${apart.from_chainage_m} m does not begin where the one before it ends, so the legs are no one traverse.`,
    );
  }
  const start = fixAt(line, first.from_chainage_m);
  if (!start) {
    return refuse(
      'no_start',
      `Place the point at ${first.from_chainage_m} m, where the legs begin, to see how they close.`,
    );
  }
  const from = uncertainPlaceOf(start.position, grids);
  if (!from.ok) return from;
  const gridCrs = start.position.crs === 'EPSG:4326' ? null : start.position.crs;
  const walked: TraverseLeg[] = [];
  for (const leg of legs) {
    const given = { bearingDeg: leg.bearing_deg, reference: leg.bearing_reference, date: leg.date, crs: gridCrs };
    const bearing = trueBearing(given, from.value, { grids });
    if (!bearing.ok) return bearing;
    walked.push({ bearing: bearing.value, distanceM: leg.distance_m, slopeDeg: leg.slope_deg ?? null });
  }
  const chainages = [first.from_chainage_m, ...legs.map((leg) => leg.from_chainage_m + leg.distance_m)];
  const plane = localPlane(from.value.lon, from.value.lat);
  const flat = ({ lon, lat }: { readonly lon: number; readonly lat: number }) => {
    const [eastM, northM] = plane.toPlane(lon, lat);
    return { eastM, northM };
  };
  const withChainage = (places: readonly { readonly lon: number; readonly lat: number }[]): readonly SketchVertex[] =>
    places.map((place, i) => ({ ...flat(place), chainageM: chainages[i] as number }));

  const endFix = fixAt(line, chainages[chainages.length - 1] as number);
  const end = endFix && uncertainPlaceOf(endFix.position, grids);
  if (!end?.ok) {
    const open = openTraverse(from.value, walked);
    return open.ok ? done({ vertices: withChainage(open.value.vertices), knownEnd: null, closure: null }) : open;
  }
  const closed = closedTraverse(from.value, walked, end.value);
  if (!closed.ok) return closed;
  return done({
    vertices: withChainage(closed.value.vertices),
    knownEnd: flat(end.value),
    closure: closed.value.closure,
  });
}

const fixAt = (line: Line, chainageM: number) =>
  line.path.flatMap((item) =>
    item.kind === 'fix' && !item.retired && Math.abs(item.chainage_m - chainageM) <= SAME_M ? [item] : [],
  )[0];
