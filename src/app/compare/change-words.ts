import type { ChangeVerdict, MatchedReading, NotComparable } from '../../studies/compare';
import { ratioText } from '../../survey/wording';

/** Short enough for a column. */
export const VERDICT_SHORT: Readonly<Record<ChangeVerdict, string>> = {
  higher_than_before: 'higher',
  lower_than_before: 'lower',
  no_change_shown: 'not shown',
  hint: 'a hint',
  not_comparable: 'no answer',
};

export const REASON_WORDS: Readonly<Record<NotComparable, string>> = {
  same_reading: 'the same reading in both surveys',
  other_basis: 'one survey has a reference, the other only its own median',
  no_ratio: 'over range, or without a reference',
};

/** "1.28 ± 0.08"; a dash where there is none. */
export function changeText({ change, standardErrorLn }: MatchedReading): string {
  if (change === null || standardErrorLn === null) return '–';
  return `${ratioText(change)} ± ${ratioText(change * standardErrorLn)}`;
}

/** The surest change first, then hints, then what has no answer. */
export function bySurety(matched: readonly MatchedReading[]): readonly MatchedReading[] {
  const rank = ({ verdict }: MatchedReading): number => (verdict === 'not_comparable' ? 2 : verdict === 'hint' ? 1 : 0);
  return [...matched].sort((p, q) => rank(p) - rank(q) || Math.abs(q.zScore ?? 0) - Math.abs(p.zScore ?? 0));
}
