import type { Track } from '../../position/track';
import { metres } from '../../survey/wording';
import { doubtAbout, type FindDoubts } from './doubt-context';

/** Less than this no tape in a field is worth talking about (common practice, no source). */
const LEAST_SHARE = 0.01;
/** From two-sided 95 % to three standard deviations. */
const CERTAIN = 3 / 1.96;

const percent = (share: number): string => `${Number((100 * share).toFixed(1))} %`;

/** Whether the fixes contradict the tape's metre by more than 1 % and more than their 95 % error. */
export function scaleIsOff({ tapeGpsScale: scale, tapeGpsScaleError95: error95 }: Track): boolean {
  if (scale === null || error95 === null) return false;
  return Math.abs(scale - 1) > Math.max(LEAST_SHARE, error95);
}

/** Where the fixes make a metre of the tape longer or shorter than a metre, beyond their own error. */
export const tapeGpsScale: FindDoubts = ({ line, placed, figures }) => {
  if (!placed.ok || !scaleIsOff(placed.track)) return [];
  const { tapeGpsScale: scale, tapeGpsScaleError95: error95, disagreementM } = placed.track;
  const off = (scale ?? 1) - 1;
  const unsure =
    disagreementM === null
      ? ''
      : ` That is ${metres(Math.round(disagreementM * 10) / 10)}, and nothing tells what is wrong: all of the line is taken to be as unsure as that.`;
  return [
    doubtAbout({
      code: 'tape_gps_scale',
      // Of honest lines one in twenty is beyond its 95 % error.
      severity: Math.abs(off) > CERTAIN * (error95 ?? 0) ? 'warning' : 'note',
      line: line.id,
      sentence: `Line ${line.name}: by its placed points it is ${percent(Math.abs(off))} ${off > 0 ? 'longer' : 'shorter'} than by the tape (± ${percent(error95 ?? 0)}, 95 %).${unsure}`,
      remedy:
        'Check the step between the electrodes, the chainages of the placed points, and their coordinates. Spacings are taken from the tape.',
      readings: figures.map(({ reading }) => reading.id),
    }),
  ];
};
