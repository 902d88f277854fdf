import { largestThatStands, twoSided } from '../evidence/false-discovery';
import { medianOf, medianVariance, robustSigma } from '../evidence/robust';
import type { Findings } from '../findings';
import { localPlane } from '../position/crs';
import { type Hookup, isTwoProbe } from '../survey/hookup';
import type { LineId } from '../survey/ids';
import { changeErrorLn } from './compare-errors';
import { directionDeg, type LaidReading, matchReadings } from './compare-match';
import type { Tick } from './study-key';

/** What a matched reading says of what happened in between. `lead`: two probes, whose figure is mostly contact. */
export type ChangeVerdict = 'higher_than_before' | 'lower_than_before' | 'no_change_shown' | 'lead' | 'not_comparable';

/** A reading of the later survey beside the one of the earlier survey at the same place. */
export interface MatchedReading {
  readonly key: string;
  readonly lineId: LineId;
  readonly line: string;
  readonly chainageM: number;
  readonly spacingM: number;
  readonly hookup: Hookup;
  readonly lineBefore: string;
  readonly chainageBeforeM: number;
  /** Between both midpoints, and how far that may be off with 95 %. */
  readonly apartM: number;
  readonly apartUncertainty95M: number;
  readonly ratioBefore: number | null;
  readonly ratioAfter: number | null;
  /** Later figure over earlier one, with season, contact and all. */
  readonly figureChange: number | null;
  /** Later ratio to the reference over the earlier one. */
  readonly change: number | null;
  /** Of ln(change). */
  readonly standardErrorLn: number | null;
  readonly zScore: number | null;
  /** A change by this factor or its inverse would have shown. */
  readonly smallestChangeShown: number | null;
  readonly verdict: ChangeVerdict;
}

/** What all readings of a hookup did together. */
export interface CommonChange {
  readonly hookup: Hookup;
  readonly readings: number;
  readonly factor: number;
  readonly standardErrorLn: number;
}

export interface Comparison {
  readonly matched: readonly MatchedReading[];
  /** Readings with a place and a spacing that have no counterpart. */
  readonly onlyBefore: number;
  readonly onlyAfter: number;
  readonly tested: number;
  readonly changed: number;
  readonly common: readonly CommonChange[];
}

/** Fewer than this say nothing of what is common to them. Choice. */
const LEAST_FOR_COMMON = 8;

/**
 * Compares two surveys of the same ground, an earlier and a later one: before and after works, or a dry and a wet season.
 * Readings are matched on the ground by hookup, spacing, place and direction. Each is compared by its ratio to the
 * reference of its own time, so that weather and season, which the reference feels too, drop out. What stands out of the
 * scatter of both is told with the false-discovery control of the later survey's settings; two-probe readings are never
 * more than leads. `tick` hears the share that is done.
 */
export function compareSurveys(before: Findings, after: Findings, tick: Tick = () => undefined): Comparison {
  const plane = planeOf(after);
  if (!plane) return { matched: [], onlyBefore: 0, onlyAfter: 0, tested: 0, changed: 0, common: [] };
  const earlier = laidReadings(before, plane);
  const later = laidReadings(after, plane);
  tick(0.2);
  const pairs = matchReadings(earlier, later);
  tick(0.6);
  const compared = pairs.map(({ p, q, apartM }) => compare(before, after, p, q, apartM));
  const { settings } = after.provenance;
  const tests = compared.filter(({ zScore, hookup }) => zScore !== null && !isTwoProbe(hookup));
  const stands = largestThatStands(
    Float64Array.from(tests, ({ zScore }) => twoSided(zScore as number)),
    settings.falseDiscoveryRate,
    settings.falseDiscoveryMethod,
  );
  const matched = compared.map((reading): MatchedReading => {
    const { zScore, hookup } = reading;
    if (zScore === null || isTwoProbe(hookup)) return reading;
    const isShown = Math.abs(zScore) >= settings.zThreshold && twoSided(zScore) <= stands;
    return isShown ? { ...reading, verdict: zScore > 0 ? 'higher_than_before' : 'lower_than_before' } : reading;
  });
  tick(1);
  return {
    matched,
    onlyBefore: earlier.length - pairs.length,
    onlyAfter: later.length - pairs.length,
    tested: tests.length,
    changed: matched.filter(({ verdict }) => verdict === 'higher_than_before' || verdict === 'lower_than_before')
      .length,
    common: commonChanges(matched),
  };
}

type GroundPlane = ReturnType<typeof localPlane>;

function planeOf({ lines }: Findings): GroundPlane | null {
  const first = lines.find(({ midpoints }) => midpoints.length > 0)?.midpoints[0];
  return first ? localPlane(first.lon, first.lat) : null;
}

function laidReadings({ lines }: Findings, plane: GroundPlane): LaidReading[] {
  return lines.flatMap((line) =>
    line.midpoints.flatMap((midpoint): LaidReading[] => {
      if (midpoint.spacingM === null) return [];
      const [x, y] = plane.toPlane(midpoint.lon, midpoint.lat);
      return [{ line, midpoint, spacingM: midpoint.spacingM, x, y, directionDeg: directionDeg(line, midpoint, plane) }];
    }),
  );
}

function compare(before: Findings, after: Findings, p: LaidReading, q: LaidReading, apartM: number): MatchedReading {
  const [earlier, later] = [p.midpoint, q.midpoint];
  const said = {
    key: later.key,
    lineId: q.line.lineId,
    line: q.line.name,
    chainageM: later.chainageM,
    spacingM: q.spacingM,
    hookup: later.hookup,
    lineBefore: p.line.name,
    chainageBeforeM: earlier.chainageM,
    apartM,
    apartUncertainty95M: Math.hypot(earlier.uncertainty95M, later.uncertainty95M),
    ratioBefore: earlier.ratio,
    ratioAfter: later.ratio,
    figureChange: quotient(later.figureOhmM, earlier.figureOhmM),
  };
  const change = quotient(later.ratio, earlier.ratio);
  const errorLn = change === null ? null : changeErrorLn(before, after, p, q, apartM);
  if (change === null || errorLn === null) {
    const none = { change: null, standardErrorLn: null, zScore: null, smallestChangeShown: null };
    return { ...said, ...none, verdict: 'not_comparable' };
  }
  const { zThreshold } = after.provenance.settings;
  return {
    ...said,
    change,
    standardErrorLn: errorLn,
    zScore: Math.log(change) / errorLn,
    smallestChangeShown: Math.exp(zThreshold * errorLn),
    verdict: isTwoProbe(later.hookup) ? 'lead' : 'no_change_shown',
  };
}

const quotient = (p: number | null, q: number | null): number | null =>
  p !== null && q !== null && p > 0 && q > 0 ? p / q : null;

function commonChanges(matched: readonly MatchedReading[]): CommonChange[] {
  const byHookup = new Map<Hookup, number[]>();
  for (const { hookup, change } of matched) {
    if (change === null) continue;
    const list = byHookup.get(hookup);
    if (list) list.push(Math.log(change));
    else byHookup.set(hookup, [Math.log(change)]);
  }
  return [...byHookup].flatMap(([hookup, lns]) => {
    if (lns.length < LEAST_FOR_COMMON) return [];
    const middle = medianOf(lns);
    const standardErrorLn = robustSigma(lns) * Math.sqrt(medianVariance(lns.length));
    return [{ hookup, readings: lns.length, factor: Math.exp(middle), standardErrorLn }];
  });
}
