import { remotesNeededM } from '../ground/finite-remotes';
import { createVoidModel, type VoidModel } from '../ground/void-response';
import { roundChamber, roundPassage } from '../ground/void-shape';
import { type Hookup, isTwoProbe } from '../survey/hookup';
import { done, type Outcome, refuse } from '../survey/outcome';
import { electrodesAt } from './plan';

export interface PlanTarget {
  readonly kind: 'passage' | 'chamber';
  readonly radiusM: number;
  readonly depthM: number;
  readonly lengthM: number;
  readonly bearingDeg: number;
  readonly fillOhmM: number;
  readonly hostOhmM: number;
}

export interface PlannedSpacing {
  readonly spacingM: number;
  /** The largest change of a reading anywhere along the line, and where its midpoint is then. */
  readonly highest: number;
  readonly highestAtM: number;
  readonly lowest: number;
  readonly lowestAtM: number;
}

export interface PlanAdvice {
  readonly spacings: readonly PlannedSpacing[];
  readonly bestSpacingM: number;
  readonly stationStepM: number;
  readonly lineLengthM: number;
  /** Radius of the smallest void of this kind and depth that would show; null where none with a roof would. */
  readonly smallestRadiusM: number | null;
  /** For a pole-pole reading at the widest spacing to be 5 % wrong at most; null for hookups without remotes. */
  readonly remotesM: number | null;
}

/** Spacings as parts of the depth: a ladder in steps of about a half, from above the roof to where the low stands (choice). */
const LADDER = [0.5, 0.75, 1, 1.5, 2, 3, 4, 6] as const;
/** Midpoints on either side that are looked at, as parts of the spacing and of the depth (choice). */
const STEPS = 24;
/** A change shows when it is twice what one reading is uncertain (common practice, no source). */
const SHOWN_SIGMAS = 2;
const REMOTES_SHARE = 0.05;
/** Deepest roofs that are tried when the smallest void is looked for, as parts of the depth. */
const LARGEST_RADIUS = 0.9;

/**
 * How to look for a target: the ladder with what the target does to it, the best spacing, the step between stations
 * (no longer than the smallest spacing, and two stations at least within the anomaly of the best spacing), the length of
 * line that reaches beyond it, the smallest target that would show at a relative `noise`, and how far remotes must be.
 * Refusals: `two_probe_sees_no_void`, `noise_out_of_range`, and those of the void.
 */
export function planSurvey(target: PlanTarget, hookup: Hookup, noise: number, n = 1): Outcome<PlanAdvice> {
  if (isTwoProbe(hookup)) {
    return refuse(
      'two_probe_sees_no_void',
      'A two-probe reading is mostly contact: no void can be planned for with it.',
    );
  }
  if (!(noise > 0 && noise < 1))
    return refuse('noise_out_of_range', 'Give the noise as a share, such as 0.03 for 3 %.');
  const { depthM } = target;
  const model = modelOf(target, target.radiusM);
  if (!model.ok) return model;
  const ladder = LADDER.map((share) => Number((share * depthM).toPrecision(2)));
  const spacings: PlannedSpacing[] = [];
  let anomalyM = 0;
  let best = { effect: -1, spacingM: 0 };
  for (const spacingM of ladder) {
    const profile = profileOf(model.value, target, hookup, n, spacingM);
    if (!profile.ok) return profile;
    const change = extremesOf(spacingM, profile.value);
    spacings.push(change);
    const effect = Math.max(change.highest, -change.lowest);
    if (effect <= best.effect) continue;
    best = { effect, spacingM };
    const stand = profile.value.filter(({ ratio }) => Math.abs(ratio - 1) >= effect / 2).map(({ offsetM }) => offsetM);
    anomalyM = Math.max(...stand) - Math.min(...stand);
  }
  const smallestSpacing = ladder[0] as number;
  const widest = ladder[ladder.length - 1] as number;
  const remotes = hookup === 'pole_pole' ? remotesNeededM(widest, REMOTES_SHARE, 'in_line') : null;
  if (remotes && !remotes.ok) return remotes;
  return done({
    spacings,
    bestSpacingM: best.spacingM,
    stationStepM: Number(Math.min(smallestSpacing, Math.max(anomalyM / 2, smallestSpacing / 4)).toPrecision(2)),
    lineLengthM: Math.ceil(2 * (widest + 2 * depthM)),
    smallestRadiusM: smallestRadius(target, hookup, n, best.spacingM, SHOWN_SIGMAS * noise),
    remotesM: remotes ? Math.ceil(remotes.value) : null,
  });
}

const modelOf = (target: PlanTarget, radiusM: number): Outcome<VoidModel> =>
  createVoidModel(
    target.kind === 'chamber' ? roundChamber(radiusM) : roundPassage(radiusM, target.lengthM),
    target.depthM,
    { refine: false },
  );

interface ProfilePoint {
  readonly offsetM: number;
  readonly ratio: number;
}

function profileOf(
  model: VoidModel,
  { depthM, bearingDeg, hostOhmM, fillOhmM }: PlanTarget,
  hookup: Hookup,
  n: number,
  spacingM: number,
): Outcome<readonly ProfilePoint[]> {
  const reachM = spacingM + 2 * depthM;
  const offsets = Array.from({ length: 2 * STEPS + 1 }, (_, i) => ((i - STEPS) * reachM) / STEPS);
  const electrodes = electrodesAt(
    hookup,
    n,
    offsets.map((offsetM) => ({ spacingM, offsetM })),
  );
  if (!electrodes.ok) return electrodes;
  const place = { xM: 0, yM: 0, depthM, bearingDeg };
  const answer = model.answer({ place, hostOhmM, fillOhmM, electrodes: electrodes.value });
  if (!answer.ok) return answer;
  return done(answer.value.map(({ ratio }, i) => ({ offsetM: offsets[i] as number, ratio })));
}

function extremesOf(spacingM: number, profile: readonly ProfilePoint[]): PlannedSpacing {
  const high = profile.reduce((p, q) => (q.ratio > p.ratio ? q : p));
  const low = profile.reduce((p, q) => (q.ratio < p.ratio ? q : p));
  return {
    spacingM,
    highest: high.ratio - 1,
    highestAtM: Math.abs(high.offsetM),
    lowest: low.ratio - 1,
    lowestAtM: Math.abs(low.offsetM),
  };
}

/** By halving: the effect of a void grows with its radius. */
function smallestRadius(target: PlanTarget, hookup: Hookup, n: number, spacingM: number, shown: number): number | null {
  const shows = (radiusM: number): boolean => {
    const model = modelOf(target, radiusM);
    const profile = model.ok ? profileOf(model.value, target, hookup, n, spacingM) : model;
    return profile.ok && profile.value.some(({ ratio }) => Math.abs(ratio - 1) >= shown);
  };
  let [small, large] = [0.02 * target.depthM, LARGEST_RADIUS * target.depthM];
  if (!shows(large)) return null;
  for (let i = 0; i < 9; i += 1) {
    const middle = (small + large) / 2;
    if (shows(middle)) large = middle;
    else small = middle;
  }
  return large;
}
