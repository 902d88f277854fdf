import type { LadderErrors } from './ladder-errors';
import { PROFILE_95 } from './ladder-rivals';
import type { Layout } from './layout';
import { LARGEST_SHARE, SMALLEST_SHARE, TRIED_VOIDS, type TriedVoid, type VoidTable } from './void-table';

/** A value with everything that is within 95 % of the best fit; open where that reaches the bound of what was tried. */
export interface ProfiledRange {
  readonly best: number;
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
  /** ln(ratio) that it makes at each reading, without the level shift. */
  readonly lnRatio: Float64Array;
}

export interface VoidBounds {
  readonly shallowestM: number;
  readonly deepestM: number;
  readonly smallestRadiusM: number;
  readonly largestRadiusM: number;
  readonly farthestM: number;
}

const DEPTHS = 44;
const SIZES = 27;
const OFFSETS = 23;
const RADII = 60;

/**
 * The void that best explains a ladder, a level shift left free, over a grid of kinds, depths, sizes and offsets; and for
 * depth, radius and offset each the range within which χ², everything else fitted anew, rises by no more than 3.84
 * (profile likelihood). What is tried and not excluded is in the range: no prior is put on anything but the bounds.
 */
export function bestVoid(
  table: VoidTable,
  errors: LadderErrors,
  lnRatio: Float64Array,
  layouts: readonly Layout[],
  midpointM: number,
  bounds: VoidBounds,
): BestVoid | null {
  const n = layouts.length;
  const bySide = layouts.some((layout) => !isAlikeFromBothEnds(layout, midpointM));
  const depths = even(DEPTHS, Math.log(bounds.shallowestM), Math.log(bounds.deepestM)).map(Math.exp);
  const shares = even(SIZES, SMALLEST_SHARE, LARGEST_SHARE);
  const offsets = even(bySide ? 2 * OFFSETS - 1 : OFFSETS, bySide ? -bounds.farthestM : 0, bounds.farthestM);
  const radii = even(RADII, Math.log(bounds.smallestRadiusM), Math.log(bounds.largestRadiusM));
  const profiles = { depth: filled(DEPTHS), radius: filled(RADII), offset: filled(offsets.length) };
  const changes = new Float64Array(table.sizes * n);
  const rest = new Float64Array(n);
  const weights = TRIED_VOIDS.map((_, tried) => shares.map((share) => table.weightsOf(tried, share)));
  let best = { chiSquare: Infinity, tried: 0, depth: 0, share: 0, offset: 0 };
  for (const tried of TRIED_VOIDS.keys()) {
    for (const [d, depthM] of depths.entries()) {
      for (const [o, offsetM] of offsets.entries()) {
        // A passage along the line is under all of it: it has no place on the line.
        if (TRIED_VOIDS[tried]?.bearingDeg === 0 && offsetM !== 0) continue;
        table.changesAt(tried, layouts, depthM, midpointM + offsetM, changes);
        for (const [s, share] of shares.entries()) {
          const radiusM = share * depthM;
          if (radiusM < bounds.smallestRadiusM || radiusM > bounds.largestRadiusM) continue;
          const chiSquare = chiSquareOf(
            errors,
            lnRatio,
            changes,
            (weights[tried] as Float64Array[])[s] as Float64Array,
            rest,
          );
          const r = Math.round(((Math.log(radiusM) - (radii[0] as number)) / span(radii)) * (RADII - 1));
          lower(profiles.depth, d, chiSquare);
          lower(profiles.radius, r, chiSquare);
          lower(profiles.offset, o, chiSquare);
          if (chiSquare < best.chiSquare) best = { chiSquare, tried, depth: d, share: s, offset: o };
        }
      }
    }
  }
  if (best.chiSquare === Infinity) return null;
  const depthM = depths[best.depth] as number;
  const offsetM = offsets[best.offset] as number;
  const radiusM = (shares[best.share] as number) * depthM;
  table.changesAt(best.tried, layouts, depthM, midpointM + offsetM, changes);
  chiSquareOf(errors, lnRatio, changes, (weights[best.tried] as Float64Array[])[best.share] as Float64Array, rest);
  const limit = best.chiSquare + PROFILE_95;
  return {
    chiSquare: best.chiSquare,
    tried: TRIED_VOIDS[best.tried] as TriedVoid,
    depthM: rangeOf(profiles.depth, depths, limit, depthM),
    radiusM: rangeOf(profiles.radius, radii.map(Math.exp), limit, radiusM),
    offsetM: rangeOf(profiles.offset, offsets, limit, offsetM),
    bySide,
    lnRatio: rest.map((value, k) => (lnRatio[k] as number) - value),
  };
}

const even = (count: number, from: number, to: number): number[] =>
  Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));
const span = (values: readonly number[]): number => (values[values.length - 1] as number) - (values[0] as number);
const filled = (count: number): Float64Array => new Float64Array(count).fill(Infinity);

function lower(profile: Float64Array, at: number, chiSquare: number): void {
  if (chiSquare < (profile[at] as number)) profile[at] = chiSquare;
}

/** Changes of at least −99.9 % and no void at all make a ratio; `rest` is left with what the void does not explain. */
function chiSquareOf(
  errors: LadderErrors,
  lnRatio: Float64Array,
  changes: Float64Array,
  weights: Float64Array,
  rest: Float64Array,
): number {
  const n = rest.length;
  for (let k = 0; k < n; k += 1) {
    let change = 0;
    for (let s = 0; s < weights.length; s += 1) change += (weights[s] as number) * (changes[s * n + k] as number);
    rest[k] = (lnRatio[k] as number) - Math.log1p(Math.max(-0.999, change));
  }
  return errors.chiSquare(rest);
}

/** Whether the array looks the same from both ends, current and potential exchanged or not (reciprocity). */
function isAlikeFromBothEnds({ a, b, m, n }: Layout, midpointM: number): boolean {
  const text = (pair: readonly (number | null)[], mirrored: boolean): string =>
    pair
      .map((chainage) =>
        chainage === null
          ? 'far'
          : String(Math.round(1000 * (mirrored ? midpointM - chainage : chainage - midpointM)) + 0),
      )
      .sort()
      .join('/');
  const [current, potential] = [text([a, b], false), text([m, n], false)];
  const [mirroredCurrent, mirroredPotential] = [text([a, b], true), text([m, n], true)];
  return (
    (current === mirroredCurrent && potential === mirroredPotential) ||
    (current === mirroredPotential && potential === mirroredCurrent)
  );
}

/** The outermost values within the limit, read between the values that were tried. */
function rangeOf(profile: Float64Array, values: readonly number[], limit: number, best: number): ProfiledRange {
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
  return {
    best,
    low95: Math.min(best, end(first, -1)),
    high95: Math.max(best, end(last, 1)),
    openLow: first === known[0],
    openHigh: last === known[known.length - 1],
  };
}
