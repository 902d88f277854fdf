import type { Theme } from '../../map/ramp';
import { metres, ratioText } from '../../survey/wording';
import type { ReadingEntry } from '../state/reading-index';
import { spacingWords } from '../words/describe-reading';
import { gradeWords } from '../words/grade-words';
import { lineWords } from '../words/line-words';
import { ReadingSwatch } from './ReadingSwatch';

export interface ReadingButtonProps {
  readonly entry: ReadingEntry;
  readonly theme: Theme;
  readonly onSelect: (sid: string) => void;
}

/** A reading in one line of a list; pressing it opens it and shows it on the map. */
export function ReadingButton({ entry: { finding, line, doubted, midpointSid }, theme, onSelect }: ReadingButtonProps) {
  return (
    <button type="button" className="row-button" onClick={() => onSelect(midpointSid)}>
      <ReadingSwatch finding={finding} theme={theme} />
      <span className="row-words">
        <span className="row-place">
          {lineWords(line.name)}, {metres(finding.chainageM)}, {spacingWords(finding.spacingM)}
        </span>
        <span className="row-verdict">
          {gradeWords(finding)}
          {finding.ratio !== null && `: ×${ratioText(finding.ratio)}`}
          {doubted && '; look at its doubts first'}
        </span>
      </span>
    </button>
  );
}
