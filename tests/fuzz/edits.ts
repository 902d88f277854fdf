import { type Change, COLLECTIONS, commit } from '../../src/survey/commit';
import {
  type Author,
  addReading,
  correctLine,
  correctReading,
  rejectReading,
  restoreReading,
  retireLine,
  retireReading,
  settleDoubt,
} from '../../src/survey/edits';
import { afterEntry, type EditHistory, EMPTY_HISTORY } from '../../src/survey/history';
import { mergeSurveys } from '../../src/survey/merge-surveys';
import { done, type Outcome } from '../../src/survey/outcome';
import { addOuting, correctOuting } from '../../src/survey/outing-edits';
import { addPathItem, movePoint, retirePathItem, setLayout } from '../../src/survey/path-edits';
import { addPhoto } from '../../src/survey/photo-edits';
import { referToQuietPart } from '../../src/survey/reference-edits';
import type { Survey } from '../../src/survey/survey';
import { type Chance, chanceFrom } from './chance';
import { randomSurvey } from './ladders';

/** Something that a person may do next, whether or not it makes sense now. */
function randomEdit(survey: Survey, chance: Chance, by: Author): Outcome<Change> {
  const line = chance.of(survey.lines);
  const reading = chance.of(survey.readings);
  const item = chance.of(line.path);
  const seed = String(chance.real());
  const number = chance.of([0, -1, 1e-9, 12.5, 1e9, Number.NaN, 1 + chance.below(50)]);
  const position = { x: -91 + chance.real(), y: 37 + chance.real(), crs: 'EPSG:4326' };
  switch (chance.below(15)) {
    case 0:
      return correctReading(survey, reading.id, { value: number }, by);
    case 1:
      return correctReading(survey, reading.id, { spacing_m: number, midpoint_m: chance.below(40) }, by);
    case 2:
      return rejectReading(survey, reading.id, chance.of(['', 'wet', 'a rod fell over']), by);
    case 3:
      return restoreReading(survey, reading.id, by);
    case 4:
      return retireReading(survey, reading.id, by);
    case 5:
      return addReading(
        survey,
        { line: line.id, midpoint_m: number, spacing_m: 2, value: 300, unit: 'ohm_m', hookup: 'pole_pole' },
        seed,
        by,
      );
    case 6:
      return correctLine(survey, line.id, { name: chance.of(['A', 'Q', 'new', '', ' A ']) }, by);
    case 7:
      return chance.below(6) === 0 ? done(retireLine(survey, line, by)) : setLayout(survey, line.id, null, by);
    case 8:
      return addPathItem(survey, line.id, { kind: 'fix', chainage_m: number, position }, seed, by);
    case 9:
      return movePoint(survey, line.id, item?.id as never, position, by);
    case 10:
      return retirePathItem(survey, line.id, item?.id as never, by);
    case 11:
      return addOuting(survey, { name: seed, unit: 'ohm_m', hookup: 'two_probe', wetting: 'none' }, seed, by);
    case 12:
      return correctOuting(survey, chance.of(survey.outings).id, { name: chance.of(['', 'day', seed]) }, by);
    case 13:
      return settleDoubt(survey, chance.of(['d1', 'd2']), 'accepted', chance.of(['', 'seen']), by);
    default:
      return chance.below(2) === 0
        ? referToQuietPart(survey, { line, fromM: 0, toM: number }, by)
        : addPhoto(survey, { sha256: seed, subject: reading.id, mediaType: 'image/png', bytes: 9 }, by);
  }
}

export interface Edited {
  readonly before: Survey;
  readonly survey: Survey;
  readonly history: EditHistory;
  /** Every change that was committed, in order: edits, undone and redone ones. */
  readonly journal: readonly Change[];
  readonly done: number;
  readonly refused: number;
}

