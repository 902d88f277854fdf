import type { LadderErrors } from './ladder-errors';
import { PROFILE_95 } from './ladder-rivals';
import type { Layout } from './layout';
import { TRIED_VOIDS, type TriedVoid, type VoidTable } from './void-table';
import { evenSteps, type Filling, isAlikeFromBothEnds, type VoidBounds, voidSteps, walkVoids } from './void-walk';

/** Everything that is within 95 % of the best fit, and its middle; open where it reaches the bound of what was tried. */
export interface ProfiledRange {
  /**
   * Half of the profile likelihood, exp(−χ²/2), lies to either side; depths and offsets count by the metre, radii by their
   * ln (choice). Steadier than the very best fit, which may lie at either end of a long flat valley.
   */
  readonly middle: number;
  readonly low95: number;
  readonly high95: number;
  readonly openLow: boolean;
  readonly openHigh: boolean;
}

export interface BestVoid {
  readonly chiSquare: number;
  readonly tried: TriedVoid;
  /** Axis or centre below ground, m. */
  readonly depthM: ProfiledRange;
  readonly radiusM: ProfiledRange;
  /**
   * How far its middle is from the midpoint along the line, m; 0 for a passage along the line. With the side only where
   * the array tells sides apart.
   */
  readonly offsetM: ProfiledRange;
  readonly bySide: boolean;
  /** Least χ² of those whose middle is no deeper than was asked; Infinity where none was tried. */
  readonly shallowChiSquare: number;
}

/** A body that conducts is only a rival: how well it fits is asked, not where it is. */
const COUNTS = {
  air: { depths: 44, sizes: 27, offsets: 23 },
  conductor: { depths: 26, sizes: 14, offsets: 14 },
};
const RADII = 60;

/**
 * The body that best explains a ladder, a level shift left free, over a grid of kinds, depths, sizes and offsets; and for
 * depth, radius and offset each the range within which χ², everything else fitted anew, rises by no more than 3.84
 * (profile likelihood). What is tried and not excluded is in the range: no prior is put on anything but the bounds.
 * `shallowM`: what `shallowChiSquare` counts as shallow.
 */
export function bestVoid(
  table: VoidTable,
  filling: Filling,
  errors: LadderErrors,
  lnRatio: Float64Array,
  layouts: readonly Layout[],
  midpointM: number,
  bounds: VoidBounds,
  shallowM: number,
): BestVoid | null {
  const bySide = layouts.some((layout) => !isAlikeFromBothEnds(layout, midpointM));
  const steps = voidSteps(bounds, bySide, COUNTS[filling]);
  const lnSmallest = Math.log(bounds.smallestRadiusM);
  const lnSpan = Math.log(bounds.largestRadiusM) - lnSmallest;
  const radiiM = evenSteps(RADII, lnSmallest, lnSmallest + lnSpan).map(Math.exp);
  const profiles = {
    depth: filled(steps.depthsM.length),
    radius: filled(RADII),
    offset: filled(steps.offsetsM.length),
  };
  const rest = new Float64Array(layouts.length);
  let best = { chiSquare: Infinity, tried: 0 };
  walkVoids(table, filling, layouts, midpointM, bounds, steps, (tried, d, s, o, lnOfVoid) => {
    for (let k = 0; k < rest.length; k += 1) rest[k] = (lnRatio[k] as number) - (lnOfVoid[k] as number);
    const chiSquare = errors.chiSquare(rest);
    const radiusM = (steps.shares[s] as number) * (steps.depthsM[d] as number);
    lower(profiles.depth, d, chiSquare);
    lower(profiles.radius, Math.round(((Math.log(radiusM) - lnSmallest) / lnSpan) * (RADII - 1)), chiSquare);
    lower(profiles.offset, o, chiSquare);
    if (chiSquare < best.chiSquare) best = { chiSquare, tried };
  });
  if (best.chiSquare === Infinity) return null;
  return {
    chiSquare: best.chiSquare,
    tried: TRIED_VOIDS[best.tried] as TriedVoid,
    depthM: profiledRange(profiles.depth, steps.depthsM, best.chiSquare, steps.depthsM),
    radiusM: profiledRange(profiles.radius, radiiM, best.chiSquare),
    offsetM: profiledRange(profiles.offset, steps.offsetsM, best.chiSquare),
    bySide,
    shallowChiSquare: steps.depthsM.reduce(
      (least, depthM, d) => (depthM <= shallowM ? Math.min(least, profiles.depth[d] as number) : least),
      Infinity,
    ),
  };
}

const filled = (count: number): Float64Array => new Float64Array(count).fill(Infinity);

function lower(profile: Float64Array, at: number, chiSquare: number): void {
  if (chiSquare < (profile[at] as number)) profile[at] = chiSquare;
}

/**
 * The outermost values whose χ² is within 3.84 of the lowest, read between the values that were tried (Infinity = not
 * tried). `counts` is what each step counts.
 */
export function profiledRange(
  profile: Float64Array,
  values: readonly number[],
  lowest: number,
  counts?: readonly number[],
): ProfiledRange {
  const limit = lowest + PROFILE_95;
  const known = [...profile.keys()].filter((i) => Number.isFinite(profile[i] as number));
  const within = known.filter((i) => (profile[i] as number) <= limit);
  const [first, last] = [within[0] as number, within[within.length - 1] as number];
  const end = (i: number, step: -1 | 1): number => {
    const outside = known[known.indexOf(i) + step];
    const own = values[i] as number;
    if (outside === undefined) return own;
    const share = (limit - (profile[i] as number)) / ((profile[outside] as number) - (profile[i] as number));
    return own + share * ((values[outside] as number) - own);
  };
  const [low95, high95] = [end(first, -1), end(last, 1)];
  return {
    middle: Math.min(
      high95,
      Math.max(
        low95,
        middleOf(
          values,
          profile.map((chiSquare, i) => Math.exp((lowest - chiSquare) / 2) * (counts?.[i] ?? 1)),
        ),
      ),
    ),
    low95,
    high95,
    openLow: first === known[0],
    openHigh: last === known[known.length - 1],
  };
}

function middleOf(values: readonly number[], weights: Float64Array): number {
  let left = weights.reduce((sum, weight) => sum + weight, 0) / 2;
  let i = 0;
  for (; left > (weights[i] as number) && i < weights.length - 1; i += 1) left -= weights[i] as number;
  const at = Math.min(weights.length - 1, Math.max(0, i - 0.5 + left / (weights[i] as number)));
  const [below, above] = [values[Math.floor(at)] as number, values[Math.ceil(at)] as number];
  return below + (at - Math.floor(at)) * (above - below);
}
