import { groundPlaceAt } from '../evidence/ground-place';
import type { LineFindings, MidpointFinding } from '../findings';
import type { Plane } from '../position/crs';

/** A reading laid into the plane that two surveys share. */
export interface LaidReading {
  readonly line: LineFindings;
  readonly midpoint: MidpointFinding;
  readonly spacingM: number;
  readonly x: number;
  readonly y: number;
  /** Of the line where it was read, degrees in the plane, 0 to 180. */
  readonly directionDeg: number;
}

export interface Pair {
  readonly p: LaidReading;
  readonly q: LaidReading;
  readonly apartM: number;
}

/** Spacings within this are one (a tape's slack). Choice. */
const SAME_SPACING = 0.01;
/** Midpoints that lie farther apart than this share of the spacing look at other ground. Choice. */
const NEAR_OF_SPACING = 0.25;
/** Lines that run otherwise than this to each other are two measurements of the ground. Choice. */
const SAME_DIRECTION_DEG = 20;
/** Chainage to either side from which the direction of a line is taken, m. */
const BESIDE_M = 0.5;
/** Of a place that is not sure at all only so many nearest are looked at; a choice. */
const MOST_CANDIDATES = 12;

/** Direction of a line at a midpoint, 0 to 180°, in a plane. */
export function directionDeg({ track }: LineFindings, { chainageM }: MidpointFinding, plane: Plane): number {
  const [back, ahead] = [groundPlaceAt(track, chainageM - BESIDE_M), groundPlaceAt(track, chainageM + BESIDE_M)];
  const [ax, ay] = plane.toPlane(back.lon, back.lat);
  const [bx, by] = plane.toPlane(ahead.lon, ahead.lat);
  return ((Math.atan2(bx - ax, by - ay) * 180) / Math.PI + 360) % 180;
}

/**
 * Readings of one hookup and spacing at one place: midpoints no farther apart than a quarter of the spacing, or than both
 * places are sure, on lines that run alike. The nearest pairs first, each reading once.
 */
export function matchReadings(earlier: readonly LaidReading[], later: readonly LaidReading[]): readonly Pair[] {
  const cells = new Map<string, number[]>();
  const reachM = earlier.reduce((most, reading) => Math.max(most, reachOf(reading)), 0);
  const widest =
    Math.max(
      reachM,
      later.reduce((most, reading) => Math.max(most, reachOf(reading)), 0),
      0.01,
    ) * 2;
  const cellOf = (value: number): number => Math.floor(value / widest);
  earlier.forEach(({ midpoint, x, y }, i) => {
    const key = `${midpoint.hookup}|${cellOf(x)}|${cellOf(y)}`;
    const list = cells.get(key);
    if (list) list.push(i);
    else cells.set(key, [i]);
  });
  const candidates: { readonly i: number; readonly k: number; readonly apartM: number }[] = [];
  later.forEach((q, k) => {
    const own: { readonly i: number; readonly k: number; readonly apartM: number }[] = [];
    for (let column = cellOf(q.x) - 1; column <= cellOf(q.x) + 1; column += 1) {
      for (let row = cellOf(q.y) - 1; row <= cellOf(q.y) + 1; row += 1) {
        for (const i of cells.get(`${q.midpoint.hookup}|${column}|${row}`) ?? []) {
          const p = earlier[i] as LaidReading;
          if (!isSame(p, q)) continue;
          const apartM = Math.hypot(p.x - q.x, p.y - q.y);
          const sureM = Math.hypot(p.midpoint.uncertainty95M, q.midpoint.uncertainty95M);
          if (apartM <= Math.max(NEAR_OF_SPACING * q.spacingM, sureM)) own.push({ i, k, apartM });
        }
      }
    }
    own.sort((p, q) => p.apartM - q.apartM || p.i - q.i);
    candidates.push(...own.slice(0, MOST_CANDIDATES));
  });
  candidates.sort((p, q) => p.apartM - q.apartM || p.k - q.k || p.i - q.i);
  const [takenBefore, takenAfter] = [new Set<number>(), new Set<number>()];
  return candidates
    .filter(({ i, k }) => {
      if (takenBefore.has(i) || takenAfter.has(k)) return false;
      takenBefore.add(i);
      takenAfter.add(k);
      return true;
    })
    .sort((p, q) => p.k - q.k)
    .map(({ i, k, apartM }) => ({ p: earlier[i] as LaidReading, q: later[k] as LaidReading, apartM }));
}

const reachOf = ({ spacingM, midpoint }: LaidReading): number =>
  Math.max(NEAR_OF_SPACING * spacingM, midpoint.uncertainty95M);

function isSame(p: LaidReading, q: LaidReading): boolean {
  const between = Math.abs(p.directionDeg - q.directionDeg);
  return (
    Math.abs(p.spacingM - q.spacingM) <= SAME_SPACING * q.spacingM &&
    Math.min(between, 180 - between) <= SAME_DIRECTION_DEG
  );
}
