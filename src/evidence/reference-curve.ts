import type { ReferenceBasis } from '../findings';
import type { Hookup } from '../survey/hookup';
import type { ReferenceId } from '../survey/ids';
import type { Wetting } from '../survey/survey';
import type { ReadingFigure } from './figure';
import { medianOf, robustSigma } from './robust';

/** No extrapolation beyond this factor in spacing. */
const SPACING_REACH = 1.25;
/** Between spacings farther apart than this factor a curve is not interpolated: layered ground bends there. */
const WIDEST_GAP = 2.5;
/** What interpolation may be off by, in ln: this times the square of ln(gap); this project's choice. */
const INTERPOLATION_ERROR = 0.05;
/** What going beyond the last spacing may be off by: half of ln(factor), a slope being about ¼ ± ½; half that with a step behind. */
const EXTRAPOLATION_ERROR = 0.5;
/**
 * The scatter of a few stations is itself known to a factor two: the curve's other spacings steady it, and, as long as
 * they are few, a scatter of 5 % (common practice for quiet ground, no source).
 */
const STEADYING_STATIONS = 8;
const USUAL_SCATTER_LN = 0.05;
const USUAL_STATIONS = 4;

/** What readings have to share to lie on one curve; null = pooled. */
export interface CurveKey {
  readonly hookup: Hookup;
  readonly day: string | null;
  readonly wetting: Wetting | null;
}

/** Spacing in mm, with what else makes a reading comparable; -1 where the spacing was not said. */
export type SlotKey = number | string;

export function slotOf({ spacingM, variant }: ReadingFigure): SlotKey {
  const spacing = spacingM === null ? -1 : Math.round(spacingM * 1000);
  return variant === '' ? spacing : `${spacing}/${variant}`;
}

interface Slot {
  readonly spacingM: number | null;
  readonly variant: string;
  /** ln of the figure, one for each station. */
  readonly stations: number[];
}

/** Stations on their way into a curve. */
export type Slots = Map<SlotKey, Slot>;

/** Adds a station by any of its readings and the ln of its figure. */
export function collect(slots: Slots, figure: ReadingFigure, lnFigure: number): void {
  const slotKey = slotOf(figure);
  const slot = slots.get(slotKey);
  if (slot) slot.stations.push(lnFigure);
  else slots.set(slotKey, { spacingM: figure.spacingM, variant: figure.variant, stations: [lnFigure] });
}

export interface CurvePoint {
  readonly spacingM: number | null;
  readonly variant: string;
  readonly lnFigure: number;
  /** Robust scatter from station to station. */
  readonly scatterLn: number;
  readonly stations: number;
}

export interface Curve {
  readonly key: CurveKey;
  readonly references: readonly ReferenceId[];
  readonly kind: 'reference' | 'site_median';
  /** By the exact spacing, and by growing spacing for the ones between. */
  readonly exact: ReadonlyMap<SlotKey, CurvePoint>;
  readonly ladder: ReadonlyMap<string, readonly CurvePoint[]>;
}

/** The median over stations per spacing; spacings with fewer than `fewest` stations are left out. */
export function curveFrom(
  key: CurveKey,
  slots: Slots,
  kind: Curve['kind'],
  references: readonly ReferenceId[],
  fewest: number,
): Curve {
  const raw = new Map<SlotKey, CurvePoint>();
  for (const [slotKey, { spacingM, variant, stations }] of slots) {
    if (stations.length < fewest) continue;
    const lnFigure = medianOf(stations);
    raw.set(slotKey, { spacingM, variant, lnFigure, scatterLn: robustSigma(stations), stations: stations.length });
  }
  const exact = steadied(raw);
  return { key, references, kind, exact, ladder: ladderOf(exact) };
}

function steadied(raw: ReadonlyMap<SlotKey, CurvePoint>): ReadonlyMap<SlotKey, CurvePoint> {
  const repeated = [...raw.values()].filter(({ stations }) => stations > 1);
  const sum = repeated.reduce((total, { scatterLn }) => total + scatterLn ** 2, 0);
  const pooled = repeated.length > 0 ? sum / repeated.length : USUAL_SCATTER_LN ** 2;
  return new Map(
    Array.from(raw, ([slotKey, point]) => {
      const own = point.stations - 1;
      // One spacing alone has no others to be steadied by.
      const others = repeated.length > 1 ? STEADYING_STATIONS : 0;
      const weighed = own * point.scatterLn ** 2 + others * pooled + USUAL_STATIONS * USUAL_SCATTER_LN ** 2;
      return [slotKey, { ...point, scatterLn: Math.sqrt(weighed / (own + others + USUAL_STATIONS)) }];
    }),
  );
}