/** A random survey after edits, undos and redos in random order. The clock of whoever edits goes back now and then. */
export function randomlyEdited(seed: number, steps = 60, before = randomSurvey(seed)): Edited {
  const chance = chanceFrom(seed + 11);
  let [survey, history]: [Survey, EditHistory] = [before, EMPTY_HISTORY];
  const journal: Change[] = [];
  let [did, refused] = [0, 0];
  for (let step = 0; step < steps; step += 1) {
    const at = new Date(Date.UTC(2026, 4, 1) + 1e8 * (chance.real() - 0.3) * step).toISOString();
    const kind = chance.of(['do', 'do', 'do', 'undo', 'redo'] as const);
    const asked =
      kind === 'do'
        ? randomEdit(survey, chance, { by: chance.of(['Anna', 'Bert']), at })
        : done(history[kind].at(-1) ?? null);
    if (!asked.ok) refused += 1;
    if (!asked.ok || asked.value === null) continue;
    const made = commit(survey, asked.value);
    journal.push(asked.value);
    [survey, history] = [made.survey, afterEntry(history, kind, made.undo)];
    did += 1;
  }
  return { before, survey, history, journal, done: did, refused };
}

/** What undoing everything, or replaying the journal from its text, does not give back; null where it gives all. */
export function faultOfEdits({ before, survey, history, journal }: Edited): string | null {
  const replayed = journal.reduce(
    (now, change) => commit(now, JSON.parse(JSON.stringify(change))).survey,
    JSON.parse(JSON.stringify(before)) as Survey,
  );
  if (JSON.stringify(replayed) !== JSON.stringify(survey))
    return `the replayed journal differs in ${differing(replayed, survey)}`;
  let [now, left] = [survey, history];
  for (let change = left.undo.at(-1); change; change = left.undo.at(-1)) {
    const made = commit(now, change);
    [now, left] = [made.survey, afterEntry(left, 'undo', made.undo)];
  }
  if (JSON.stringify(now) !== JSON.stringify(before)) return `undoing everything leaves ${differing(now, before)}`;
  for (let change = left.redo.at(-1); change; change = left.redo.at(-1)) {
    const made = commit(now, change);
    [now, left] = [made.survey, afterEntry(left, 'redo', made.undo)];
  }
  // What had been undone last is done again too, so this may be more than there was; undoing it again has to work.
  for (let change = left.undo.at(-1); change; change = left.undo.at(-1)) {
    const made = commit(now, change);
    [now, left] = [made.survey, afterEntry(left, 'undo', made.undo)];
  }
  return JSON.stringify(now) === JSON.stringify(before) ? null : `a second round leaves ${differing(now, before)}`;
}

/** What joining two differently edited copies of one survey does that it must not; null where it is sound. */
export function faultOfMerge(seed: number): string | null {
  const first = randomlyEdited(seed, 25);
  const { survey: mine } = first;
  const { survey: theirs } = randomlyEdited(seed + 500_000, 25, first.before);
  const joined = mergeSurveys(mine, theirs);
  if (!joined.ok) return `two copies of one survey were refused: ${joined.sentence}`;
  const { survey, change } = joined.value;
  const again = mergeSurveys(survey, theirs);
  if (!again.ok) return `joining again was refused: ${again.sentence}`;
  if (again.value.taken.length > 0) return `joining again takes ${again.value.taken.length} more`;
  const missing = COLLECTIONS.find((collection) => {
    const ids = new Set<string>(survey[collection].map(({ id }) => id));
    return mine[collection].some(({ id }) => !ids.has(id));
  });
  if (missing) return `${missing} of mine are missing`;
  const readings = new Set<string>(survey.readings.map(({ id }) => id));
  if (readings.size !== survey.readings.length) return 'a reading stands twice';
  const back = commit(survey, commit(mine, change).undo).survey;
  if (JSON.stringify(back) !== JSON.stringify(mine)) return `undoing it leaves ${differing(back, mine)}`;
  const other = mergeSurveys(theirs, mine);
  if (!other.ok || other.value.conflicts.length !== joined.value.conflicts.length) {
    return `${joined.value.conflicts.length} conflicts, and ${other.ok ? other.value.conflicts.length : 'a refusal'} the other way`;
  }
  return null;
}

function differing(p: Survey, q: Survey): string {
  const names = [...COLLECTIONS, 'site' as const].filter((name) => JSON.stringify(p[name]) !== JSON.stringify(q[name]));
  return names.join(', ') || 'something else';
}
