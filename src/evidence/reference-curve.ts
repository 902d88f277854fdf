import type { ReferenceBasis } from '../findings';
import type { Hookup } from '../survey/hookup';
import type { ReferenceId } from '../survey/ids';
import type { Wetting } from '../survey/survey';
import type { ReadingFigure } from './figure';
import { medianOf, robustSigma } from './robust';

/** No extrapolation beyond this factor in spacing. */
const SPACING_REACH = 1.25;
/** The scatter of five stations is itself known to a factor two; the curve's other spacings steady it. */
const STEADYING_STATIONS = 8;

/** What readings have to share to lie on one curve; null = pooled. */
export interface CurveKey {
  readonly hookup: Hookup;
  readonly day: string | null;
  readonly wetting: Wetting | null;
}

/** Spacing in mm, with what else makes a reading comparable; -1 where the spacing was not said. */
export type SlotKey = number | string;

export function slotOf({ spacingM, reading }: ReadingFigure): SlotKey {
  const spacing = spacingM === null ? -1 : Math.round(spacingM * 1000);
  return reading.n ? `${spacing}/${reading.n}` : spacing;
}

interface Slot {
  readonly spacingM: number | null;
  readonly n: number | null;
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
  else slots.set(slotKey, { spacingM: figure.spacingM, n: figure.reading.n ?? null, stations: [lnFigure] });
}

export interface CurvePoint {
  readonly spacingM: number | null;
  readonly n: number | null;
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
  readonly ladder: ReadonlyMap<number | null, readonly CurvePoint[]>;
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
  for (const [slotKey, { spacingM, n, stations }] of slots) {
    if (stations.length < fewest) continue;
    const lnFigure = medianOf(stations);
    raw.set(slotKey, { spacingM, n, lnFigure, scatterLn: robustSigma(stations), stations: stations.length });
  }
  const exact = steadied(raw);
  return { key, references, kind, exact, ladder: ladderOf(exact) };
}

function steadied(raw: ReadonlyMap<SlotKey, CurvePoint>): ReadonlyMap<SlotKey, CurvePoint> {
  const points = [...raw.values()].filter(({ stations }) => stations > 1);
  if (points.length === 0) return raw;
  const pooled = points.reduce((sum, { scatterLn }) => sum + scatterLn ** 2, 0) / points.length;
  return new Map(
    Array.from(raw, ([slotKey, point]) => {
      const own = point.stations - 1;
      const variance = (own * point.scatterLn ** 2 + STEADYING_STATIONS * pooled) / (own + STEADYING_STATIONS);
      return [slotKey, { ...point, scatterLn: Math.sqrt(variance) }];
    }),
  );
}

function ladderOf(exact: ReadonlyMap<SlotKey, CurvePoint>): ReadonlyMap<number | null, readonly CurvePoint[]> {
  const ladder = new Map<number | null, CurvePoint[]>();
  for (const point of exact.values()) {
    if (point.spacingM === null) continue;
    const points = ladder.get(point.n);
    if (points) points.push(point);
    else ladder.set(point.n, [point]);
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

/** Log-log interpolation between the curve's spacings; beyond them the end's own step, up to a factor 1.25. */
export function levelOn(curve: Curve, figure: ReadingFigure): Omit<Level, 'basis'> | null {
  const hit = curve.exact.get(slotOf(figure));
  if (hit) return hit;
  const { spacingM } = figure;
  if (spacingM === null) return null;
  const points = curve.ladder.get(figure.reading.n ?? null) ?? [];
  const first = points[0];
  const last = points[points.length - 1];
  if (!first?.spacingM || !last?.spacingM) return null;
  if (spacingM > last.spacingM * SPACING_REACH || spacingM < first.spacingM / SPACING_REACH) return null;
  if (points.length === 1) return first;
  let i = 1;
  while (i < points.length - 1 && spacingM > (points[i]?.spacingM ?? Infinity)) i += 1;
  const p = points[i - 1] as CurvePoint;
  const q = points[i] as CurvePoint;
  const lnP = Math.log(p.spacingM as number);
  const t = (Math.log(spacingM) - lnP) / (Math.log(q.spacingM as number) - lnP);
  return {
    lnFigure: p.lnFigure + t * (q.lnFigure - p.lnFigure),
    scatterLn: Math.max(p.scatterLn, q.scatterLn),
    stations: Math.min(p.stations, q.stations),
  };
}
