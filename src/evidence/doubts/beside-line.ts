import type { Track } from '../../position/track';
import type { Place } from '../place';
import type { PlacedThing } from './doubt-context';

/** A point of a thing beside a line. */
export interface Beside {
  readonly chainageM: number;
  readonly offsetM: number;
  /** Between the thing and the line there, 0 to 90; null for a thing of one point. */
  readonly crossingDeg: number | null;
}

/** Things are looked at in steps of this along them, m. */
const STEP_M = 0.5;

type Point = readonly [x: number, y: number];

/**
 * The points of a thing that lie within `reachM` of a line or of its straight continuation by as much.
 * Lengths in the line's own plane; empty for a thing that is far away.
 */
export function besideLine(thing: PlacedThing, track: Track, reachM: number): readonly Beside[] {
  const { plane, fromM, bends, toM, placeAt } = track;
  const corners = [fromM, ...bends, toM].map((chainageM) => {
    const { lon, lat } = placeAt(chainageM);
    return { chainageM, at: plane.toPlane(lon, lat) as Point };
  });
  const box = [0, 1].map((axis) => {
    const values = corners.map(({ at }) => at[axis] as number);
    return [Math.min(...values) - reachM, Math.max(...values) + reachM] as const;
  });
  const isNear = (p: Point, q: Point): boolean =>
    box.every(([low, high], axis) => {
      const [a, b] = [p[axis] as number, q[axis] as number];
      return Math.min(a, b) <= high && Math.max(a, b) >= low;
    });
  const points = thing.places.map(({ lon, lat }) => plane.toPlane(lon, lat) as Point);
  const [only] = points;
  if (only && points.length === 1) return isNear(only, only) ? nearestOn(corners, only, null, reachM) : [];
  return points.slice(1).flatMap((q, i) => {
    const p = points[i] as Point;
    if (!isNear(p, q)) return [];
    const lengthM = Math.hypot(q[0] - p[0], q[1] - p[1]);
    // No farther apart than a kilometre of steps: a longer stretch is a line on a map, not a thing that somebody paced.
    const steps = Math.min(2000, Math.max(1, Math.ceil(lengthM / STEP_M)));
    const direction: Point = [q[0] - p[0], q[1] - p[1]];
    return Array.from({ length: steps + 1 }, (_, k) => k / steps).flatMap((t) =>
      nearestOn(corners, [p[0] + t * direction[0], p[1] + t * direction[1]], direction, reachM),
    );
  });
}

function nearestOn(
  corners: readonly { readonly chainageM: number; readonly at: Point }[],
  [x, y]: Point,
  direction: Point | null,
  reachM: number,
): readonly Beside[] {
  let best: Beside | null = null;
  for (let i = 1; i < corners.length; i += 1) {
    const { at: p, chainageM: fromM } = corners[i - 1] as (typeof corners)[number];
    const { at: q, chainageM: toM } = corners[i] as (typeof corners)[number];
    const [dx, dy] = [q[0] - p[0], q[1] - p[1]];
    const length = Math.hypot(dx, dy) || 1;
    const along = ((x - p[0]) * dx + (y - p[1]) * dy) / length ** 2;
    const t = Math.min(i === corners.length - 1 ? Infinity : 1, Math.max(i === 1 ? -Infinity : 0, along));
    const offsetM = Math.hypot(x - p[0] - t * dx, y - p[1] - t * dy);
    if (offsetM > reachM || (best && best.offsetM <= offsetM)) continue;
    const cosine = direction
      ? Math.abs(dx * direction[0] + dy * direction[1]) / (length * (Math.hypot(...direction) || 1))
      : null;
    best = {
      chainageM: fromM + t * (toM - fromM),
      offsetM,
      crossingDeg: cosine === null ? null : (Math.acos(Math.min(1, cosine)) * 180) / Math.PI,
    };
  }
  return best ? [best] : [];
}

/** How far a point lies from the stretch of line between the outermost electrodes of a place, m. */
export function fromSpanM({ chainageM, offsetM }: Beside, place: Place): number {
  const { a, b, m, n } = place.figures[0]?.layout ?? { a: null, b: null, m: null, n: null };
  let fromM = place.chainageM;
  let toM = place.chainageM;
  for (const electrode of [a, b, m, n]) {
    if (electrode === null) continue;
    fromM = Math.min(fromM, electrode);
    toM = Math.max(toM, electrode);
  }
  return Math.hypot(offsetM, Math.max(0, fromM - chainageM, chainageM - toM));
}

/** The largest spacing of some places, m; 0 where none was said. */
export const widestM = (places: readonly { readonly place: Place }[]): number =>
  places.reduce((most, { place }) => Math.max(most, place.spacingM ?? 0), 0);
