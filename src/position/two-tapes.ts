import { done, type Outcome, refuse } from '../survey/outcome';
import { metres } from '../survey/wording';
import { type Covariance, type UncertainPlace, varianceTowards } from './covariance';
import { localPlane } from './crs';
import { tapeSigmaM } from './tape';

const DEGREES = 180 / Math.PI;
/** Two known points nearer to each other than this tell nothing of a direction. */
const LEAST_BASE_M = 0.1;

/**
 * The place at two taped distances from two known points, on the side chosen (seen from the first to the second).
 * Distances are level ones. Where the tapes meet at a flat angle the covariance is large; at a grazing one it stays
 * finite, since the square of the height over the base has a finite error.
 * Refusals, with the metres that are wrong: `tapes_too_short`, `tapes_too_unequal` (one circle inside the other),
 * `points_too_near`, `distance_not_positive`.
 */
export function placeByTwoTapes(
  first: UncertainPlace,
  firstDistanceM: number,
  second: UncertainPlace,
  secondDistanceM: number,
  side: 'left' | 'right',
): Outcome<UncertainPlace> {
  const [r1, r2] = [firstDistanceM, secondDistanceM];
  if (!(r1 > 0 && r2 > 0)) {
    return refuse('distance_not_positive', 'Both taped distances have to be more than 0 m.');
  }
  const plane = localPlane(first.lon, first.lat);
  const [bx, by] = plane.toPlane(second.lon, second.lat);
  const base = Math.hypot(bx, by);
  if (!(base >= LEAST_BASE_M)) {
    return refuse('points_too_near', 'The two known points are one place. Take a second point some metres away.');
  }
  if (r1 + r2 < base) {
    return refuse(
      'tapes_too_short',
      `The two tapes do not meet: the known points lie ${metres(base)} apart, and the tapes are ${metres(base - r1 - r2)} too short together. Check both distances and both points.`,
    );
  }
  if (Math.abs(r1 - r2) > base) {
    const longer = r1 > r2 ? 'first' : 'second';
    return refuse(
      'tapes_too_unequal',
      `The two tapes do not meet: the known points lie ${metres(base)} apart, and the ${longer} tape is ${metres(Math.abs(r1 - r2) - base)} too long for the other. Check both distances and both points.`,
    );
  }
  const along = (r1 ** 2 - r2 ** 2 + base ** 2) / (2 * base);
  const across = Math.sqrt(Math.max(0, r1 ** 2 - along ** 2));
  const [ux, uy] = [bx / base, by / base];
  // To the right of (ux, uy) is (uy, -ux).
  const [vx, vy] = side === 'right' ? [uy, -ux] : [-uy, ux];
  const x = along * ux + across * vx;
  const y = along * uy + across * vy;

  // A known point's error counts along the tape that leaves it.
  const towards = (dx: number, dy: number, { covariance }: UncertainPlace, distanceM: number): number =>
    tapeSigmaM(distanceM) ** 2 + varianceTowards(covariance, Math.atan2(dx, dy) * DEGREES);
  const variance1 = towards(x, y, first, r1);
  const variance2 = towards(x - bx, y - by, second, r2);
  const [a1, a2] = [r1 / base, -r2 / base];
  const [h1, h2] = [r1 * (1 - along / base), (r2 * along) / base];
  const squareSigma = 2 * Math.sqrt(h1 ** 2 * variance1 + h2 ** 2 * variance2);
  const height = Math.max(across, Math.sqrt(squareSigma) / 2);
  const alongAlong = a1 ** 2 * variance1 + a2 ** 2 * variance2;
  const acrossAcross = (h1 ** 2 * variance1 + h2 ** 2 * variance2) / height ** 2;
  const alongAcross = (a1 * h1 * variance1 + a2 * h2 * variance2) / height;
  const covariance: Covariance = {
    xx: ux ** 2 * alongAlong + 2 * ux * vx * alongAcross + vx ** 2 * acrossAcross,
    xy: ux * uy * alongAlong + (ux * vy + uy * vx) * alongAcross + vx * vy * acrossAcross,
    yy: uy ** 2 * alongAlong + 2 * uy * vy * alongAcross + vy ** 2 * acrossAcross,
  };
  return done({ ...plane.toLonLat(x, y), covariance });
}
