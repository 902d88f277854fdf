import { done, type Outcome, refuse } from '../survey/outcome';
import type { LocalGrid } from '../survey/survey';
import { gridConvergenceDeg } from './convergence';
import type { LonLat } from './crs';
import { decimalYear, declinationAt } from './declination';

/** Standard deviation of a bearing read from a hand compass (common practice, no source). */
export const COMPASS_SIGMA_DEG = 1;

export interface GivenBearing {
  readonly bearingDeg: number;
  readonly reference: 'true' | 'magnetic' | 'grid';
  /** ISO 8601; a magnetic bearing needs it. */
  readonly date?: string | null | undefined;
  /** `EPSG:n` or `grid:NAME`; a grid bearing needs it. */
  readonly crs?: string | null | undefined;
}

export interface TrueBearing {
  /** Clockwise from true north, 0 to 360. */
  readonly azimuthDeg: number;
  /** Of the reading alone: new for every bearing. */
  readonly readingSigmaDeg: number;
  /** Of the declination: the same error in every bearing of one day and place. */
  readonly sharedSigmaDeg: number;
  /** Both together. */
  readonly sigmaDeg: number;
  /** What was added to the bearing as given: declination or convergence. */
  readonly correctionDeg: number;
}

export interface BearingSettings {
  /** Above the ellipsoid. */
  readonly heightM?: number;
  readonly readingSigmaDeg?: number;
  /** Local grids of the site, for grid bearings. */
  readonly grids?: readonly LocalGrid[];
}

/**
 * The true azimuth of a bearing read at a place.
 * Refusals: `bearing_needs_date`, `bearing_needs_grid`, `not_a_bearing`, and those of `declinationAt` and
 * `gridConvergenceDeg`.
 */
export function trueBearing(given: GivenBearing, place: LonLat, settings: BearingSettings = {}): Outcome<TrueBearing> {
  const { heightM = 0, readingSigmaDeg = COMPASS_SIGMA_DEG, grids = [] } = settings;
  const { bearingDeg } = given;
  if (!(bearingDeg >= -360 && bearingDeg <= 360)) {
    return refuse('not_a_bearing', `A bearing goes from 0° to 360°, and this one says ${bearingDeg}°. Correct it.`);
  }
  const made = (correctionDeg: number, sharedSigmaDeg: number): Outcome<TrueBearing> =>
    done({
      azimuthDeg: (((bearingDeg + correctionDeg) % 360) + 360) % 360,
      readingSigmaDeg,
      sharedSigmaDeg,
      sigmaDeg: Math.hypot(readingSigmaDeg, sharedSigmaDeg),
      correctionDeg,
    });

  if (given.reference === 'true') return made(0, 0);
  if (given.reference === 'grid') {
    if (!given.crs) {
      return refuse(
        'bearing_needs_grid',
        'A grid bearing means nothing without its grid. Say the EPSG code of the map that it was taken from, or give the bearing as true or magnetic.',
      );
    }
    const convergence = gridConvergenceDeg(given.crs, place, grids);
    return convergence.ok ? made(convergence.value, 0) : convergence;
  }
  const year = given.date ? decimalYear(given.date) : null;
  if (year === null) {
    return refuse(
      'bearing_needs_date',
      'A magnetic bearing needs the day on which it was read, since the declination changes. Add the date (2026-03-12), or give the bearing as true.',
    );
  }
  const declination = declinationAt(place, heightM, year);
  return declination.ok ? made(declination.value.deg, declination.value.sigmaDeg) : declination;
}
