import type { LevelFinding, Settings } from '../findings';
import { HOOKUP_LABEL, type Hookup, isTwoProbe } from '../survey/hookup';
import { ratioText } from '../survey/wording';
import type { ScoredPlace } from './doubts/doubt-context';
import type { Place } from './place';
import { medianOf, medianVariance, robustSigma } from './robust';
import { gradeOf, type Score } from './score';

/** Stations needed beyond all that stands out. */
const FEWEST_STATIONS = 5;
/** A station stands out from its line by this many robust standard deviations (choice). */
const OUTSTANDING_SIGMAS = 2.5;
/** A level is only taken out when it is this many standard errors from none, and would by itself make a grade. */
const CERTAIN_SIGMAS = 3;

interface Station {
  readonly chainageM: number;
  /** Mean of ln(ratio) over the ladder. */
  readonly lnRatio: number;
  /** Variance of the reference's own level, which all stations share. */
  readonly referenceVariance: number;
}

/** The level of each hookup's ladders of a line against the reference. Levels that lie within their error of 1 are told too. */
export function levelsOf(
  ladders: readonly (readonly Place[])[],
  scores: readonly ScoredPlace[],
  settings: Settings,
): readonly LevelFinding[] {
  const byHookup = new Map<Hookup, Station[]>();
  const widest = new Map<Hookup, number>();
  for (const ladder of ladders) {
    const station = stationOf(ladder, scores, settings);
    const [first] = ladder;
    if (!station || !first) continue;
    const own = byHookup.get(first.hookup);
    if (own) own.push(station);
    else byHookup.set(first.hookup, [station]);
    const last = ladder[ladder.length - 1]?.spacingM ?? 0;
    if (last > (widest.get(first.hookup) ?? 0)) widest.set(first.hookup, last);
  }
  return [...byHookup].map(([hookup, stations]) => levelFrom(hookup, stations, widest.get(hookup) ?? 0, settings));
}

function stationOf(ladder: readonly Place[], scores: readonly ScoredPlace[], settings: Settings): Station | null {
  let sum = 0;
  let variance = 0;
  let count = 0;
  for (const { index } of ladder) {
    const score = scores[index]?.score;
    // Against the site's own median a line on other soil has had a part in what it is compared with.
    if (!score || score.lnRatio === null || score.basis === 'site_median') continue;
    sum += score.lnRatio;
    const ofMedian = medianVariance(score.stations ?? 1);
    // A reading's error is its own and the reference's scatter times 1 + this.
    const others = (score.standardErrorLn ?? 0) ** 2 - settings.standardErrorFloor ** 2;
    variance += (Math.max(0, others) * ofMedian) / (1 + ofMedian);
    count += 1;
  }
  return count === 0
    ? null
    : { chainageM: ladder[0]?.chainageM ?? 0, lnRatio: sum / count, referenceVariance: variance / count };
}

function levelFrom(hookup: Hookup, stations: readonly Station[], widestM: number, settings: Settings): LevelFinding {
  const values = stations.map(({ lnRatio }) => lnRatio);
  const middle = medianOf(values);
  const allowed = OUTSTANDING_SIGMAS * Math.max(robustSigma(values), settings.standardErrorFloor);
  const outstanding = stations.filter(({ lnRatio }) => Math.abs(lnRatio - middle) > allowed);
  const beyond =
    outstanding.length === 0
      ? stations
      : stations.filter(({ chainageM }) => outstanding.every((one) => Math.abs(one.chainageM - chainageM) > widestM));
  const count = beyond.length;
  if (count < FEWEST_STATIONS) {
    return {
      hookup,
      factor: null,
      standardErrorLn: null,
      stations: count,
      takenOut: false,
      sentence: `${HOOKUP_LABEL[hookup]}: a level of other soil is not separable from what stands out: ${count} of ${stations.length} stations lie beyond it, and ${FEWEST_STATIONS} are needed.`,
    };
  }
  const own = beyond.map(({ lnRatio }) => lnRatio);
  const ln = medianOf(own);
  const scatterLn = Math.max(robustSigma(own), settings.standardErrorFloor);
  const referenceVariance = beyond.reduce((sum, station) => sum + station.referenceVariance, 0) / count;
  const standardErrorLn = Math.sqrt(scatterLn ** 2 * medianVariance(apartCount(beyond, widestM)) + referenceVariance);
  const factor = Math.exp(ln);
  const least = (isTwoProbe(hookup) ? settings.ratioBreaksTwoProbe : settings.ratioBreaks)[0];
  const matters = Math.abs(ln) > CERTAIN_SIGMAS * standardErrorLn && Math.abs(ln) >= Math.log(least);
  const takenOut = matters && settings.takeOutLevel;
  const stands = `${HOOKUP_LABEL[hookup]}: the line as a whole stands at ${ratioText(factor)} times its reference (${count} stations)`;
  return {
    hookup,
    factor,
    standardErrorLn,
    stations: count,
    takenOut,
    sentence: takenOut
      ? `${stands}, as over other soil; that is taken out of its ratios, which are against the reference times ${ratioText(factor)}.`
      : `${stands}; its ratios are against the reference as it is.`,
  };
}

/** How many of the stations look at ground of their own: those within one spacing share theirs. */
function apartCount(stations: readonly Station[], widestM: number): number {
  const chainages = stations.map(({ chainageM }) => chainageM);
  const reachM = Math.max(...chainages) - Math.min(...chainages);
  return Math.min(stations.length, widestM > 0 ? 1 + Math.floor(reachM / widestM) : stations.length);
}

/** Scores against reference × level, for hookups whose level is taken out; the others as they are. */
export function withoutLevels(
  scored: readonly ScoredPlace[],
  levels: readonly LevelFinding[],
  settings: Settings,
): readonly ScoredPlace[] {
  const out = new Map(levels.filter(({ takenOut }) => takenOut).map((level) => [level.hookup, level]));
  if (out.size === 0) return scored;
  return scored.map((one) => {
    const level = out.get(one.place.hookup);
    return level ? { place: one.place, score: against(one, level, settings) } : one;
  });
}

function against({ place, score }: ScoredPlace, level: LevelFinding, settings: Settings): Score {
  const { lnRatio, standardErrorLn, referenceOhmM, basis } = score;
  if (lnRatio === null || standardErrorLn === null || referenceOhmM === null || basis === 'site_median') return score;
  const factor = level.factor as number;
  const ln = lnRatio - Math.log(factor);
  const ratio = Math.exp(ln);
  const errorLn = Math.hypot(standardErrorLn, level.standardErrorLn as number);
  const zScore = ln / errorLn;
  return {
    ...score,
    referenceOhmM: referenceOhmM * factor,
    lnRatio: ln,
    ratio,
    standardErrorLn: errorLn,
    ratioStandardError: ratio * errorLn,
    zScore,
    grade: gradeOf(place.hookup, ratio, zScore, settings),
    sign: ratio >= 1 ? 'above_reference' : 'below_reference',
  };
}
