import { medianVariance } from '../evidence/robust';
import type { Findings, MidpointFinding } from '../findings';
import type { LaidReading } from './compare-match';

/** Midpoints that lie this share of the spacing apart have nothing of their soil in common. Choice. */
const OTHER_SOIL_OF_SPACING = 0.5;
/** R95 of a round normal scatter in units of its root mean square distance: √(−ln 0.05). */
const R95_OF_RMS = Math.sqrt(-Math.log(0.05));

/**
 * Share of the scatter from station to station that two midpoints so far apart do not have in common, 0 to 1. It grows as
 * the root of the distance, as over soil with sharp-edged patches of about a tenth of the spacing.
 */
export const otherSoil = (apartM: number, spacingM: number): number =>
  Math.min(1, Math.sqrt(apartM / (OTHER_SOIL_OF_SPACING * spacingM)));

export interface ChangeError {
  /** Standard error of ln(later ratio over earlier ratio). */
  readonly standardErrorLn: number;
  /** The part of it that readings against the same references share. */
  readonly sharedLn: number;
}

/**
 * Error of a change. Of the error of each ratio stay the reading's own and that of the reference's level; how soil differs
 * from station to station stays only in so far as the two midpoints do not lie on the same soil. Null where a ratio has no
 * error.
 */
export function changeError(
  before: Findings,
  after: Findings,
  p: LaidReading,
  q: LaidReading,
  apartM: number,
): ChangeError | null {
  const [earlier, later] = [partsOf(before, p), partsOf(after, q)];
  if (!earlier || !later) return null;
  const unsureM = Math.hypot(p.midpoint.uncertainty95M, q.midpoint.uncertainty95M) / R95_OF_RMS;
  const soil = otherSoil(Math.hypot(apartM, unsureM), q.spacingM) * Math.hypot(earlier.scatterLn, later.scatterLn);
  const sharedLn = Math.hypot(earlier.levelLn, later.levelLn);
  return { standardErrorLn: Math.hypot(earlier.ownLn, later.ownLn, sharedLn, soil), sharedLn };
}

/**
 * Ratio to the reference as it is, and the standard error of its ln. A level of other soil that was taken out of a line is
 * put back: it is the same soil both times, and whether it can be separated may differ from one survey to the other.
 */
export function plainRatio({
  line,
  midpoint,
}: LaidReading): { readonly ratio: number; readonly errorLn: number } | null {
  const { ratio, ratioStandardError, hookup, referenceBasis } = midpoint;
  if (ratio === null || ratioStandardError === null || !(ratio > 0)) return null;
  const errorLn = ratioStandardError / ratio;
  const level = line.levels?.find((one) => one.hookup === hookup && one.takenOut);
  if (!level || level.factor === null || referenceBasis === 'site_median') return { ratio, errorLn };
  const withoutLevel = Math.sqrt(Math.max(0, errorLn ** 2 - (level.standardErrorLn ?? 0) ** 2));
  return { ratio: ratio * level.factor, errorLn: withoutLevel };
}

interface Parts {
  readonly ownLn: number;
  readonly levelLn: number;
  readonly scatterLn: number;
}

/** The standard error of a ratio taken apart: own, level of the reference, scatter of quiet stations. */
function partsOf(findings: Findings, laid: LaidReading): Parts | null {
  const { midpoint, spacingM } = laid;
  const { referenceStations } = midpoint;
  const plain = plainRatio(laid);
  if (!plain || referenceStations === null) return null;
  const totalLn = plain.errorLn;
  const { standardErrorFloor } = findings.provenance.settings;
  const scatterLn = Math.max(scatterAt(findings, midpoint, spacingM), standardErrorFloor);
  const levelLn = scatterLn * Math.sqrt(medianVariance(referenceStations));
  const ownLn = Math.sqrt(Math.max(standardErrorFloor ** 2, totalLn ** 2 - scatterLn ** 2 - levelLn ** 2));
  return { ownLn, levelLn, scatterLn };
}

/** Scatter of the reference of a hookup at the spacing nearest to this one. */
function scatterAt({ references }: Findings, { hookup }: MidpointFinding, spacingM: number): number {
  let [nearest, scatterLn] = [Infinity, 0];
  for (const curve of references) {
    if (curve.hookup !== hookup) continue;
    for (const point of curve.points) {
      if (point.spacingM === null) continue;
      const off = Math.abs(Math.log(point.spacingM / spacingM));
      // Of several days' curves the one that scatters most is the careful one.
      if (off < nearest - 1e-9 || (off < nearest + 1e-9 && point.scatterLn > scatterLn)) {
        nearest = off;
        scatterLn = point.scatterLn;
      }
    }
  }
  return scatterLn;
}
