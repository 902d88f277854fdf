import type { Layout } from './layout';
import { LARGEST_SHARE, SMALLEST_SHARE, TRIED_VOIDS, type VoidTable } from './void-table';

export interface VoidBounds {
  readonly shallowestM: number;
  readonly deepestM: number;
  readonly smallestRadiusM: number;
  readonly largestRadiusM: number;
  readonly farthestM: number;
}

/**
 * What fills a body: air, or ground of a tenth of the host's resistivity (choice; clay or wet soil in limestone). The
 * latter's changes are those of air times the ratio of both in an even field: (f − h)/(2f + h) over ½ for a chamber and
 * (f − h)/(f + h) over 1 for a passage (Stratton 1941; see small-void.ts). First order: body against body it is up to
 * half too weak, which a larger radius makes up for.
 */
export type Filling = 'air' | 'conductor';

const CONDUCTOR_OVER_HOST = 0.1;
const CONDUCTOR_TIMES = {
  chamber: (2 * (CONDUCTOR_OVER_HOST - 1)) / (2 * CONDUCTOR_OVER_HOST + 1),
  passage: (CONDUCTOR_OVER_HOST - 1) / (CONDUCTOR_OVER_HOST + 1),
};

/** What is tried of each kind: depths even in ln, radii over depth and offsets even. */
export interface VoidSteps {
  readonly depthsM: readonly number[];
  readonly shares: readonly number[];
  readonly offsetsM: readonly number[];
}

export function voidSteps(
  bounds: VoidBounds,
  bySide: boolean,
  count: { readonly depths: number; readonly sizes: number; readonly offsets: number },
): VoidSteps {
  return {
    depthsM: evenSteps(count.depths, Math.log(bounds.shallowestM), Math.log(bounds.deepestM)).map(Math.exp),
    shares: evenSteps(count.sizes, SMALLEST_SHARE, LARGEST_SHARE),
    offsetsM: evenSteps(
      bySide ? 2 * count.offsets - 1 : count.offsets,
      bySide ? -bounds.farthestM : 0,
      bounds.farthestM,
    ),
  };
}

export const evenSteps = (count: number, from: number, to: number): number[] =>
  Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));

/** Indices of one void among the steps. */
export type VoidVisit = (tried: number, depth: number, share: number, offset: number, lnRatio: Float64Array) => void;

/** Calls `visit` with ln(ratio) of every reading for every void within bounds; the array is used again from call to call. */
export function walkVoids(
  table: VoidTable,
  filling: Filling,
  layouts: readonly Layout[],
  midpointM: number,
  bounds: VoidBounds,
  { depthsM, shares, offsetsM }: VoidSteps,
  visit: VoidVisit,
): void {
  const n = layouts.length;
  const changes = new Float64Array(table.sizes * n);
  const lnRatio = new Float64Array(n);
  for (const [tried, { kind, bearingDeg }] of TRIED_VOIDS.entries()) {
    const times = filling === 'air' ? 1 : CONDUCTOR_TIMES[kind];
    const weights = shares.map((share) => table.weightsOf(tried, share).map((weight) => times * weight));
    for (const [d, depthM] of depthsM.entries()) {
      for (const [o, offsetM] of offsetsM.entries()) {
        // A passage along the line is under all of it: it has no place on the line.
        if (bearingDeg === 0 && offsetM !== 0) continue;
        table.changesAt(tried, layouts, depthM, midpointM + offsetM, changes);
        for (const [s, share] of shares.entries()) {
          const radiusM = share * depthM;
          if (radiusM < bounds.smallestRadiusM || radiusM > bounds.largestRadiusM) continue;
          fillLnRatio(changes, weights[s] as Float64Array, lnRatio);
          visit(tried, d, s, o, lnRatio);
        }
      }
    }
  }
}

/** Changes of at least −99.9 % make a ratio. */
function fillLnRatio(changes: Float64Array, weights: Float64Array, lnRatio: Float64Array): void {
  const n = lnRatio.length;
  for (let k = 0; k < n; k += 1) {
    let change = 0;
    for (let s = 0; s < weights.length; s += 1) change += (weights[s] as number) * (changes[s * n + k] as number);
    lnRatio[k] = Math.log1p(Math.max(-0.999, change));
  }
}

/** Whether the array looks the same from both ends, current and potential exchanged or not (reciprocity). */
export function isAlikeFromBothEnds({ a, b, m, n }: Layout, midpointM: number): boolean {
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
