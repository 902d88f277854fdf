import { medianDepthM } from '../ground/depth';
import { layoutOf, nominalDistances } from '../ground/layout';
import { createVoidModel, type VoidModel } from '../ground/void-response';
import { roundChamber, roundPassage, type VoidShape } from '../ground/void-shape';
import type { Hookup } from '../survey/hookup';
import { done, type Outcome } from '../survey/outcome';
import { electrodesAt } from './plan';

/** What is looked for, and the array that looks for it. */
export interface PlanTarget {
  readonly kind: 'passage' | 'chamber';
  readonly radiusM: number;
  /** Of its axis or centre. */
  readonly depthM: number;
  /** Of a passage, centred under offset 0. */
  readonly lengthM: number;
  /** Between passage and line; 90 = square to it. */
  readonly bearingDeg: number;
  /** Infinity for air. */
  readonly fillOhmM: number;
  readonly hostOhmM: number;
}

export interface PlanArray {
  readonly hookup: Hookup;
  /** Separation factor of dipole arrays. */
  readonly n: number;
}

/** What a target does to the readings of one spacing as their midpoint goes along the line, offsets growing. */
export interface Profile {
  readonly spacingM: number;
  readonly offsetsM: readonly number[];
  /** ln of the reading over the same without the target. */
  readonly changes: readonly number[];
}

/** Steps along the line, in depths: as fine as half the roof, within these (choice). */
const FINEST_STEP = 1 / 12;
const COARSEST_STEP = 1 / 4;
/** Depths past the outermost electrode, and past the ends of a passage, that are looked at (choice). */
const REACH_DEPTHS = 6;
/** The void is computed without refinement; finer than usual for chambers, whose few panels cost little. */
const CHAMBER_QUARTER_TURN = 8;

export const shapeOf = ({ kind, lengthM }: PlanTarget, radiusM: number): VoidShape =>
  kind === 'chamber' ? roundChamber(radiusM) : roundPassage(radiusM, lengthM);

export const modelOf = (target: PlanTarget, radiusM: number): Outcome<VoidModel> =>
  createVoidModel(shapeOf(target, radiusM), target.depthM, {
    refine: false,
    ...(target.kind === 'chamber' ? { quarterTurn: CHAMBER_QUARTER_TURN } : {}),
  });

/** Every array but pole-dipole reads the same the other way round, as a target centred under offset 0 does. */
export const isEvenHanded = ({ hookup }: PlanArray): boolean => hookup !== 'pole_dipole';

/** Length of line between the outermost electrodes. */
export function spreadM({ hookup, n }: PlanArray, spacingM: number): Outcome<number> {
  const layout = layoutOf({ hookup, midpointM: 0, spacingM, n, innerSpacingM: 0 });
  if (!layout.ok) return layout;
  const places = [layout.value.a, layout.value.b, layout.value.m, layout.value.n].filter((place) => place !== null);
  return done(Math.max(...places) - Math.min(...places));
}

/** Median depth over spacing (Edwards 1977; `medianDepthM`). */
export function medianDepthPerSpacing({ hookup, n }: PlanArray): Outcome<number> {
  const layout = layoutOf({ hookup, midpointM: 0, spacingM: 1, n, innerSpacingM: 1e-3 });
  if (!layout.ok) return layout;
  return done(medianDepthM(nominalDistances(layout.value)) ?? 1);
}

/** Farthest midpoint that is looked at: past the array, the depth, and the passage as far as it runs along the line. */
function reachM({ kind, lengthM, depthM, bearingDeg }: PlanTarget, spread: number): number {
  const alongM = kind === 'passage' ? (lengthM / 2) * Math.abs(Math.cos((bearingDeg * Math.PI) / 180)) : 0;
  return spread / 2 + REACH_DEPTHS * depthM + alongM;
}

/** Refusals: those of `layoutOf` and of the void's answer. */
export function profileOf(
  model: VoidModel,
  target: PlanTarget,
  radiusM: number,
  array: PlanArray,
  spacingM: number,
): Outcome<Profile> {
  const spread = spreadM(array, spacingM);
  if (!spread.ok) return spread;
  const { depthM, bearingDeg, hostOhmM, fillOhmM } = target;
  const roof = 1 - radiusM / depthM;
  const stepM = depthM * Math.max(FINEST_STEP, Math.min(COARSEST_STEP, roof / 2));
  const steps = Math.ceil(reachM(target, spread.value) / stepM);
  const even = isEvenHanded(array);
  const offsets = Array.from({ length: (even ? 0 : steps) + steps + 1 }, (_, i) => (i - (even ? 0 : steps)) * stepM);
  const electrodes = electrodesAt(
    array.hookup,
    array.n,
    offsets.map((offsetM) => ({ spacingM, offsetM })),
  );
  if (!electrodes.ok) return electrodes;
  const place = { xM: 0, yM: 0, depthM, bearingDeg };
  const answer = model.answer({ place, hostOhmM, fillOhmM, electrodes: electrodes.value });
  if (!answer.ok) return answer;
  const changes = answer.value.map(({ ratio }) => Math.log(Math.max(ratio, SMALLEST_RATIO)));
  if (!even) return done({ spacingM, offsetsM: offsets, changes });
  const mirrored = <T>(values: readonly T[], turn: (value: T) => T) => [
    ...values.slice(1).reverse().map(turn),
    ...values,
  ];
  return done({
    spacingM,
    offsetsM: mirrored(offsets, (offset) => -offset),
    changes: mirrored(changes, (change) => change),
  });
}

/** Readings at or below nothing, as a thin roof may make them, count as this ratio. */
const SMALLEST_RATIO = 0.01;

/** Where the change is largest in size, as an index. */
export const strongestAt = ({ changes }: Profile): number =>
  changes.reduce((best, change, i) => (Math.abs(change) > Math.abs(changes[best] as number) ? i : best), 0);

export const effectOf = (profile: Profile): number => Math.abs(profile.changes[strongestAt(profile)] as number);

/** Length of line about the strongest place where the change has its sign and at least half its size, by interpolation. */
export function halfWidthM(profile: Profile): number {
  const { offsetsM, changes } = profile;
  const peak = strongestAt(profile);
  const whole = changes[peak] as number;
  const share = (i: number): number => (changes[i] as number) / whole;
  const edge = (way: 1 | -1): number => {
    let i = peak;
    while (changes[i + way] !== undefined && share(i + way) >= 0.5) i += way;
    const [inner, outer] = [offsetsM[i] as number, offsetsM[i + way]];
    if (outer === undefined) return inner;
    return inner + ((outer - inner) * (share(i) - 0.5)) / (share(i) - share(i + way));
  };
  return edge(1) - edge(-1);
}

/** Farthest offset, to either side, at which the change still has `least` or more; 0 where it has nowhere. */
export const farthestM = ({ offsetsM, changes }: Profile, least: number): number =>
  Math.max(0, ...offsetsM.filter((_, i) => Math.abs(changes[i] as number) >= least).map(Math.abs));
