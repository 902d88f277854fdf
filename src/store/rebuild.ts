import { commit } from '../survey/commit';
import { afterEntry, type EditHistory, EMPTY_HISTORY } from '../survey/history';
import type { Survey } from '../survey/survey';
import { changeIn } from './rows';

/** What was found damaged while a survey was put together again. */
export interface Damage {
  readonly what: 'survey' | 'change' | 'missing_changes';
  /** The entry, or the first of those missing. */
  readonly seq: number;
  readonly count: number;
  readonly reason: string;
  /** Something older stood in for it, so that nothing was lost. */
  readonly replaced?: boolean;
  readonly raw: unknown;
}

export interface Rebuilt {
  readonly survey: Survey;
  readonly history: EditHistory;
  /** The number of the last entry, damaged or not. */
  readonly seq: number;
  readonly damage: readonly Damage[];
}

/**
 * A survey from a base (which holds the entries up to `baseSeq`) and the entries behind it. An entry that is damaged or
 * missing is left out and told; those behind it are applied all the same, since each holds its entities whole. `toSeq` is
 * the number of the last entry that was acknowledged. What can be taken back begins anew behind damage.
 */
export function rebuild(base: Survey, baseSeq: number, rows: readonly unknown[], toSeq: number): Rebuilt {
  let survey = base;
  let history = EMPTY_HISTORY;
  let seq = baseSeq;
  const damage: Damage[] = [];
  const missing = (from: number, until: number): void => {
    if (until <= from) return;
    history = EMPTY_HISTORY;
    damage.push({ what: 'missing_changes', seq: from, count: until - from, reason: 'not there any more', raw: null });
  };
  for (const row of rows) {
    const number = (row as { seq: number }).seq;
    missing(seq + 1, number);
    seq = number;
    const read = changeIn(row);
    if (!read.ok) {
      history = EMPTY_HISTORY;
      damage.push({ what: 'change', seq, count: 1, reason: read.sentence, raw: row });
      continue;
    }
    const { survey: next, undo } = commit(survey, read.value.change);
    survey = next;
    history = afterEntry(history, read.value.kind, undo);
  }
  missing(seq + 1, toSeq + 1);
  return { survey, history, seq: Math.max(seq, toSeq), damage };
}
