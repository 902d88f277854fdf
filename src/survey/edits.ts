import type { Change } from './commit';
import { makeId, type ReadingId } from './ids';
import { done, type Outcome, refuse } from './outcome';
import type { Line, Reading, Revised, Survey } from './survey';

/** Who makes an edit and when: given by the shell, since the core knows no clock. */
export interface Author {
  readonly by: string;
  readonly at: string;
}

const revise = (before: Revised, author: Author): Revised => ({
  ...before,
  at: author.at,
  by: author.by,
  count: before.count + 1,
});

function readingById(survey: Survey, id: ReadingId): Outcome<Reading> {
  const reading = survey.readings.find((candidate) => candidate.id === id);
  return reading
    ? done(reading)
    : refuse(
        'no_such_reading',
        'That reading is not in this survey any more. Choose it again on the map or in the table.',
      );
}

/** What a person may correct in a reading. The identity and the line stay; the line is changed by moving the reading. */
export type ReadingCorrection = Partial<Omit<Reading, 'id' | 'revised' | 'line'>>;

/** Corrects a reading. Refuses an unknown id, and a value that is not a number. */
export function correctReading(
  survey: Survey,
  id: ReadingId,
  correction: ReadingCorrection,
  author: Author,
): Outcome<Change> {
  const found = readingById(survey, id);
  if (!found.ok) return found;
  const { value, spacing_m: spacing } = correction;
  if (value !== undefined && value !== null && !Number.isFinite(value)) {
    return refuse('not_a_number', 'The value has to be a number, as the meter showed it.');
  }
  if (spacing !== undefined && spacing !== null && !(spacing > 0)) {
    return refuse('spacing_not_positive', 'The spacing has to be longer than 0 m.');
  }
  const corrected = { ...found.value, ...correction, revised: revise(found.value.revised, author) } as Reading;
  return done({ label: 'Correct a reading', put: { readings: [corrected] } });
}

/** Rejects a reading with a reason: it stays in the record and is no longer counted. */
export function rejectReading(survey: Survey, id: ReadingId, reason: string, author: Author): Outcome<Change> {
  const found = readingById(survey, id);
  if (!found.ok) return found;
  if (reason.trim() === '') return refuse('no_reason', 'Say why the reading is rejected, so that others can judge it.');
  const rejected: Reading = {
    ...found.value,
    status: 'rejected',
    status_reason: reason,
    revised: revise(found.value.revised, author),
  };
  return done({ label: 'Reject a reading', put: { readings: [rejected] } });
}

/** Retires a line with its readings; nothing is deleted. */
export function retireLine(survey: Survey, line: Line, author: Author): Change {
  const retire = <T extends { readonly revised: Revised }>(entity: T): T => ({
    ...entity,
    retired: true,
    revised: revise(entity.revised, author),
  });
  return {
    label: `Retire line ${line.name}`,
    put: { lines: [retire(line)], readings: survey.readings.filter((r) => r.line === line.id).map(retire) },
  };
}

/** Settles a doubt: it stays listed, with who decided what and why. */
export function settleDoubt(
  survey: Survey,
  doubt: string,
  decision: 'accepted' | 'explained' | 'rejected',
  why: string,
  author: Author,
): Outcome<Change> {
  if (why.trim() === '') return refuse('no_reason', 'Say why the doubt is settled, so that others can judge it.');
  const before = survey.settlements.find((settlement) => settlement.doubt === doubt);
  const settled = {
    ...(before ?? { id: makeId('settlement', survey.id, doubt), doubt }),
    decision,
    why,
    revised: revise(before?.revised ?? { at: null, by: null, count: -1 }, author),
  };
  return done({ label: 'Settle a doubt', put: { settlements: [settled] } });
}
