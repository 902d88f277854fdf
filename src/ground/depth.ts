import type { ElectrodeDistances } from './geometric-factor';

/**
 * The share of the response of uniform ground that comes from above a depth.
 * For one pair of point electrodes r apart the share is 1 − r/√(r² + 4z²), the integral of F(z) = 4rz/(r²+4z²)^{3/2}
 * (Roy & Apparao 1971, Geophysics 36:943, after Evjen); pairs add by their signs and 1/r.
 */
export function shareFromAbove(distances: ElectrodeDistances, depthM: number): number {
  let whole = 0;
  let above = 0;
  for (const [r, sign] of [
    [distances.am, 1],
    [distances.an, -1],
    [distances.bm, -1],
    [distances.bn, 1],
  ] as const) {
    if (!Number.isFinite(r)) continue;
    whole += sign / r;
    above += sign * (1 / r - 1 / Math.hypot(r, 2 * depthM));
  }
  return above / whole;
}

/**
 * Depth in metres above which half of the response of uniform ground lies (Edwards 1977, Geophysics 42:1020).
 * √3/2·a for pole-pole in closed form; by bisection otherwise. Null for an array without a response.
 */
export function medianDepthM(distances: ElectrodeDistances): number | null {
  const { am, an, bm, bn } = distances;
  if (an === Infinity && bm === Infinity && bn === Infinity) return (Math.sqrt(3) / 2) * am;
  const longest = Math.max(...[am, an, bm, bn].filter(Number.isFinite));
  let low = 0;
  let high = longest;
  while (shareFromAbove(distances, high) < 0.5 && high < longest * 1e3) high *= 2;
  if (!(shareFromAbove(distances, high) >= 0.5)) return null;
  for (let i = 0; i < 60; i += 1) {
    const middle = (low + high) / 2;
    if (shareFromAbove(distances, middle) < 0.5) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
