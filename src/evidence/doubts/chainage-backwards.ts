import { metres } from '../../survey/wording';
import { doubtAbout, type FindDoubts } from './doubt-context';

/** A line that turns back on itself by more than this has, more likely, two chainages exchanged. */
const REVERSAL_DEG = 150;

export const chainageBackwards: FindDoubts = ({ line, placed }) => {
  if (!placed.ok) return [];
  const { plane, fromM, bends, toM, placeAt } = placed.track;
  const corners = [fromM, ...bends, toM].map((chainageM) => {
    const { lon, lat } = placeAt(chainageM);
    return { chainageM, at: plane.toPlane(lon, lat) };
  });
  return corners.flatMap((corner, i) => {
    const before = corners[i - 1];
    const after = corners[i + 1];
    if (!before || !after) return [];
    const [ux, uy] = [corner.at[0] - before.at[0], corner.at[1] - before.at[1]];
    const [vx, vy] = [after.at[0] - corner.at[0], after.at[1] - corner.at[1]];
    const turnDeg = Math.abs((Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy) * 180) / Math.PI);
    if (turnDeg < REVERSAL_DEG) return [];
    return [
      doubtAbout({
        code: 'chainage_backwards',
        severity: 'serious',
        line: line.id,
        chainageM: corner.chainageM,
        sentence: `Line ${line.name} turns back on itself by ${Math.round(turnDeg)}° at ${metres(corner.chainageM)}: its chainages seem to run backwards there.`,
        remedy: 'Check the chainages, or the order, of the placed points round there; two of them may be exchanged.',
      }),
    ];
  });
};
