import type { Findings } from '../../findings';
import type { Comparison } from '../../studies/compare';
import type { SurveyId } from '../../survey/ids';

/** A comparison that is open: the later survey is the one that is open in the page. */
export interface Compared {
  readonly surveyId: SurveyId;
  /** The lines as they were when they were compared. */
  readonly lines: Findings['lines'];
  /** What the earlier survey is called. */
  readonly earlier: string;
  readonly comparison: Comparison;
  readonly sentences: readonly string[];
}

/** Whether the survey was changed since: lines that an edit leaves alone stay the same objects. */
export const isOutdated = ({ lines }: Compared, now: Findings): boolean =>
  lines.length !== now.lines.length || lines.some((line, i) => line !== now.lines[i]);
