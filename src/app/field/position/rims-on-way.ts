import type { Rim } from '../../../evidence/next-readings';
import { type LonLat, localPlane } from '../../../position/crs';

export interface RimsOnWay {
  /** The target lies nearer to a known opening or rock face than its rim distance. */
  readonly target: boolean;
  /** Oneself does, or may: the circle of the fix reaches there. */
  readonly here: boolean;
  /** The straight way does, somewhere between. */
  readonly between: boolean;
}

/** What of a straight way comes inside the rim distance of known openings. */
export function rimsOnWay(
  from: LonLat & { readonly r95M: number },
  to: LonLat | null,
  rims: readonly Rim[],
): RimsOnWay {
  let found: RimsOnWay = { target: false, here: false, between: false };
  for (const rim of rims) {
    const plane = localPlane(rim.lon, rim.lat);
    const start = plane.toPlane(from.lon, from.lat);
    const end = to ? plane.toPlane(to.lon, to.lat) : start;
    const target = to !== null && Math.hypot(end[0], end[1]) < rim.distanceM;
    const here = Math.hypot(start[0], start[1]) < rim.distanceM + from.r95M;
    const between = to !== null && nearestToOrigin(start, end) < rim.distanceM;
    found = { target: found.target || target, here: found.here || here, between: found.between || between };
  }
  return found;
}

type Point = readonly [number, number];

/** How near a straight stretch comes to the origin. */
function nearestToOrigin([x, y]: Point, [endX, endY]: Point): number {
  const [dx, dy] = [endX - x, endY - y];
  const squared = dx * dx + dy * dy;
  const along = squared === 0 ? 0 : Math.min(1, Math.max(0, -(x * dx + y * dy) / squared));
  return Math.hypot(x + along * dx, y + along * dy);
}
