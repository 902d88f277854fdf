import { largestThatStands, twoSided } from '../evidence/false-discovery';
import { medianOf, medianVariance, robustSigma } from '../evidence/robust';
import type { Findings, MidpointFinding } from '../findings';
import { localPlane } from '../position/crs';
import { type Hookup, isTwoProbe } from '../survey/hookup';
import type { LineId } from '../survey/ids';
import { changeError, plainRatio } from './compare-errors';
import { directionDeg, type LaidReading, matchReadings } from './compare-match';
import { zThatShows } from './compare-shown';
import type { Tick } from './study-key';

/** What a matched reading says of what happened in between. `hint`: two probes, whose figure is mostly contact. */
export type ChangeVerdict = 'higher_than_before' | 'lower_than_before' | 'no_change_shown' | 'hint' | 'not_comparable';

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
  /** To the reference of its own time as it is: a level that was taken out of a line is in it. */
  readonly ratioBefore: number | null;
  readonly ratioAfter: number | null;
  /** Later figure over earlier one, with season, contact and all. */
  readonly figureChange: number | null;
  /** Later ratio to the reference over the earlier one. */
  readonly change: number | null;
  /** Of ln(change). */
  readonly standardErrorLn: number | null;
  readonly zScore: number | null;
  /** A change by this factor or its inverse would have shown in four of five surveys like these. */
  readonly smallestChangeShown: number | null;
  readonly verdict: ChangeVerdict;
  /** Why it is not comparable; null where it is. */
  readonly reason: NotComparable | null;
}

/**
 * `same_reading`: both surveys hold this very reading. `other_basis`: one ratio is to a reference, the other to the site's
 * own median. `no_ratio`: over range, rejected, or without a reference.
 */
export type NotComparable = 'same_reading' | 'other_basis' | 'no_ratio';

/** What all readings of a hookup did together. */
export interface CommonChange {
  readonly hookup: Hookup;
  readonly readings: number;
  readonly factor: number;
  /** Of ln(factor), with that of the level of both references, which all of them share. */
  readonly standardErrorLn: number;
}

export interface Comparison {
  readonly matched: readonly MatchedReading[];
  /** Readings with a place and a spacing that have no counterpart. */
  readonly onlyBefore: number;
  readonly onlyAfter: number;
  readonly tested: number;
  readonly changed: number;
  /** |z| from which one more reading would have stood out, with all the chances of this comparison counted. */
  readonly zShown: number;
  readonly common: readonly CommonChange[];
}

/** Fewer than this say nothing of what is common to them. Choice. */
const LEAST_FOR_COMMON = 8;

/**
 * Compares two surveys of the same ground, an earlier and a later one: before and after works, or a dry and a wet season.
 * Readings are matched on the ground by hookup, spacing, place and direction. Each is compared by its ratio to the
 * reference of its own time, so that weather and season, which the reference feels too, drop out. What stands out of the
 * scatter of both is told with the false-discovery control of the later survey's settings; two-probe readings are never
 * more than hints. `tick` hears the share that is done.
 */
