import { metres, significant } from '../survey/wording';
import type { PlanAdvice } from './plan-advice';

/** What this kind of plan takes for granted. */
export const PLAN_ASSUMPTIONS =
  'Flat ground, electrodes as points, remotes infinitely far, the void alone in uniform ground; soil over it and uneven rock change what is seen of it.';

/** "+17.6 %" */
export const changeText = (change: number): string => `${change < 0 ? '−' : '+'}${Math.abs(100 * change).toFixed(1)} %`;

const beside = (offsetM: number): string => (offsetM < 0.005 ? 'over it' : `${metres(offsetM)} beside it`);

/** The advice in sentences: what each spacing shows, then how to lay out and what stays hidden. */
export function adviceWords(advice: PlanAdvice, noise: number): readonly string[] {
  const { spacings, bestSpacingM, stationStepM, lineLengthM, smallestRadiusM, remotesM } = advice;
  const scatter = `${significant(100 * noise, 2)} % of scatter`;
  return [
    ...spacings.map(
      ({ spacingM, highest, highestAtM, lowest, lowestAtM }) =>
        `${metres(spacingM)}: highest ${changeText(highest)} ${beside(highestAtM)}, lowest ${changeText(lowest)} ${beside(lowestAtM)}.`,
    ),
    `It shows best at ${metres(bestSpacingM)}. Stations every ${metres(stationStepM)}, over ${metres(lineLengthM)} of line or more, and a reference far from it.`,
    smallestRadiusM === null
      ? `At ${scatter} no void of that depth would show by two standard errors of one reading.`
      : `At ${scatter} the smallest that would show by two standard errors of one reading has a radius of ${significant(smallestRadiusM, 2)} m. Uneven soil hides more.`,
    ...(remotesM === null
      ? []
      : [`Remote electrodes ${metres(remotesM)} away or farther keep the widest spacing within 5 %.`]),
    'No reading at all is no proof of sound ground.',
  ];
}
