import { kerKei } from './kelvin';

/*
 * ∫₀^∞ f(λ)·J₀(λr)·r dλ for functions that are analytic and bounded where Re λ > 0, real on the real axis.
 *
 * J₀ is the real part of the Hankel function H₀⁽¹⁾, which dies away exponentially in the upper half-plane; so the way
 * of integration is turned to λ = u·e^{iπ/4}, u = e^t. There H₀⁽¹⁾(λr) = (2/πi)·(ker − i·kei)(ur) (Abramowitz & Stegun
 * 1964, 9.6.4 and 9.9.2), nothing oscillates for long, and the trapezoidal rule in t converges exponentially: its error is
 * about exp(−2π·(π/4)/step), whatever the scales of f, since f is analytic an eighth of a turn to either side
 * (Trefethen & Weideman 2014, SIAM Review 56:385).
 */

/** A step in t = ln u, and what may be left out with it. */
export interface RayRule {
  readonly step: number;
  /** Share of the result that the tail towards λ = 0 may weigh. */
  readonly tail: number;
}

/** An error of about 5e-15. */
export const EXACT_RULE: RayRule = { step: 0.15, tail: 1e-13 };
/** An error of about 3e-9 of the highest resistivity: for trying grounds against readings of a few per cent. */
export const FITTING_RULE: RayRule = { step: 0.25, tail: 1e-9 };

/** Where √x·e^{−x/√2} is below 1e-16. */
export const RAY_FARTHEST = 56;
/** Below this x every node together weighs less than 1e-15. */
export const RAY_NEAREST = 1e-17;

/** Index of the first node at or above u; the nodes of a rule are u = e^{index·step}. */
export const firstNodeFrom = (u: number, { step }: RayRule): number => Math.ceil(Math.log(u) / step);
export const nodeAt = (index: number, { step }: RayRule): number => Math.exp(index * step);

/** Weights of Re f and Im f at λ = u·e^{iπ/4} where ur = x: the integral is Σ real·Re f + imaginary·Im f. */
export function rayWeight(x: number, { step }: RayRule): { readonly real: number; readonly imaginary: number } {
  if (x > RAY_FARTHEST) return { real: 0, imaginary: 0 };
  const { ker, kei } = kerKei(x);
  const scale = ((step * Math.SQRT2) / Math.PI) * x;
  return { real: scale * (ker - kei), imaginary: scale * (ker + kei) };
}
