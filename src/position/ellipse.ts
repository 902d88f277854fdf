import type { Covariance } from './covariance';

/** The ellipse that holds 95 % of a 2-D normal scatter. */
export interface Ellipse95 {
  readonly semiMajorM: number;
  readonly semiMinorM: number;
  /** Of the long axis, degrees clockwise from north, 0 to 180. */
  readonly azimuthDeg: number;
}

const SIGMAS_IN_ELLIPSE_95 = Math.sqrt(-2 * Math.log(1 - 0.95));

export function ellipse95(covariance: Covariance): Ellipse95 {
  const [major, minor] = axes(covariance);
  const { xx, xy, yy } = covariance;
  const azimuthDeg = (Math.atan2(2 * xy, yy - xx) * 90) / Math.PI;
  return {
    semiMajorM: SIGMAS_IN_ELLIPSE_95 * major,
    semiMinorM: SIGMAS_IN_ELLIPSE_95 * minor,
    azimuthDeg: (azimuthDeg + 180) % 180,
  };
}

/** Standard deviations along the axes, the larger first; a variance that rounding made negative counts as 0. */
function axes({ xx, xy, yy }: Covariance): readonly [major: number, minor: number] {
  const middle = (xx + yy) / 2;
  const half = Math.hypot((xx - yy) / 2, xy);
  return [Math.sqrt(Math.max(0, middle + half)), Math.sqrt(Math.max(0, middle - half))];
}

/**
 * The radius in metres round the middle of a 2-D normal scatter that holds 95 % of it: 1.9600 σ when it is thin as a
 * line, 2.4477 σ when it is round. Good to 1e-5 of itself.
 */
export function radius95OfCovariance(covariance: Covariance): number {
  const [major, minor] = axes(covariance);
  return major > 0 ? major * radius95OfRatio(Math.min(1, minor / major)) : 0;
}

/**
 * Share of a normal scatter with standard deviations 1 and `ratio` within a radius: the integral over the plane in polar
 * coordinates with tan φ = ratio · tan ψ. For ratio 0 it is the form that Craig (1991) gave the normal integral.
 */
export function shareWithin(radius: number, ratio: number): number {
  // The middle-point rule on a smooth periodic function: exact to rounding with few points.
  let total = 0;
  for (let i = 0; i < SHARE_STEPS; i += 1) {
    const psi = ((i + 0.5) / SHARE_STEPS) * (Math.PI / 2);
    total += Math.exp(-(radius ** 2) / (2 * (Math.cos(psi) ** 2 + (ratio * Math.sin(psi)) ** 2)));
  }
  return 1 - total / SHARE_STEPS;
}

const SHARE_STEPS = 48;
const RATIO_STEPS = 32;
let radii: readonly number[] | null = null;

function radius95OfRatio(ratio: number): number {
  radii ??= Array.from({ length: RATIO_STEPS + 1 }, (_, i) => solvedRadius(i / RATIO_STEPS));
  // Cubic through the four nearest.
  const at = ratio * RATIO_STEPS;
  const first = Math.min(RATIO_STEPS - 3, Math.max(0, Math.floor(at) - 1));
  const t = at - first;
  const p = radii[first] as number;
  const q = radii[first + 1] as number;
  const r = radii[first + 2] as number;
  const s = radii[first + 3] as number;
  return (
    (-p * (t - 1) * (t - 2) * (t - 3)) / 6 +
    (q * t * (t - 2) * (t - 3)) / 2 -
    (r * t * (t - 1) * (t - 3)) / 2 +
    (s * t * (t - 1) * (t - 2)) / 6
  );
}

function solvedRadius(ratio: number): number {
  let low = 1.9;
  let high = 2.5;
  for (let i = 0; i < 45; i += 1) {
    const middle = (low + high) / 2;
    if (shareWithin(middle, ratio) < 0.95) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
