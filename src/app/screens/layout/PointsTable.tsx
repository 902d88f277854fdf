import type { PathItemId } from '../../../survey/ids';
import { metres } from '../../../survey/wording';
import type { Content } from '../../state/app-state';
import { type LinePoint, saidRadius95M } from '../../state/line-points';
import { lengthWords, placedWords, residualWords } from '../../words/layout-words';
import { lineWords } from '../../words/line-words';

export interface PointsTableProps {
  readonly content: Content;
  readonly points: readonly LinePoint[];
  readonly open: PathItemId | null;
  readonly onOpen: (id: PathItemId) => void;
}

/** Where each point stands on the tape, how it was placed, how sure it is, and how it agrees with the others. */
export function PointsTable({ content: { survey }, points, open, onOpen }: PointsTableProps) {
  const nameOf = (id: string) => lineWords(survey.lines.find((line) => line.id === id)?.name ?? '?');
  return (
    <table className="lay-table">
      <caption className="unseen">Points of this line</caption>
      <thead>
        <tr>
          <th scope="col">at</th>
          <th scope="col">placed</th>
          <th scope="col">
            <abbr title="radius that holds it with 95 %">±</abbr>
          </th>
          <th scope="col">off by</th>
        </tr>
      </thead>
      <tbody>
        {points.map(({ item, chainageM, control }) => (
          <tr key={item.id} data-gross={control?.gross === true}>
            <th scope="row">
              <button
                type="button"
                className="cell-button"
                aria-expanded={item.id === open}
                aria-label={`${metres(chainageM)}: correct`}
                onClick={() => onOpen(item.id)}
              >
                {metres(chainageM)}
              </button>
            </th>
            <td>{placedWords(item, nameOf)}</td>
            <td>
              {control
                ? lengthWords(control.uncertainty95M)
                : item.kind === 'fix'
                  ? lengthWords(saidRadius95M(item.position))
                  : '–'}
            </td>
            <td>
              {(control ? residualWords(control) : [item.kind === 'leg' ? '–' : 'not placed yet']).map((words) => (
                <span key={words} className="piece">
                  {words}{' '}
                </span>
              ))}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
