import type { LineFindings } from '../findings';
import { localPlane } from '../position/crs';
import type { LineId } from '../survey/ids';

type Point = readonly [x: number, y: number];

/** A passage is followed from one line to another over such a gap, m, and no wider (choice: passages wind). */
const NEAR_M = 30;

/** Groups of lines that one passage may cross: they hang together by crossing or lying near each other; two at least. */
export function neighbourLines(lines: readonly LineFindings[]): readonly (readonly LineId[])[] {
  const [first] = lines.flatMap(({ track }) => track);
  if (!first) return [];
  const plane = localPlane(first.lon, first.lat);
  const paths = lines.map(({ lineId, track }) => ({
    lineId,
    path: track.filter(({ corner }) => corner).map(({ lon, lat }): Point => plane.toPlane(lon, lat)),
  }));
  const groups: LineId[][] = [];
  const seen = new Set<LineId>();
  for (const start of paths) {
    if (seen.has(start.lineId)) continue;
    seen.add(start.lineId);
    const group = [start];
    for (const member of group) {
      for (const other of paths) {
        if (seen.has(other.lineId) || gapM(member.path, other.path) > NEAR_M) continue;
        seen.add(other.lineId);
        group.push(other);
      }
    }
    const ids = new Set(group.map(({ lineId }) => lineId));
    if (ids.size > 1) groups.push(paths.flatMap(({ lineId }) => (ids.has(lineId) ? [lineId] : [])));
  }
  return groups;
}

/** Shortest way from one path to another; 0 where they cross. */
function gapM(p: readonly Point[], q: readonly Point[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 1; i < p.length; i += 1) {
    for (let k = 1; k < q.length; k += 1) {
      const [a, b, c, d] = [p[i - 1] as Point, p[i] as Point, q[k - 1] as Point, q[k] as Point];
      if (meet(a, b, c, d)) return 0;
      least = Math.min(least, toPieceM(a, c, d), toPieceM(b, c, d), toPieceM(c, a, b), toPieceM(d, a, b));
    }
  }
  return least;
}

/** From a point to a straight piece. */
function toPieceM([x, y]: Point, [ax, ay]: Point, [bx, by]: Point): number {
  const [ux, uy] = [bx - ax, by - ay];
  const square = ux * ux + uy * uy;
  const t = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * ux + (y - ay) * uy) / square));
  return Math.hypot(x - ax - t * ux, y - ay - t * uy);
}

/** Whether two straight pieces cross; the ends of pieces of one direction are found by their distance. */
function meet(a: Point, b: Point, c: Point, d: Point): boolean {
  const [rx, ry, sx, sy] = [b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]];
  const across = rx * sy - ry * sx;
  if (across === 0) return false;
  const [dx, dy] = [c[0] - a[0], c[1] - a[1]];
  const t = (dx * sy - dy * sx) / across;
  const u = (dx * ry - dy * rx) / across;
  return t >= 0 && t <= 1 && u >= 0 && u <= 1;
}
