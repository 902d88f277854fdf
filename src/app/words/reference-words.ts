import type { Findings, ReferenceCurve, Target } from '../../findings';
import { HOOKUP_LABEL } from '../../survey/hookup';
import type { Survey } from '../../survey/survey';
import { counted, metres } from '../../survey/wording';

/** The widest pool of each hookup, which is what a person wants to see first. */
export function shownCurves({ references }: Findings): ReferenceCurve[] {
  const hookups = [...new Set(references.map((curve) => curve.hookup))];
  return hookups.flatMap((hookup) => {
    const own = references.filter((curve) => curve.hookup === hookup && curve.points.length > 0);
    const pooled = own.filter((curve) => curve.day === null && curve.wetting === null);
    return pooled.length > 0 ? pooled : own;
  });
}

/** "pole-pole: 5 reference stations", or what stands in for them. */
export function curveWords({ hookup, kind, day, wetting, points }: ReferenceCurve, survey: Survey): string {
  const stations = Math.max(0, ...points.map((point) => point.stations));
  const what =
    kind === 'reference'
      ? counted(stations, 'reference station')
      : `no reference stations, so the median of ${counted(stations, 'station')} of the site`;
  const outing = survey.outings.find(({ id }) => id === day);
  const when = [outing?.name ?? day, wetting].filter((part) => part !== null).join(', ');
  return `${HOOKUP_LABEL[hookup]}: ${what}${when ? ` (${when})` : ''}`;
}

/** The void that the shaded bands speak of. */
export function targetWords({ radiusM, depthToCentreM }: Target): string {
  return `an air-filled chamber of ${metres(radiusM)} radius, its centre ${metres(depthToCentreM)} down`;
}
