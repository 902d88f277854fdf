import type { Layout } from './layout';
import type { Place } from './small-void';

/** An electrode: where it enters the ground, in metres in any right-angled frame, and how deep it acts. */
export interface Electrode {
  readonly place: Place;
  /**
   * Depth in metres at which it acts as a point, square to the ground; 0 = on the surface. A rod acts along its whole length:
   * its full driven depth taken for this overstates the effect (choice of the caller).
   */
  readonly depthM: number;
}

/** Current electrodes A, B and potential electrodes M, N; null = infinitely far. */
export interface Electrodes {
  readonly a: Electrode | null;
  readonly b: Electrode | null;
  readonly m: Electrode | null;
  readonly n: Electrode | null;
}

export type Role = 'a' | 'b' | 'm' | 'n';

/** Current-potential pairs with the sign that each counts with. */
export const PAIRS = [
  ['a', 'm', 1],
  ['a', 'n', -1],
  ['b', 'm', -1],
  ['b', 'n', 1],
] as const;

/**
 * 1/r + 1/r′ in 1/m of two electrodes: r straight, r′ to the image of one of them in the surface. With s the straight
 * distance of the places where they enter the ground and p, q their depths, r² = s² + (p − q)² and r′² = s² + (p + q)²:
 * exact on any flat ground, level or tilted. 0 for an electrode infinitely far.
 */
export function nearness(p: Electrode | null, q: Electrode | null): number {
  if (!p || !q) return 0;
  const apart = Math.hypot(p.place[0] - q.place[0], p.place[1] - q.place[1], p.place[2] - q.place[2]);
  return 1 / Math.hypot(apart, p.depthM - q.depthM) + 1 / Math.hypot(apart, p.depthM + q.depthM);
}

/**
 * K in metres, so that ρa = K·R in uniform ground under a flat surface, for electrodes at any places and depths:
 * K = 4π / Σ ±(1/r + 1/r′) over AM, −AN, −BM, BN; 4π/(1/a + 1/√(a² + 4b²)) for a pole-pole pair at depth b, and for Wenner
 * the formula of IEEE Std 81 (point sources and their images; Wenner 1916, Bull. Bureau of Standards 12:469).
 * On the surface it is 2π/(1/AM − 1/AN − 1/BM + 1/BN). Infinite where the array has no response.
 * The same for potential and current electrodes exchanged (reciprocity).
 */
export function factorOfElectrodesM(electrodes: Electrodes): number {
  let sum = 0;
  for (const [current, potential, sign] of PAIRS) sum += sign * nearness(electrodes[current], electrodes[potential]);
  return (4 * Math.PI) / sum;
}

/** The electrodes of a layout on level ground along x, all at one depth. */
export function electrodesOf(layout: Layout, depthM = 0): Electrodes {
  const at = (chainageM: number | null): Electrode | null =>
    chainageM === null ? null : { place: [chainageM, 0, 0], depthM };
  return { a: at(layout.a), b: at(layout.b), m: at(layout.m), n: at(layout.n) };
}
