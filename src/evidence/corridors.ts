import type { CorridorFinding, Settings, Target } from '../findings';
import type { Layout } from '../ground/layout';
import { type Place as Point, sphereResponse } from '../ground/small-void';
import { isTwoProbe } from '../survey/hookup';
import type { ReadingId } from '../survey/ids';
import type { ScoredPlace } from './doubts/doubt-context';
import type { Stretch } from './stretch';

/** A target is said to show when it changes a reading by this many standard errors. */
const SIGMAS_TO_SHOW = 2;
/** Half-widths are told to this step, metres; finer would be pretence. */
const STEP_M = 0.1;
/** No target shows farther to the side than this many times its depth. */
const FARTHEST_DEPTHS = 2;

/** Where along its stretch a reading has to show the target: at both ends and between. */
const ALONG = [-1, -0.5, 0, 0.5, 1];

/**
 * How far to the side of a stretch of line the target would still have shown, metres; 0 = not even under it.
 * Air-filled sphere in uniform ground, first order; the least of some places along the stretch.
 */
export function halfWidthM(
  layout: Layout,
  midpointM: number,
  stretch: Stretch,
  standardErrorLn: number,
  target: Target,
): number {
  const { a, m } = layout;
  if (a === null || m === null || !(target.depthToCentreM > target.radiusM)) return 0;
  const at = (chainageM: number): Point => [chainageM - midpointM, 0, 0];
  const electrodes = {
    a: at(a),
    b: layout.b === null ? null : at(layout.b),
    m: at(m),
    n: layout.n === null ? null : at(layout.n),
  };
  const shows = (alongM: number, offsetM: number): boolean => {
    const centre: Point = [alongM, offsetM, target.depthToCentreM];
    const change = sphereResponse({ centre, radiusM: target.radiusM, fillOhmM: Infinity }, 1, electrodes);
    return Math.abs(Math.log1p(Math.max(change, -0.99))) >= SIGMAS_TO_SHOW * standardErrorLn;
  };
  const most = Math.floor((FARTHEST_DEPTHS * target.depthToCentreM) / STEP_M);
  const widths = ALONG.map((share) => {
    const alongM = share < 0 ? share * (midpointM - stretch.fromM) : share * (stretch.toM - midpointM);
    let steps = 0;
    while (steps < most && shows(alongM, (steps + 1) * STEP_M)) steps += 1;
    return shows(alongM, 0) ? steps * STEP_M : 0;
  });
  return Math.min(...widths);
}

/**
 * The stretches of a line along which the target would have shown, each with its half-width.
 * Only pole-pole and four-electrode readings with a ratio count, and none that is doubted to be contact: a two-probe
 * figure excludes no void of any size. `doubted`: readings that may be contact.
 */
export function corridorsOf(
  places: readonly ScoredPlace[],
  stretches: readonly Stretch[],
  doubted: ReadonlySet<ReadingId>,
  settings: Settings,
): readonly CorridorFinding[] {
  const known = new KnownWidths(settings.target);
  const widths: CorridorFinding[] = [];
  for (const { place, score } of places) {
    const stretch = stretches[place.index];
    const first = place.counted[0];
    if (isTwoProbe(place.hookup) || !first?.layout || !stretch || score.standardErrorLn === null) continue;
    if (doubted.has(first.reading.id)) continue;
    const width = known.of(first.layout, place.chainageM, stretch, score.standardErrorLn);
    if (width > 0) widths.push({ fromM: stretch.fromM, toM: stretch.toM, halfWidthM: width });
  }
  return runsOf(widths);
}

/** Half-widths found so far: layouts that differ only in where they stand have one answer. */
class KnownWidths {
  private readonly found = new Map<string, number>();
  private last: { shape: Shape; halfWidthM: number } | null = null;

  constructor(private readonly target: Target) {}

  of(layout: Layout, midpointM: number, stretch: Stretch, standardErrorLn: number): number {
    const shape = shapeOf(layout, midpointM, stretch, standardErrorLn);
    // Neighbours along a line mostly share their shape.
    if (this.last && isSame(this.last.shape, shape)) return this.last.halfWidthM;
    const key = `${shape.a},${shape.b},${shape.m},${shape.n},${shape.from},${shape.to},${shape.error}`;
    const width = this.found.get(key) ?? halfWidthM(layout, midpointM, stretch, standardErrorLn, this.target);
    this.found.set(key, width);
    this.last = { shape, halfWidthM: width };
    return width;
  }
}

/** A layout and its stretch from its midpoint in centimetres (Infinity = remote), and an error in thousandths. */
interface Shape {
  readonly a: number;
  readonly b: number;
  readonly m: number;
  readonly n: number;
  readonly from: number;
  readonly to: number;
  readonly error: number;
}

function shapeOf({ a, b, m, n }: Layout, midpointM: number, stretch: Stretch, standardErrorLn: number): Shape {
  return {
    a: offsetCm(a, midpointM),
    b: offsetCm(b, midpointM),
    m: offsetCm(m, midpointM),
    n: offsetCm(n, midpointM),
    from: offsetCm(stretch.fromM, midpointM),
    to: offsetCm(stretch.toM, midpointM),
    error: Math.round(standardErrorLn * 1000),
  };
}

const isSame = (p: Shape, q: Shape): boolean =>
  p.a === q.a && p.b === q.b && p.m === q.m && p.n === q.n && p.from === q.from && p.to === q.to && p.error === q.error;

const offsetCm = (chainageM: number | null, midpointM: number): number =>
  chainageM === null ? Infinity : Math.round((chainageM - midpointM) * 100);

/** Where several spacings overlap the widest speaks for the place; stretches of one width that touch are joined. */
function runsOf(widths: readonly CorridorFinding[]): readonly CorridorFinding[] {
  const edges = [...new Set(widths.flatMap(({ fromM, toM }) => [fromM, toM]))].sort((p, q) => p - q);
  const sorted = [...widths].sort((p, q) => p.fromM - q.fromM);
  const runs: CorridorFinding[] = [];
  const open: CorridorFinding[] = [];
  let next = 0;
  for (let i = 1; i < edges.length; i += 1) {
    const fromM = edges[i - 1] as number;
    const toM = edges[i] as number;
    for (; next < sorted.length && (sorted[next] as CorridorFinding).fromM <= fromM; next += 1) {
      open.push(sorted[next] as CorridorFinding);
    }
    let widest = 0;
    for (let k = open.length - 1; k >= 0; k -= 1) {
      const stretch = open[k] as CorridorFinding;
      if (stretch.toM <= fromM) open.splice(k, 1);
      else widest = Math.max(widest, stretch.halfWidthM);
    }
    if (widest === 0 || toM - fromM < 1e-6) continue;
    const before = runs[runs.length - 1];
    if (before && fromM - before.toM < 1e-6 && before.halfWidthM === widest) {
      runs[runs.length - 1] = { fromM: before.fromM, toM, halfWidthM: widest };
    } else {
      runs.push({ fromM, toM, halfWidthM: widest });
    }
  }
  return runs;
}
