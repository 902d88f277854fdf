import { radius95M } from '../../position/track';
import { metres } from '../../survey/wording';
import { doubtAbout, type FindDoubts } from './doubt-context';

/** A phone in the open is within about 5 m (Tomastik et al. 2017: RMSE 1.9–2.4 m, so 95 % within 3.3–4.1 m). */
const POOR_R95_M = 5;

export const positionPoor: FindDoubts = ({ line, placed, figures }) => {
  const { controls } = placed.ok ? placed.track : placed;
  const worst = controls.reduce((most, control) => Math.max(most, radius95M(control.sigmaM)), 0);
  const unsaid = controls.filter((control) => !control.accuracySaid).length;
  if (unsaid === 0 && worst <= POOR_R95_M) return [];
  const sentence =
    unsaid > 0
      ? `Line ${line.name}: ${unsaid} of ${controls.length} placed points do not say how accurate they are; 95 % within ${metres(worst)} was assumed.`
      : `Line ${line.name} is placed to ${metres(Math.round(worst * 10) / 10)} only (95 %).`;
  return [
    doubtAbout({
      code: 'position_poor',
      severity: unsaid > 0 ? 'note' : 'warning',
      line: line.id,
      sentence,
      remedy:
        'Write down the accuracy that the device showed. Average for some minutes in the open at both ends, or tie the line by tape to something on the map.',
      readings: figures.map(({ reading }) => reading.id),
    }),
  ];
};