function ladderOf(exact: ReadonlyMap<SlotKey, CurvePoint>): ReadonlyMap<string, readonly CurvePoint[]> {
  const ladder = new Map<string, CurvePoint[]>();
  for (const point of exact.values()) {
    if (point.spacingM === null) continue;
    const points = ladder.get(point.variant);
    if (points) points.push(point);
    else ladder.set(point.variant, [point]);
  }
  for (const points of ladder.values()) points.sort((p, q) => (p.spacingM ?? 0) - (q.spacingM ?? 0));
  return ladder;
}

/** A reference level at one spacing. */
export interface Level {
  readonly lnFigure: number;
  readonly scatterLn: number;
  readonly stations: number;
  readonly basis: ReferenceBasis;
}

/**
 * Log-log interpolation between the curve's spacings, at most a factor 2.5 apart; beyond them, and beside a wider gap,
 * the nearest spacing within a factor 1.25. What that may be off by is added to the scatter.
 */
export function levelOn(curve: Curve, figure: ReadingFigure): Omit<Level, 'basis'> | null {
  const hit = curve.exact.get(slotOf(figure));
  if (hit) return hit;
  const { spacingM } = figure;
  if (spacingM === null) return null;
  const points = curve.ladder.get(figure.variant) ?? [];
  const above = points.findIndex((point) => (point.spacingM ?? 0) > spacingM);
  const q = above < 0 ? null : (points[above] as CurvePoint);
  const p = points[(above < 0 ? points.length : above) - 1] ?? null;
  if (p?.spacingM && q?.spacingM && q.spacingM <= p.spacingM * WIDEST_GAP * (1 + 1e-9)) {
    const lnGap = Math.log(q.spacingM / p.spacingM);
    const t = Math.log(spacingM / p.spacingM) / lnGap;
    return {
      lnFigure: p.lnFigure + t * (q.lnFigure - p.lnFigure),
      scatterLn: Math.hypot(Math.max(p.scatterLn, q.scatterLn), INTERPOLATION_ERROR * lnGap ** 2),
      stations: Math.min(p.stations, q.stations),
    };
  }
  return levelBeside(spacingM, points, above < 0 ? points.length : above);
}

/** The level within a factor 1.25 of the spacing below or above, whichever is nearer; carried on by the step behind it. */
function levelBeside(spacingM: number, points: readonly CurvePoint[], above: number): Omit<Level, 'basis'> | null {
  let best: { point: CurvePoint; behind: CurvePoint | undefined; lnFactor: number } | null = null;
  for (const [point, behind] of [
    [points[above - 1], points[above - 2]],
    [points[above], points[above + 1]],
  ]) {
    if (!point?.spacingM) continue;
    const lnFactor = Math.log(spacingM / point.spacingM);
    if (Math.abs(lnFactor) > Math.log(SPACING_REACH) + 1e-9) continue;
    if (!best || Math.abs(lnFactor) < Math.abs(best.lnFactor)) best = { point, behind, lnFactor };
  }
  if (!best) return null;
  const { point, behind, lnFactor } = best;
  const lnStep = behind?.spacingM && point.spacingM ? Math.log(point.spacingM / behind.spacingM) : 0;
  const known = behind !== undefined && lnStep !== 0 && Math.abs(lnStep) <= Math.log(WIDEST_GAP) + 1e-9;
  const slope = known ? (point.lnFigure - behind.lnFigure) / lnStep : 0;
  const error = (known ? EXTRAPOLATION_ERROR / 2 : EXTRAPOLATION_ERROR) * Math.abs(lnFactor);
  return {
    lnFigure: point.lnFigure + slope * lnFactor,
    scatterLn: Math.hypot(point.scatterLn, error),
    stations: point.stations,
  };
}
