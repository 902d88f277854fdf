import type { VoidModel } from '../ground/void-response';
import { type Hookup, isTwoProbe } from '../survey/hookup';
import { done, type Outcome, refuse } from '../survey/outcome';
import { ladderFor, markBelowM } from './plan-ladder';
import {
  effectOf,
  farthestM,
  halfWidthM,
  isEvenHanded,
  medianDepthPerSpacing,
  modelOf,
  type PlanArray,
  type PlanTarget,
  type Profile,
  profileOf,
  shapeOf,
  spreadM,
} from './plan-profile';
import { remotesFor } from './plan-remotes';
import { twoProbeChange, twoProbeSentence } from './plan-two-probe';

export type { PlanTarget } from './plan-profile';

export interface PlannedSpacing {
  readonly spacingM: number;
  /**
   * The largest change of a reading anywhere along the line, and where its midpoint is then: metres from the target, to
   * either side alike; signed for pole-dipole only, below 0 on the side that its single rod is on.
   */
  readonly highest: number;
  readonly highestAtM: number;
  readonly lowest: number;
  readonly lowestAtM: number;
  /** Whether it is changed by two standard errors somewhere. */
  readonly shows: boolean;
}

export interface PlanAdvice {
  readonly spacings: readonly PlannedSpacing[];
  /** The closest spacing that shows the target nearly as well as any. */
  readonly bestSpacingM: number;
  readonly stationStepM: number;
  /** Between the outermost electrodes, with the target in the middle. */
  readonly lineLengthM: number;
  /** How far to either side of the target a midpoint still has a reading changed by one standard error; 0 = none has. */
  readonly anomalyReachM: number;
  /** Radius of the smallest void of this kind and depth that would show; null where none with a roof would. */
  readonly smallestRadiusM: number | null;
  /** For a reading at the widest spacing to be `remotesShare` wrong at most; null for hookups without remotes. */
  readonly remotesM: number | null;
  readonly remotesShare: number;
}

/** A change shows when it is twice what one reading is uncertain (common practice, no source). */
const SHOWN_SIGMAS = 2;
/** Beyond the anomaly no reading is changed by more than one standard error (choice). */
const OVER_SIGMAS = 1;
/** Stations beyond the anomaly on either side: six, where five at least are needed to tell a site's own level (choice). */
const STATIONS_BEYOND = 3;
/** As good as the best, so that a shorter spacing is not passed over for nothing (choice). */
const NEARLY = 0.95;
/** What remotes that are too near may cost a reading (choice; it is nearly the same at every station of a spacing). */
const REMOTES_SHARE = 0.05;
/** Largest and smallest void that is tried when the smallest is looked for, in depths, and how closely it is found. */
const LARGEST_RADIUS = 0.9;
const SMALLEST_RADIUS = 0.02;
const CLOSELY = 0.01;

/**
 * How to look for a target that one reading shows with a relative standard error of `noise`: a ladder on marks of the tape
 * with what the target does to it; the best spacing; the step between stations, no longer than the smallest spacing and
 * than half of the stretch on which the best spacing shows half its effect, so that two stations at least fall on it; the
 * length of line that holds the anomaly of every spacing, `STATIONS_BEYOND` stations more on either side and the widest
 * array; the smallest target that any spacing of the ladder would show at its best place; how far remotes must be.
 * Refusals: `two_probe_sees_no_void`, `noise_out_of_range`, `layout_not_given`, and those of the void.
 */
export function planSurvey(
  target: PlanTarget,
  hookup: Hookup,
  noise: number,
  n = 1,
  tick: (fraction: number) => void = () => undefined,
): Outcome<PlanAdvice> {
  if (!(noise > 0 && noise < 1)) {
    return refuse('noise_out_of_range', 'Give the noise as a share, such as 0.03 for 3 %.');
  }
  const model = modelOf(target, target.radiusM);
  if (!model.ok) return model;
  if (isTwoProbe(hookup)) return twoProbeRefusal(target);
  const array = { hookup, n };
  const median = medianDepthPerSpacing(array);
  if (!median.ok) return median;
  const tried = profilesOf(model.value, target, target.radiusM, array, ladderFor(target.depthM, median.value));
  if (!tried.ok) return tried;
  tick(0.1);
  const { profiles, best } = worthReading(tried.value, SHOWN_SIGMAS * noise);
  const ladder = profiles.map(({ spacingM }) => spacingM);
  const stationStepM = markBelowM(Math.min(ladder[0] as number, halfWidthM(best) / 2));
  const anomalyReachM = Math.max(...profiles.map((profile) => farthestM(profile, OVER_SIGMAS * noise)));
  const widest = ladder[ladder.length - 1] as number;
  const spread = spreadM(array, widest);
  if (!spread.ok) return spread;
  const remotes = remotesFor(array, widest, REMOTES_SHARE);
  if (!remotes.ok) return remotes;
  const smallest = smallestRadius(target, array, ladder, SHOWN_SIGMAS * noise, tick);
  if (!smallest.ok) return smallest;
  tick(1);
  return done({
    spacings: profiles.map((profile) => plannedSpacing(profile, isEvenHanded(array), SHOWN_SIGMAS * noise)),
    bestSpacingM: best.spacingM,
    stationStepM,
    lineLengthM: Math.ceil(2 * (anomalyReachM + STATIONS_BEYOND * stationStepM) + spread.value),
    anomalyReachM,
    smallestRadiusM: smallest.value,
    remotesM: remotes.value === null ? null : Math.ceil(remotes.value),
    remotesShare: REMOTES_SHARE,
  });
}

