import type { Theme } from '../../map/ramp';
import { metres, ratioText } from '../../survey/wording';
import type { ReadingEntry } from '../state/reading-index';
import { figureWords } from '../words/figure-words';
import { gradeWords } from '../words/grade-words';
import { ReadingSwatch } from './ReadingSwatch';

export interface LadderTableProps {
  readonly ladder: readonly ReadingEntry[];
  readonly here: ReadingEntry;
  readonly theme: Theme;
  readonly onSelect: (sid: string) => void;
}

/** The other spacings of the same place, since one alone says little. */
export function LadderTable({ ladder, here, theme, onSelect }: LadderTableProps) {
  if (ladder.length < 2) return null;
  return (
    <table className="ladder">
      <caption>All spacings here</caption>
      <thead>
        <tr>
          <th scope="col">spacing</th>
          <th scope="col">figure</th>
          <th scope="col">ratio</th>
          <th scope="col">
            <span className="unseen">grade</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {ladder.map((entry) => {
          const { finding, midpointSid } = entry;
          const name = finding.spacingM === null ? 'not said' : metres(finding.spacingM);
          const isHere = entry === here;
          return (
            <tr key={finding.key} aria-current={isHere ? 'true' : undefined}>
              <th scope="row">
                {isHere ? (
                  name
                ) : (
                  <button type="button" className="cell-button" onClick={() => onSelect(midpointSid)}>
                    {name}
                  </button>
                )}
              </th>
              <td>{figureWords(finding)}</td>
              <td>{finding.ratio === null ? '–' : ratioText(finding.ratio)}</td>
              <td>
                <ReadingSwatch finding={finding} theme={theme} />
                <span className="unseen">{gradeWords(finding)}</span>
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
