import type { Position } from '../survey/survey';
import { datumUncertaintyOf } from './crs';

/** A radius that holds 68 % of a circular normal scatter is this many standard deviations: √(−2 ln 0.32). */
const SIGMAS_IN_R68 = Math.sqrt(-2 * Math.log(1 - 0.68));
/** The same for 95 %: 2.4477. */
const SIGMAS_IN_R95 = Math.sqrt(-2 * Math.log(1 - 0.95));
/** A fix whose accuracy nobody wrote down is taken for a phone under trees: 95 % within 10 m (Tomastik et al. 2017). */
export const UNSAID_R95_M = 10;

/**
 * The share of a fix's variance that the fixes of one device on one day have in common: the slow errors of satellites,
 * air and echoes, which no averaging removes (choice; the receivers that tell the two apart are not used here).
 */
export const SHARED_VARIANCE_SHARE = 0.5;

/**
 * User equivalent range error of a receiver without corrections, metres (textbooks give 4 to 6 m; value from memory).
 */
export const UERE_M = 5;

/**
 * Standard deviation per axis from the horizontal dilution of precision: HDOP is what multiplies the range error to give
 * √(σ_east² + σ_north²) (the textbook relation of GNSS; from memory). For a fix that says no accuracy of its own.
 */
export const sigmaFromHdopM = (hdop: number, uereM: number = UERE_M): number => (hdop * uereM) / Math.SQRT2;

export interface Accuracy {
  /** Standard deviation per axis, metres, the datum included. */
  readonly sigmaM: number;
  /** The part of it that is this fix's alone. */
  readonly ownSigmaM: number;
  /** The part that it shares with the other fixes of its device and day: with it, `sigmaM` in squares. */
  readonly sharedSigmaM: number;
  /** Whether somebody wrote it down. */
  readonly said: boolean;
}

/** How sure a position as entered is. A radius without a level is taken for 68 %; a radius of 0 is no statement. */
export function accuracyOf(position: Position): Accuracy {
  const datumSigma = datumUncertaintyOf(position.crs) / SIGMAS_IN_R95;
  const radius = position.accuracy_m ?? 0;
  const hdop = position.hdop ?? 0;
  const said = radius > 0 || hdop > 0;
  const perRadius = position.accuracy_level === 95 ? SIGMAS_IN_R95 : SIGMAS_IN_R68;
  const deviceSigma = radius > 0 ? radius / perRadius : hdop > 0 ? sigmaFromHdopM(hdop) : UNSAID_R95_M / SIGMAS_IN_R95;
  return {
    sigmaM: Math.hypot(deviceSigma, datumSigma),
    ownSigmaM: deviceSigma * Math.sqrt(1 - SHARED_VARIANCE_SHARE),
    sharedSigmaM: Math.hypot(deviceSigma * Math.sqrt(SHARED_VARIANCE_SHARE), datumSigma),
    said,
  };
}

/** 95 % radius in metres of a circular normal scatter with this standard deviation per axis. */
export const radius95M = (sigmaM: number): number => sigmaM * SIGMAS_IN_R95;

/** The standard deviation per axis whose 95 % radius is this long. */
export const sigmaOfRadius95 = (radiusM: number): number => radiusM / SIGMAS_IN_R95;
