import { metres, significant } from '../survey/wording';
import type { PlanAdvice, PlannedSpacing } from './plan-advice';

/** What this kind of plan takes for granted. */
export const PLAN_ASSUMPTIONS =
  'Flat ground, electrodes as points, remotes infinitely far, the void alone in uniform ground, centred under the line; soil over it and uneven rock change what is seen of it.';

/** "+17.6 %" */
export const changeText = (change: number): string => `${change < 0 ? '−' : '+'}${Math.abs(100 * change).toFixed(1)} %`;

/** Smaller changes are not worth a word. */
const NOTHING = 0.005;

const decimetres = (lengthM: number): string => metres(Number(lengthM.toFixed(1)));

/** `sided`: the two sides of the target differ. */
function placeText(offsetM: number, sided: boolean): string {
  if (Math.abs(offsetM) < 0.05) return 'over it';
  if (!sided) return `${decimetres(offsetM)} beside it`;
  return offsetM < 0 ? `${decimetres(-offsetM)} before it` : `${decimetres(offsetM)} past it`;
}

/** Rounded up: a radius that is said to show does, and remotes that are said to be far enough are. */
const upToTwoDigits = (value: number): string => {
  const unit = 10 ** (Math.floor(Math.log10(value)) - 1);
  return significant(Math.ceil(value / unit - 1e-9) * unit, 2);
};

function spacingSentence(
  { spacingM, highest, highestAtM, lowest, lowestAtM, shows }: PlannedSpacing,
  sided: boolean,
): string {
  const ends = [
    ...(highest >= NOTHING ? [`highest ${changeText(highest)} ${placeText(highestAtM, sided)}`] : []),
    ...(lowest <= -NOTHING ? [`lowest ${changeText(lowest)} ${placeText(lowestAtM, sided)}`] : []),
  ];
  const said = ends.length > 0 ? ends.join(', ') : 'changed by less than 0.5 %';
  return `${metres(spacingM)}: ${said}${shows ? '' : ' (would not show)'}.`;
}

/** The advice in sentences: what each spacing shows, then how to lay out and what stays hidden. */
export function adviceWords(advice: PlanAdvice, noise: number): readonly string[] {
  const { spacings, bestSpacingM, stationStepM, lineLengthM, anomalyReachM, smallestRadiusM, remotesM, remotesShare } =
    advice;
  const scatter = `${significant(100 * noise, 2)} % of scatter`;
  const best = spacings.some(({ shows }) => shows)
    ? `It shows best at ${metres(bestSpacingM)}.`
    : `At ${scatter} it would not show at any of these; ${metres(bestSpacingM)} comes closest.`;
  const reach =
    anomalyReachM > 0
      ? `, as readings up to ${decimetres(anomalyReachM)} beside it are changed by more than the scatter`
      : '';
  const sided = spacings.some(({ highestAtM, lowestAtM }) => Math.min(highestAtM, lowestAtM) < 0);
  return [
    ...spacings.map((spacing) => spacingSentence(spacing, sided)),
    ...(sided ? ['“Before it”: the midpoint is on the side where the single current rod stands.'] : []),
    `${best} Stations every ${metres(stationStepM)}, over ${metres(lineLengthM)} of line or more with it in the middle${reach}; and a reference far from it.`,
    smallestRadiusM === null
      ? `At ${scatter} no void of that depth would show by two standard errors of one reading.`
      : `At ${scatter} the smallest that would show by two standard errors of one reading, at its best place, has a radius of ${upToTwoDigits(smallestRadiusM)} m. Uneven soil hides more.`,
    ...(remotesM === null
      ? []
      : [
          `Remote electrodes ${upToTwoDigits(remotesM)} m away or farther keep the widest spacing within ${significant(100 * remotesShare, 2)} %; nearer ones do too where their places are written down.`,
        ]),
    'No reading at all is no proof of sound ground.',
  ];
}
