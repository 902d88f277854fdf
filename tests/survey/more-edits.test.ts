import { describe, expect, it } from 'vitest';
import { type Change, commit } from '../../src/survey/commit';
import {
  addLine,
  addReading,
  correctLine,
  correctReading,
  type NewLine,
  type NewReading,
  rejectReading,
  restoreReading,
  retireReading,
} from '../../src/survey/edits';
import { makeId } from '../../src/survey/ids';
import type { Outcome } from '../../src/survey/outcome';
import type { Survey } from '../../src/survey/survey';
import { readSurveyDocument } from '../../src/survey/versions';
import { emptySurvey, madeLine, madeOuting, madeReading } from '../helpers/made-survey';

const author = { by: 'Ada', at: '2026-05-12T10:00:00Z' };
const wired = madeLine('A', [], { hookup: 'pole_pole' });
const unwired = madeLine('B', []);
const gone = madeLine('gone', [], { retired: true });
const reading = madeReading(wired, { value: 300, midpoint_m: 4, spacing_m: 2 });
const over = madeReading(wired, { value: null, status: 'over_range', limit: 19990 });
const outing = madeOuting('first day');
const survey: Survey = {
  ...emptySurvey(),
  lines: [wired, unwired, gone],
  readings: [reading, over],
  outings: [outing],
};

function edited(before: Survey, outcome: Outcome<Change>): Survey {
  if (!outcome.ok) throw new Error(outcome.sentence);
  return commit(before, outcome.value).survey;
}

const said: NewReading = { line: wired.id, midpoint_m: 6, spacing_m: 2, value: 412, unit: 'ohm_m' };
const fixAt = (chainage: number, x: number, y: number): NewLine['fixes'][number] => ({
  chainage_m: chainage,
  position: { x, y, crs: 'EPSG:4326' },
});
const twoFixes: NewLine['fixes'] = [fixAt(0, -91.9, 37.4), fixAt(36, -91.8997, 37.4)];

describe('a reading added by hand', () => {
  it('is in the survey as it was said, wired as its line is, with who added it and when', () => {
    const added = edited(survey, addReading(survey, { ...said, outing: outing.id }, 'seed', author));
    expect(added.readings).toHaveLength(3);
    expect(added.readings[2]).toMatchObject({
      ...said,
      outing: outing.id,
      hookup: 'pole_pole',
      status: 'ok',
      revised: { at: author.at, by: 'Ada', count: 0 },
    });
    expect(readSurveyDocument(JSON.parse(JSON.stringify(added))).ok).toBe(true);
  });

  it('may say its own hookup, that it is not known, and that the meter ran over range', () => {
    const unknown = edited(
      survey,
      addReading(survey, { ...said, line: unwired.id, hookup: 'unknown' }, 'seed', author),
    );
    expect(unknown.readings[2]?.hookup).toBe('unknown');
    const beyond = { ...said, value: null, status: 'over_range' as const, limit: 19990 };
    const added = edited(survey, addReading(survey, beyond, 'seed', author));
    expect(added.readings[2]).toMatchObject({ value: null, status: 'over_range', limit: 19990 });
  });

  it('has an id of its own: another seed or another turn gives another', () => {
    const first = edited(survey, addReading(survey, said, 'seed', author));
    const second = edited(first, addReading(first, said, 'seed', author));
    const elsewhere = edited(survey, addReading(survey, said, 'other seed', author));
    const ids = [...second.readings, ...elsewhere.readings.slice(2)].map(({ id }) => id);
    expect(new Set(ids).size).toBe(5);
  });

  it.each([
    [{ line: makeId('line', 'x', 'none') }, 'no_such_line'],
    [{ line: gone.id }, 'no_such_line'],
    [{ outing: makeId('outing', 'x', 'none') }, 'no_such_outing'],
    [{ midpoint_m: null }, 'no_midpoint'],
    [{ midpoint_m: Number.NaN }, 'no_midpoint'],
    [{ spacing_m: 0 }, 'spacing_not_positive'],
    [{ spacing_m: Number.POSITIVE_INFINITY }, 'spacing_not_positive'],
    [{ value: Number.NaN }, 'not_a_number'],
    [{ value: null }, 'not_a_number'],
    [{ line: unwired.id }, 'no_hookup'],
  ])('is refused with %o', (wrong, code) => {
    const outcome = addReading(survey, { ...said, ...wrong }, 'seed', author);
    expect(outcome).toMatchObject({ ok: false, code, sentence: expect.stringMatching(/\.$/) });
  });
});

