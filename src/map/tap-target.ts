import type { FeatureCollection, Position } from 'geojson';

export interface ScreenPoint {
  readonly x: number;
  readonly y: number;
}

/** Half-widths of the boxes in which a tap looks for something, the narrowest first: a pointer, a finger, a glove. */
export const TAP_REACH_PX = [3, 10, 22] as const;

/** Pixels from a point to the nearest part of a path on the screen. */
export function distanceToPathPx(point: ScreenPoint, path: readonly ScreenPoint[]): number {
  const [first] = path;
  if (!first) return Number.POSITIVE_INFINITY;
  let nearest = Math.hypot(point.x - first.x, point.y - first.y);
  for (let i = 1; i < path.length; i += 1) {
    const a = path[i - 1];
    const b = path[i];
    if (!a || !b) continue;
    const dx = b.x - a.x;
    const dy = b.y - a.y;
    const length2 = dx * dx + dy * dy;
    const t = length2 === 0 ? 0 : Math.min(1, Math.max(0, ((point.x - a.x) * dx + (point.y - a.y) * dy) / length2));
    nearest = Math.min(nearest, Math.hypot(point.x - a.x - t * dx, point.y - a.y - t * dy));
  }
  return nearest;
}

/** The path moved to the right of its direction, as `line-offset` draws it (bends to within a mitre). */
export function besidePath(path: readonly ScreenPoint[], offsetPx: number): ScreenPoint[] {
  const first = path[0];
  const last = path[path.length - 1];
  if (!first || !last || offsetPx === 0) return [...path];
  const length = Math.hypot(last.x - first.x, last.y - first.y);
  if (length === 0) return [...path];
  const right = { x: -(last.y - first.y) / length, y: (last.x - first.x) / length };
  return path.map(({ x, y }) => ({ x: x + right.x * offsetPx, y: y + right.y * offsetPx }));
}

/** Of some features by `sid`, the one that is drawn nearest to a tap. Places come from the data, never from the screen. */
export function nearestSid(
  tap: ScreenPoint,
  candidates: ReadonlySet<string>,
  data: FeatureCollection,
  project: (place: Position) => ScreenPoint,
  offsetPx: (properties: Record<string, unknown>) => number,
): string | null {
  let best: { sid: string; distance: number } | null = null;
  for (const { properties, geometry } of data.features) {
    const sid = properties?.sid;
    if (typeof sid !== 'string' || !candidates.has(sid)) continue;
    const path =
      geometry.type === 'LineString'
        ? geometry.coordinates.map(project)
        : geometry.type === 'Point'
          ? [project(geometry.coordinates)]
          : [];
    const distance = distanceToPathPx(tap, besidePath(path, offsetPx(properties ?? {})));
    if (!best || distance < best.distance) best = { sid, distance };
  }
  return best?.sid ?? null;
}
