import type { Findings } from '../../findings';
import { UNSAID_R95_M } from '../../position/accuracy';
import type { Position } from '../../survey/survey';
import type { PointedAt } from './layout-state';

/** How exactly a finger or a pointer is set on a map (choice). */
const POINTED_PX = 3;

/**
 * How sure the map itself is, as a 95 % radius in metres: half of the placed points on it are surer. Somebody who points
 * goes by what is drawn there. Without any it is taken for what a phone would give.
 */
export function drawnAccuracy95M(findings: Findings): number {
  const sorted = findings.lines
    .flatMap(({ controls }) => controls.map(({ uncertainty95M }) => uncertainty95M))
    .sort((p, q) => p - q);
  return sorted[sorted.length >> 1] ?? UNSAID_R95_M;
}

/** 95 % radius in metres of a place that was pointed at. */
export const pointedAccuracy95M = (metresPerPixel: number, drawn95M: number): number =>
  Math.hypot(POINTED_PX * metresPerPixel, drawn95M);

/** A place that was pointed at, for the record. `time`: ISO 8601. */
export function pointedPosition({ lon, lat, metresPerPixel }: PointedAt, drawn95M: number, time: string): Position {
  return {
    x: Number(lon.toFixed(8)),
    y: Number(lat.toFixed(8)),
    crs: 'EPSG:4326',
    accuracy_m: Number(pointedAccuracy95M(metresPerPixel, drawn95M).toFixed(2)),
    accuracy_level: 95,
    source: 'map',
    time,
  };
}