describe('a rejected reading', () => {
  it.each([
    [reading, 'ok'],
    [over, 'over_range'],
  ])('is what it was when it is restored', (own, status) => {
    const rejected = edited(survey, rejectReading(survey, own.id, 'lead off', author));
    const restored = edited(rejected, restoreReading(rejected, own.id, author));
    expect(restored.readings.find(({ id }) => id === own.id)).toMatchObject({
      value: own.value,
      status,
      status_reason: null,
      revised: { count: 2 },
    });
  });

  it('only is restored: one that counts is refused', () => {
    expect(restoreReading(survey, reading.id, author)).toMatchObject({ ok: false, code: 'not_rejected' });
  });
});

describe('a reading taken out', () => {
  it('stays in the record as retired, and cannot be taken out twice', () => {
    const out = edited(survey, retireReading(survey, reading.id, author));
    expect(out.readings).toHaveLength(2);
    expect(out.readings[0]).toMatchObject({ value: 300, retired: true });
    expect(retireReading(out, reading.id, author)).toMatchObject({ ok: false, code: 'already_retired' });
  });

  it('is not moved to a place that is no number', () => {
    const outcome = correctReading(survey, reading.id, { midpoint_m: Number.NaN }, author);
    expect(outcome).toMatchObject({ ok: false, code: 'no_midpoint' });
  });
});

describe('a line', () => {
  it('is renamed and wired otherwise; what is not said stays', () => {
    const renamed = edited(survey, correctLine(survey, wired.id, { name: ' A east ' }, author));
    expect(renamed.lines[0]).toMatchObject({ name: 'A east', hookup: 'pole_pole', revised: { count: 1 } });
    const rewired = edited(survey, correctLine(survey, wired.id, { hookup: 'two_probe' }, author));
    expect(rewired.lines[0]).toMatchObject({ name: 'A', hookup: 'two_probe' });
  });

  it('keeps its own name, and may have that of a line that was taken out', () => {
    expect(correctLine(survey, wired.id, { name: 'A' }, author).ok).toBe(true);
    expect(correctLine(survey, wired.id, { name: 'gone' }, author).ok).toBe(true);
  });

  it('is added by two fixes, as a document that can be read again', () => {
    const added = edited(
      survey,
      addLine(survey, { name: ' C ', hookup: 'pole_pole', fixes: twoFixes }, 'seed', author),
    );
    const line = added.lines[3];
    expect(line).toMatchObject({ name: 'C', hookup: 'pole_pole', profile: [] });
    expect(line?.path.map((item) => [item.kind, 'chainage_m' in item && item.chainage_m])).toEqual([
      ['fix', 0],
      ['fix', 36],
    ]);
    expect(new Set(line?.path.map(({ id }) => id)).size).toBe(2);
    expect(readSurveyDocument(JSON.parse(JSON.stringify(added))).ok).toBe(true);
  });

  it.each([
    [correctLine(survey, gone.id, {}, author), 'no_such_line'],
    [correctLine(survey, wired.id, { name: ' ' }, author), 'no_name'],
    [correctLine(survey, wired.id, { name: 'B' }, author), 'name_taken'],
    [addLine(survey, { name: '', fixes: twoFixes }, 'seed', author), 'no_name'],
    [addLine(survey, { name: 'A', fixes: twoFixes }, 'seed', author), 'name_taken'],
    [addLine(survey, { name: 'C', fixes: [fixAt(0, 1, 1), fixAt(Number.NaN, 2, 2)] }, 's', author), 'not_a_number'],
    [addLine(survey, { name: 'C', fixes: [fixAt(5, 1, 1), fixAt(5, 2, 2)] }, 's', author), 'same_chainage'],
    [addLine(survey, { name: 'C', fixes: [fixAt(0, 1, 1), fixAt(5, 1, 1)] }, 's', author), 'same_place'],
  ])('is refused with a reason (%#)', (outcome, code) => {
    expect(outcome).toMatchObject({ ok: false, code, sentence: expect.stringMatching(/\.$/) });
  });
});

describe('undo', () => {
  it('of each gives back the survey from before', () => {
    const rejected = edited(survey, rejectReading(survey, reading.id, 'lead off', author));
    const cases: [Survey, Outcome<Change>][] = [
      [survey, addReading(survey, said, 'seed', author)],
      [survey, retireReading(survey, reading.id, author)],
      [survey, correctLine(survey, wired.id, { name: 'A east' }, author)],
      [survey, addLine(survey, { name: 'C', fixes: twoFixes }, 'seed', author)],
      [rejected, restoreReading(rejected, reading.id, author)],
    ];
    for (const [before, outcome] of cases) {
      if (!outcome.ok) throw new Error(outcome.sentence);
      const done = commit(before, outcome.value);
      expect(done.survey).not.toEqual(before);
      expect(commit(done.survey, done.undo).survey).toEqual(before);
    }
  });
});
