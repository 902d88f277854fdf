import type { Covariance } from './covariance';

export interface LeftOver {
  /** How far a fix lies from where all the others put it, metres. */
  readonly distanceM: number;
  /** Squared distance in units of its own covariance; what the fit would gain without the fix. */
  readonly gain: number;
  /** In how many directions the others say something: 0, 1 or 2. */
  readonly directions: number;
}

/** Directions in which a fix is nearly alone to say where its node is tell nothing about it. */
const LEAST_REDUNDANCY = 1e-6;

/** Lower triangle W with W · C · Wᵀ = 1. */
export function whitening({ xx, xy, yy }: Covariance): readonly [number, number, number] {
  const l11 = Math.sqrt(xx);
  const l21 = xy / l11;
  const l22 = Math.sqrt(Math.max(1e-12, yy - l21 * l21));
  return [1 / l11, -l21 / (l11 * l22), 1 / l22];
}

/**
 * From the residual in the fit to the residual against the fit of all the others. `white`: covariance of the residual
 * over that of the fix; `grossM`: what the fix is taken to be off, which is no part of its own covariance.
 */
export function leftOverOf(
  white: Covariance,
  [p, q]: readonly [number, number],
  [w11, w21, w22]: readonly [number, number, number],
  grossM: number,
): LeftOver {
  const middle = (white.xx + white.yy) / 2;
  const half = Math.hypot((white.xx - white.yy) / 2, white.xy);
  const angle = Math.atan2(2 * white.xy, white.xx - white.yy) / 2;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  let gain = 0;
  let directions = 0;
  let [x, y] = [0, 0];
  for (const [redundancy, ax, ay] of [
    [middle + half, c, s],
    [middle - half, -s, c],
  ] as const) {
    if (!(redundancy > LEAST_REDUNDANCY)) continue;
    // Back to metres: W⁻¹ of the white vector.
    const length = (p * ax + q * ay) / redundancy;
    const dx = (length * ax) / w11;
    const dy = (length * ay - w21 * dx) / w22;
    const unit = (ax / w11) ** 2 + ((ay - (w21 * ax) / w11) / w22) ** 2;
    gain += (length * length * unit) / Math.max(1e-9, unit / redundancy - grossM ** 2);
    directions += 1;
    x += dx;
    y += dy;
  }
  return { distanceM: Math.hypot(x, y), gain, directions };
}
