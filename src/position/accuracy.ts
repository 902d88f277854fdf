import type { Position } from '../survey/survey';
import { datumUncertaintyOf } from './crs';

/** A radius that holds 68 % of a circular normal scatter is this many standard deviations: √(−2 ln 0.32). */
const SIGMAS_IN_R68 = Math.sqrt(-2 * Math.log(1 - 0.68));
/** The same for 95 %: 2.4477. */
const SIGMAS_IN_R95 = Math.sqrt(-2 * Math.log(1 - 0.95));
/** A fix whose accuracy nobody wrote down is taken for a phone under trees: 95 % within 10 m (Tomastik et al. 2017). */
export const UNSAID_R95_M = 10;

export interface Accuracy {
  /** Standard deviation per axis, metres, the datum included. */
  readonly sigmaM: number;
  /** Whether somebody wrote it down. */
  readonly said: boolean;
}

/** How sure a position as entered is. A radius without a level is taken for 68 %; a radius of 0 is no statement. */
export function accuracyOf(position: Position): Accuracy {
  const datumSigma = datumUncertaintyOf(position.crs) / SIGMAS_IN_R95;
  const radius = position.accuracy_m ?? 0;
  const said = radius > 0;
  const perRadius = position.accuracy_level === 95 || !said ? SIGMAS_IN_R95 : SIGMAS_IN_R68;
  return { sigmaM: Math.hypot((said ? radius : UNSAID_R95_M) / perRadius, datumSigma), said };
}

/** 95 % radius in metres of a circular normal scatter with this standard deviation per axis. */
export const radius95M = (sigmaM: number): number => sigmaM * SIGMAS_IN_R95;

/** The standard deviation per axis whose 95 % radius is this long. */
export const sigmaOfRadius95 = (radiusM: number): number => radiusM / SIGMAS_IN_R95;