/** The best, and those worth reading: up to one wider than any that shows, and two wider than the best (choice). */
function worthReading(tried: readonly Profile[], shown: number): { profiles: readonly Profile[]; best: Profile } {
  const effects = tried.map(effectOf);
  const most = Math.max(...effects);
  const best = effects.findIndex((effect) => effect >= NEARLY * most);
  const widestShown = effects.findLastIndex((effect) => effect >= shown);
  return { profiles: tried.slice(0, Math.max(best + 2, widestShown + 1) + 1), best: tried[best] as Profile };
}

function twoProbeRefusal(target: PlanTarget): Outcome<never> {
  const { depthM } = target;
  const steps = Array.from({ length: 17 }, (_, i) => ((i - 8) * depthM) / 2);
  const places = ladderFor(depthM, Math.sqrt(3) / 2).flatMap((spacingM) =>
    steps.map((offsetM) => ({ spacingM, offsetM })),
  );
  const change = twoProbeChange({ ...target, shape: shapeOf(target, target.radiusM) }, places);
  return change.ok ? refuse('two_probe_sees_no_void', twoProbeSentence(change.value)) : change;
}

function profilesOf(
  model: VoidModel,
  target: PlanTarget,
  radiusM: number,
  array: PlanArray,
  ladder: readonly number[],
): Outcome<readonly Profile[]> {
  const profiles: Profile[] = [];
  for (const spacingM of ladder) {
    const profile = profileOf(model, target, radiusM, array, spacingM);
    if (!profile.ok) return profile;
    profiles.push(profile.value);
  }
  return done(profiles);
}

function plannedSpacing({ spacingM, offsetsM, changes }: Profile, even: boolean, shown: number): PlannedSpacing {
  const atLeast = (sign: 1 | -1): number =>
    changes.reduce((best, change, i) => (sign * change > sign * (changes[best] as number) ? i : best), 0);
  const [high, low] = [atLeast(1), atLeast(-1)];
  const placeOf = (i: number): number => (even ? Math.abs(offsetsM[i] as number) : (offsetsM[i] as number));
  return {
    spacingM,
    highest: Math.expm1(changes[high] as number),
    highestAtM: placeOf(high),
    lowest: Math.expm1(changes[low] as number),
    lowestAtM: placeOf(low),
    shows: Math.max(Math.abs(changes[high] as number), Math.abs(changes[low] as number)) >= shown,
  };
}

/** By false position in ln radius against ln effect, which is nearly straight; the effect grows with the radius. */
function smallestRadius(
  target: PlanTarget,
  array: PlanArray,
  ladder: readonly number[],
  shown: number,
  tick: (fraction: number) => void,
): Outcome<number | null> {
  const effectAt = (radiusM: number): Outcome<number> => {
    const model = modelOf(target, radiusM);
    if (!model.ok) return model;
    const profiles = profilesOf(model.value, target, radiusM, array, ladder);
    return profiles.ok ? done(Math.max(...profiles.value.map(effectOf))) : profiles;
  };
  let [small, large] = [SMALLEST_RADIUS * target.depthM, LARGEST_RADIUS * target.depthM];
  const [first, last] = [effectAt(small), effectAt(large)];
  if (!first.ok) return first;
  if (!last.ok) return last;
  if (last.value < shown) return done(null);
  if (first.value >= shown) return done(small);
  let [below, above] = [Math.log(first.value / shown), Math.log(last.value / shown)];
  for (let i = 0; i < 30 && large / small > 1 + CLOSELY; i += 1) {
    tick(0.1 + 0.8 * (1 - 1 / (i + 2)));
    // Just over the straight line's crossing and just under it by turns, so that both ends close in.
    const slant = (Math.log(small) * above - Math.log(large) * below) / (above - below);
    const nudge = (i % 2 === 0 ? 0.4 : -0.4) * CLOSELY;
    const inside = Math.exp(slant + nudge);
    const tried = inside > small && inside < large ? inside : Math.sqrt(small * large);
    const effect = effectAt(tried);
    if (!effect.ok) return effect;
    const over = Math.log(effect.value / shown);
    if (over >= 0) [large, above] = [tried, over];
    else [small, below] = [tried, over];
  }
  return done(large);
}
