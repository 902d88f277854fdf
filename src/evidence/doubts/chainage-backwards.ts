import { metres } from '../../survey/wording';
import { doubtAbout, type FindDoubts } from './doubt-context';

/** A line that turns back on itself by more than this has, more likely, two chainages exchanged. */
const REVERSAL_DEG = 150;

export const chainageBackwards: FindDoubts = ({ line, placed }) => {
  if (!placed.ok) return [];
  const { track } = placed;
  const sorted = [...track.controls].sort((p, q) => p.chainageM - q.chainageM);
  const points = sorted.map((control) => ({
    chainageM: control.chainageM,
    at: track.plane.toPlane(control.place.lon, control.place.lat),
  }));
  return points.flatMap((point, i) => {
    const before = points[i - 1];
    const after = points[i + 1];
    if (!before || !after) return [];
    const [ux, uy] = [point.at[0] - before.at[0], point.at[1] - before.at[1]];
    const [vx, vy] = [after.at[0] - point.at[0], after.at[1] - point.at[1]];
    const turnDeg = Math.abs((Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy) * 180) / Math.PI);
    if (turnDeg < REVERSAL_DEG) return [];
    return [
      doubtAbout({
        code: 'chainage_backwards',
        severity: 'serious',
        line: line.id,
        chainageM: point.chainageM,
        sentence: `Line ${line.name} turns back on itself by ${Math.round(turnDeg)}° at ${metres(point.chainageM)}: its chainages seem to run backwards there.`,
        remedy: 'Check the chainages of the placed points round there; two of them may be exchanged.',
      }),
    ];
  });
};
