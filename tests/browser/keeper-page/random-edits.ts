import { type Change, commit } from '../../../src/survey/commit';
import { afterEntry, type EditHistory, type EntryKind } from '../../../src/survey/history';
import type { Reading, Survey } from '../../../src/survey/survey';
import { emptySurvey, madeLine, seeded } from '../../helpers/made-survey';

const line = madeLine('A', []);

/** What is open before the first edit: nothing but a line. */
export const FIRST: Survey = { ...emptySurvey('faults'), lines: [line] };

export interface Opened {
  readonly survey: Survey;
  readonly history: EditHistory;
}

export interface RandomEdit {
  readonly kind: EntryKind;
  readonly change: Change;
}

/** An edit like those of a day: readings are added, corrected, rejected, taken back, and taken back again. */
export function randomEdit({ survey, history }: Opened, random: () => number): RandomEdit {
  const roll = random();
  const [back, again] = [history.undo.at(-1), history.redo.at(-1)];
  if (roll < 0.12 && back) return { kind: 'undo', change: back };
  if (roll < 0.2 && again) return { kind: 'redo', change: again };
  const { readings } = survey;
  const old = readings[Math.floor(random() * readings.length)];
  const value = Math.round(random() * 1e6) / 1000;
  if (roll < 0.5 && old) {
    const corrected: Reading = { ...old, value, note: `was ${old.value}, °`.repeat(1 + Math.floor(random() * 40)) };
    return { kind: 'do', change: { label: 'Correct a reading', put: { readings: [corrected] } } };
  }
  if (roll < 0.6)
    return { kind: 'do', change: { label: 'Name the site', site: { ...survey.site, name: `S ${value}` } } };
  const id = `reading-${value}-${random()}` as Reading['id'];
  const added: Reading = {
    id,
    revised: { at: '2026-05-12T10:00:00Z', by: 'Ada', count: 0 },
    line: line.id,
    midpoint_m: Math.round(random() * 100),
    spacing_m: 4,
    value,
    unit: 'ohm_m',
    status: 'ok',
  };
  return { kind: 'do', change: { label: 'Add a reading', put: { readings: [added] } } };
}

/** What is open after an edit. */
export function afterEdit({ survey, history }: Opened, { kind, change }: RandomEdit): Opened {
  const { survey: next, undo } = commit(survey, change);
  return { survey: next, history: afterEntry(history, kind, undo) };
}

/** The edits of a session, one after the other, told by its seed. */
export const sessionOf = (seed: number): (() => number) => seeded(seed);

/** Everything that is open, as text to compare. */
export const textOf = ({ survey, history }: Opened): string => JSON.stringify([survey, history]);