export function compareSurveys(before: Findings, after: Findings, tick: Tick = () => undefined): Comparison {
  const plane = planeOf(after);
  const { settings } = after.provenance;
  if (!plane) {
    const none = { onlyBefore: 0, onlyAfter: 0, tested: 0, changed: 0, zShown: settings.zThreshold };
    return { matched: [], ...none, common: [] };
  }
  const earlier = laidReadings(before, plane);
  const later = laidReadings(after, plane);
  tick(0.2);
  const pairs = matchReadings(earlier, later);
  tick(0.6);
  const compared = pairs.map(({ p, q, apartM }) => compare(before, after, p, q, apartM));
  const tests = compared.flatMap(({ reading: { zScore, hookup } }) =>
    zScore !== null && !isTwoProbe(hookup) ? [twoSided(zScore)] : [],
  );
  const pValues = Float64Array.from(tests);
  const stands = largestThatStands(pValues, settings.falseDiscoveryRate, settings.falseDiscoveryMethod);
  const zShown = zThatShows(pValues, stands, settings);
  const matched = compared.map(({ reading }): MatchedReading => {
    const { zScore, standardErrorLn, hookup } = reading;
    if (zScore === null || standardErrorLn === null) return reading;
    const judged = { ...reading, smallestChangeShown: changeFound(zShown, standardErrorLn) };
    if (isTwoProbe(hookup)) return judged;
    const isShown = Math.abs(zScore) >= settings.zThreshold && twoSided(zScore) <= stands;
    return isShown ? { ...judged, verdict: zScore > 0 ? 'higher_than_before' : 'lower_than_before' } : judged;
  });
  tick(1);
  return {
    matched,
    onlyBefore: earlier.length - pairs.length,
    onlyAfter: later.length - pairs.length,
    tested: tests.length,
    changed: matched.filter(({ verdict }) => verdict === 'higher_than_before' || verdict === 'lower_than_before')
      .length,
    zShown,
    common: commonChanges(compared),
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

interface Compared {
  readonly reading: MatchedReading;
  readonly sharedLn: number;
}

function compare(before: Findings, after: Findings, p: LaidReading, q: LaidReading, apartM: number): Compared {
  const [earlier, later] = [p.midpoint, q.midpoint];
  const [ratioBefore, ratioAfter] = [plainRatio(p)?.ratio ?? null, plainRatio(q)?.ratio ?? null];
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
    ratioBefore,
    ratioAfter,
    figureChange: quotient(later.figureOhmM, earlier.figureOhmM),
    smallestChangeShown: null,
  };
  const change = quotient(ratioAfter, ratioBefore);
  const error = change === null ? null : changeError(before, after, p, q, apartM);
  const reason = change === null || !error ? 'no_ratio' : whyNot(earlier, later);
  if (change === null || !error || reason) {
    const none = { change: null, standardErrorLn: null, zScore: null };
    return { reading: { ...said, ...none, verdict: 'not_comparable', reason }, sharedLn: 0 };
  }
  const { standardErrorLn, sharedLn } = error;
  const zScore = Math.log(change) / standardErrorLn;
  const verdict = isTwoProbe(later.hookup) ? 'hint' : 'no_change_shown';
  return { reading: { ...said, change, standardErrorLn, zScore, verdict, reason }, sharedLn };
}

/** A reading that both surveys hold tells nothing of what came in between, and a median of the site is no reference. */
function whyNot(earlier: MidpointFinding, later: MidpointFinding): NotComparable | null {
  const isSame =
    later.readings.some((id) => earlier.readings.includes(id)) &&
    later.figureOhmM === earlier.figureOhmM &&
    later.measuredAt === earlier.measuredAt;
  if (isSame) return 'same_reading';
  const [wasMedian, isMedian] = [earlier, later].map(({ referenceBasis }) => referenceBasis === 'site_median');
  return wasMedian === isMedian ? null : 'other_basis';
}

/** What a normal number lies below with 80 %. */
const Z_OF_80 = 0.8416;

const changeFound = (zShown: number, standardErrorLn: number): number => Math.exp((zShown + Z_OF_80) * standardErrorLn);

const quotient = (p: number | null, q: number | null): number | null =>
  p !== null && q !== null && p > 0 && q > 0 ? p / q : null;

function commonChanges(compared: readonly Compared[]): CommonChange[] {
  const byHookup = new Map<Hookup, { readonly ln: number; readonly sharedLn: number }[]>();
  for (const { reading, sharedLn } of compared) {
    if (reading.change === null) continue;
    const one = { ln: Math.log(reading.change), sharedLn };
    const list = byHookup.get(reading.hookup);
    if (list) list.push(one);
    else byHookup.set(reading.hookup, [one]);
  }
  return [...byHookup].flatMap(([hookup, list]) => {
    if (list.length < LEAST_FOR_COMMON) return [];
    const lns = list.map(({ ln }) => ln);
    const middle = medianOf(lns);
    const ownLn = robustSigma(lns) * Math.sqrt(medianVariance(lns.length));
    const standardErrorLn = Math.hypot(ownLn, medianOf(list.map(({ sharedLn }) => sharedLn)));
    return [{ hookup, readings: lns.length, factor: Math.exp(middle), standardErrorLn }];
  });
}
