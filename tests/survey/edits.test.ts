import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { commit } from '../../src/survey/commit';
import { correctReading, rejectReading, retireLine, settleDoubt } from '../../src/survey/edits';
import { makeId } from '../../src/survey/ids';
import type { Survey } from '../../src/survey/survey';
import { emptySurvey, madeLine, madeReading } from '../helpers/made-survey';

const line = madeLine('A', []);
const readings = [300, 310, 320].map((value) => madeReading(line, { value }));
const survey: Survey = { ...emptySurvey(), lines: [line, madeLine('B', [])], readings };
const author = { by: 'Ada', at: '2026-05-12T10:00:00Z' };
const [first] = readings as [(typeof readings)[number]];

describe('an edit', () => {
  it('is change data: the survey stays as it was until it is committed', () => {
    const before = structuredClone(survey);
    const change = correctReading(survey, first.id, { value: 333 }, author);
    expect(survey).toEqual(before);
    if (!change.ok) throw new Error(change.sentence);
    const done = commit(survey, change.value);
    expect(done.survey.readings[0]).toMatchObject({ value: 333, revised: { at: author.at, by: 'Ada', count: 1 } });
    expect(survey).toEqual(before);
  });

  it('leaves every entity that it does not name the same object', () => {
    const change = correctReading(survey, first.id, { value: 333 }, author);
    if (!change.ok) throw new Error(change.sentence);
    const after = commit(survey, change.value).survey;
    expect(after.lines).toBe(survey.lines);
    expect(after.readings[1]).toBe(survey.readings[1]);
  });

  it('keeps keys that this version does not know', () => {
    const odd = { ...survey, readings: [{ ...first, colour_of_the_sky: 'grey' } as typeof first] };
    const change = correctReading(odd, first.id, { note: 'rain' }, author);
    if (!change.ok) throw new Error(change.sentence);
    expect(commit(odd, change.value).survey.readings[0]).toMatchObject({ colour_of_the_sky: 'grey', note: 'rain' });
  });

  it.each([
    [correctReading(survey, makeId('reading', 'x', 'none'), {}, author), 'no_such_reading'],
    [correctReading(survey, first.id, { value: Number.NaN }, author), 'not_a_number'],
    [correctReading(survey, first.id, { spacing_m: 0 }, author), 'spacing_not_positive'],
    [rejectReading(survey, first.id, '  ', author), 'no_reason'],
    [settleDoubt(survey, 'over_range:x', 'explained', '', author), 'no_reason'],
  ])('that cannot be is refused with a reason (%#)', (outcome, code) => {
    expect(outcome).toMatchObject({ ok: false, code, sentence: expect.stringMatching(/\.$/) });
  });

  it('retires a line with its readings and deletes nothing', () => {
    const after = commit(survey, retireLine(survey, line, author)).survey;
    expect(after.lines).toHaveLength(2);
    expect(after.lines[0]?.retired).toBe(true);
    expect(after.readings.every(({ retired }) => retired)).toBe(true);
  });

  it('settles a doubt once: settling it again revises the settlement', () => {
    const one = settleDoubt(survey, 'over_range:x', 'explained', 'dry soil', author);
    if (!one.ok) throw new Error(one.sentence);
    const after = commit(survey, one.value).survey;
    const two = settleDoubt(after, 'over_range:x', 'rejected', 'it was the lead', author);
    if (!two.ok) throw new Error(two.sentence);
    const again = commit(after, two.value).survey;
    expect(again.settlements).toHaveLength(1);
    expect(again.settlements[0]).toMatchObject({ decision: 'rejected', revised: { count: 1 } });
  });
});

describe('undo', () => {
  it('of any run of edits gives back the survey from before, entity by entity', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 3 }), fc.integer({ min: 1, max: 999 })), {
          minLength: 1,
          maxLength: 12,
        }),
        (steps) => {
          let current = survey;
          const undos = [];
          for (const [kind, number] of steps) {
            const target = current.readings[number % current.readings.length] as (typeof readings)[number];
            const outcomes = [
              () => correctReading(current, target.id, { value: number }, author),
              () => rejectReading(current, target.id, `reason ${number}`, author),
              () => settleDoubt(current, `doubt ${number % 3}`, 'accepted', 'looked at', author),
              () => ({
                ok: true as const,
                value: { label: 'Add a reading', put: { readings: [madeReading(line, { value: number })] } },
              }),
            ];
            const outcome = (outcomes[kind] as (typeof outcomes)[number])();
            if (!outcome.ok) throw new Error(outcome.sentence);
            const done = commit(current, outcome.value);
            undos.push(done.undo);
            current = done.survey;
          }
          for (const undo of undos.reverse()) current = commit(current, undo).survey;
          expect(current).toEqual(survey);
        },
      ),
      { numRuns: 100, seed: 5 },
    );
  });
});
