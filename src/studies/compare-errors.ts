import { medianVariance } from '../evidence/robust';
import type { Findings, MidpointFinding } from '../findings';
import type { LaidReading } from './compare-match';

/** Midpoints that lie this share of the spacing apart have nothing of their soil in common. Choice. */
const OTHER_SOIL_OF_SPACING = 0.5;
/** R95 of a round normal scatter in units of its root mean square distance: √(−ln 0.05). */
const R95_OF_RMS = Math.sqrt(-Math.log(0.05));

/**
 * Standard error of ln(later ratio over earlier ratio). Of the error of each ratio stay the reading's own and that of the
 * reference's level; how soil differs from station to station stays only in so far as the two midpoints do not lie on the
 * same soil. Null where a ratio has no error.
 */
export function changeErrorLn(
  before: Findings,
  after: Findings,
  p: LaidReading,
  q: LaidReading,
  apartM: number,
): number | null {
  const [earlier, later] = [partsOf(before, p), partsOf(after, q)];
  if (!earlier || !later) return null;
  const unsureM = Math.hypot(p.midpoint.uncertainty95M, q.midpoint.uncertainty95M) / R95_OF_RMS;
  const shift = Math.min(1, Math.hypot(apartM, unsureM) / (OTHER_SOIL_OF_SPACING * q.spacingM));
  const soil = shift * Math.hypot(earlier.scatterLn, later.scatterLn);
  return Math.hypot(earlier.ownLn, later.ownLn, earlier.levelLn, later.levelLn, soil);
}

interface Parts {
  readonly ownLn: number;
  readonly levelLn: number;
  readonly scatterLn: number;
}

/** The standard error of a ratio taken apart: own, level of the reference, scatter of quiet stations. */
function partsOf(findings: Findings, { midpoint, spacingM }: LaidReading): Parts | null {
  const { ratio, ratioStandardError, referenceStations } = midpoint;
  if (ratio === null || ratioStandardError === null || referenceStations === null) return null;
  const totalLn = ratioStandardError / ratio;
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
