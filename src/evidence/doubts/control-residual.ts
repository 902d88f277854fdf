import type { Control } from '../../position/track';
import { metres } from '../../survey/wording';
import { doubtAbout, type FindDoubts } from './doubt-context';
import { scaleIsOff } from './tape-gps-scale';

/** Common practice: what an honest fix does once in 370. */
const MOST_SIGMAS = 3;

const rounded = (value: number): number => Math.round(value * 10) / 10;

/** Placed points that lie farther from where the rest of the line puts them than their accuracy allows. */
export const controlResidual: FindDoubts = ({ line, placed }) => {
  if (!placed.ok) return [];
  const { controls, disagreementM } = placed.track;
  const off = controls.filter(({ residualSigma }) => (residualSigma ?? 0) > MOST_SIGMAS);
  if (off.length === 0) return [];
  const gross = controls.some((control) => control.gross);
  if (disagreementM !== null && !gross) {
    // A wrong step between the electrodes is told as that.
    if (scaleIsOff(placed.track)) return [];
    const where = off.map(({ chainageM }) => metres(chainageM)).join(', ');
    return [
      doubtAbout({
        code: 'control_residual',
        severity: 'warning',
        line: line.id,
        sentence: `Line ${line.name}: the placed points at ${where} and the tape contradict each other by ${metres(rounded(disagreementM))}, and nothing tells which is wrong. All of the line is taken to be as unsure as that.`,
        remedy:
          'Fix one of them again, or a further point of the line, and check the chainages and the spacing of the tape.',
      }),
    ];
  }
  return off.map((control) =>
    doubtAbout({
      code: 'control_residual',
      severity: 'warning',
      line: line.id,
      chainageM: control.chainageM,
      aspect: control.id,
      sentence: `Line ${line.name}: the placed point at ${metres(control.chainageM)} lies ${metres(rounded(control.residualM ?? 0))} from where the others and the tape put it, ${rounded(control.residualSigma ?? 0)} of its own standard deviations.${consequence(control)}`,
      remedy:
        'Fix it again, or correct its coordinates or its chainage. If the line turns there or just before, say so.',
    }),
  );
};

const consequence = ({ gross }: Control): string =>
  gross ? ' The line is placed by the others.' : ' It is kept, since one in so many may be that far off.';
