import type { Change } from './commit';
import { type LineId, makeId, type ReadingId } from './ids';
import { done, type Outcome, refuse } from './outcome';
import type { Fix, Line, Reading, Revised, Survey } from './survey';

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
  const { value, spacing_m: spacing, midpoint_m: midpoint } = correction;
  if (value !== undefined && value !== null && !Number.isFinite(value)) {
    return refuse('not_a_number', 'The value has to be a number, as the meter showed it.');
  }
  if (midpoint !== undefined && midpoint !== null && !Number.isFinite(midpoint)) {
    return refuse('no_midpoint', 'Say where along the line the midpoint was, in metres.');
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

/** Takes a rejection back: the reading counts again, over range where it showed no value. */
export function restoreReading(survey: Survey, id: ReadingId, author: Author): Outcome<Change> {
  const found = readingById(survey, id);
  if (!found.ok) return found;
  if (found.value.status !== 'rejected') {
    return refuse('not_rejected', 'That reading is not rejected, so there is nothing to restore.');
  }
  const restored: Reading = {
    ...found.value,
    status: found.value.value === null ? 'over_range' : 'ok',
    status_reason: null,
    revised: revise(found.value.revised, author),
  };
  return done({ label: 'Restore a reading', put: { readings: [restored] } });
}

/** Takes a reading out of everything that is computed and shown, for one that should never have been there. */
export function retireReading(survey: Survey, id: ReadingId, author: Author): Outcome<Change> {
  const found = readingById(survey, id);
  if (!found.ok) return found;
  if (found.value.retired) return refuse('already_retired', 'That reading has been taken out already.');
  const retired: Reading = { ...found.value, retired: true, revised: revise(found.value.revised, author) };
  return done({ label: 'Take out a reading', put: { readings: [retired] } });
}

/** What is said of a reading that is added by hand; the rest may follow as corrections. */
export type NewReading = Pick<Reading, 'line' | 'midpoint_m' | 'spacing_m' | 'value' | 'unit'> &
  Partial<Omit<Reading, 'id' | 'revised' | 'retired'>>;

/**
 * Adds a reading to a line. `seed` is random and comes from the shell.
 * Refuses an unknown line or outing, a place, spacing or value that is no number, a missing value that is not over
 * range, and a hookup that neither the reading nor its line says: there is no default for it.
 */
export function addReading(survey: Survey, said: NewReading, seed: string, author: Author): Outcome<Change> {
  const found = lineById(survey, said.line);
  if (!found.ok) return found;
  const { midpoint_m: midpoint, spacing_m: spacing, value, outing } = said;
  if (outing && !survey.outings.some(({ id, retired }) => id === outing && !retired)) {
    return refuse('no_such_outing', 'That outing is not in this survey any more. Choose another.');
  }
  if (typeof midpoint !== 'number' || !Number.isFinite(midpoint)) {
    return refuse('no_midpoint', 'Say where along the line the midpoint was, in metres.');
  }
  if (spacing !== null && spacing !== undefined && !(spacing > 0 && Number.isFinite(spacing))) {
    return refuse('spacing_not_positive', 'The spacing has to be longer than 0 m.');
  }
  if (value === null ? said.status !== 'over_range' : !Number.isFinite(value)) {
    return refuse('not_a_number', 'The value has to be a number, as the meter showed it, or over range.');
  }
  const hookup = said.hookup ?? found.value.hookup;
  if (!hookup) {
    return refuse(
      'no_hookup',
      'Say how the probes were wired. “Hookup not said” is an answer too; it is never guessed.',
    );
  }
  const reading: Reading = {
    status: 'ok',
    ...said,
    hookup,
    id: makeId('reading', seed, `${said.line}|${survey.readings.length}`),
    revised: { at: author.at, by: author.by, count: 0 },
  };
  return done({ label: 'Add a reading', put: { readings: [reading] } });
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

function lineById(survey: Survey, id: LineId): Outcome<Line> {
  const line = survey.lines.find((candidate) => candidate.id === id && !candidate.retired);
  return line ? done(line) : refuse('no_such_line', 'That line is not in this survey any more. Choose another.');
}

/** Names are how people call lines, so each is used once. Gives the name without blanks around it. */
function freeName(survey: Survey, name: string, own: LineId | null): Outcome<string> {
  const wanted = name.trim();
  if (wanted === '') return refuse('no_name', 'A line needs a name.');
  const taken = survey.lines.some((line) => line.id !== own && !line.retired && line.name === wanted);
  return taken
    ? refuse('name_taken', `There is a line “${wanted}” already. Give this one another name.`)
    : done(wanted);
}

/** Corrects what a line is called or how its readings are wired unless they say otherwise. */
export function correctLine(
  survey: Survey,
  id: LineId,
  correction: Partial<Pick<Line, 'name' | 'hookup'>>,
  author: Author,
): Outcome<Change> {
  const found = lineById(survey, id);
  if (!found.ok) return found;
  const name = freeName(survey, correction.name ?? found.value.name, id);
  if (!name.ok) return name;
  const corrected: Line = {
    ...found.value,
    ...correction,
    name: name.value,
    revised: revise(found.value.revised, author),
  };
  return done({ label: `Correct line ${name.value}`, put: { lines: [corrected] } });
}

export interface NewLine {
  readonly name: string;
  readonly hookup?: Line['hookup'];
  /** Two places that were measured in; the line runs straight between them. */
  readonly fixes: readonly [Pick<Fix, 'chainage_m' | 'position'>, Pick<Fix, 'chainage_m' | 'position'>];
}

/** Adds a straight line by two fixes. `seed` is random and comes from the shell. */
export function addLine(
  survey: Survey,
  { name: called, hookup, fixes }: NewLine,
  seed: string,
  author: Author,
): Outcome<Change> {
  const name = freeName(survey, called, null);
  if (!name.ok) return name;
  const [first, last] = fixes;
  const numbers = fixes.flatMap(({ chainage_m: chainage, position: { x, y } }) => [chainage, x, y]);
  if (!numbers.every(Number.isFinite)) {
    return refuse('not_a_number', 'Both fixes need a chainage in metres and two coordinates.');
  }
  if (first.chainage_m === last.chainage_m) {
    return refuse(
      'same_chainage',
      'The two fixes have the same chainage. Say how far along the tape the second one is.',
    );
  }
  const { position: from } = first;
  const { position: to } = last;
  if (from.crs === to.crs && from.x === to.x && from.y === to.y) {
    return refuse(
      'same_place',
      'The two fixes are at the same place, so the line has no direction. Correct one of them.',
    );
  }
  const line: Line = {
    id: makeId('line', seed, name.value),
    revised: { at: author.at, by: author.by, count: 0 },
    name: name.value,
    ...(hookup === undefined ? {} : { hookup }),
    path: fixes.map((fix, i) => ({ ...fix, kind: 'fix', id: makeId('path', seed, `${name.value}|${i}`) })),
    profile: [],
  };
  return done({ label: `Add line ${name.value}`, put: { lines: [line] } });
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
