import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { appraise, newMemory } from '../src/appraise';
import { DEFAULT_SETTINGS } from '../src/evidence/settings';
import { commit } from '../src/survey/commit';
import { correctReading, rejectReading, retireLine } from '../src/survey/edits';
import type { Reading, Survey } from '../src/survey/survey';
import { emptySurvey, madeLine, madeOuting, madeReading, madeReference } from './helpers/made-survey';

const author = { by: 'Ada', at: '2026-05-12T10:00:00Z' };

function made(withReference: boolean): Survey {
  const day = madeOuting('day');
  const lines = [0, 1, 2, 3].map((i) =>
    madeLine(`L${i}`, [
      { chainageM: 0, lon: -91.9, lat: 37.4 + i * 1e-4 },
      { chainageM: 30, lon: -91.8996613, lat: 37.4 + i * 1e-4 },
    ]),
  );
  const readings = lines.flatMap((line, i) =>
    [6, 9, 12, 15, 18].flatMap((chainage) =>
      [2, 4].map((spacing) =>
        madeReading(line, {
          midpoint_m: chainage,
          spacing_m: spacing,
          value: 200 + 10 * i + chainage,
          hookup: 'pole_pole',
          outing: day.id,
        }),
      ),
    ),
  );
  const [first] = lines as [(typeof lines)[number]];
  const references = withReference ? [madeReference([6, 9, 12].map((chainageM) => ({ line: first, chainageM })))] : [];
  return { ...emptySurvey('memory'), outings: [day], lines, readings, references };
}

describe('a computation with a memory', () => {
  it.each([true, false])('gives what one without gives, after any run of edits (reference: %s)', (withReference) => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 2 }), fc.nat(39), fc.integer({ min: 50, max: 900 })), {
          maxLength: 8,
        }),
        (steps) => {
          const memory = newMemory();
          let survey = made(withReference);
          expect(appraise(survey, DEFAULT_SETTINGS, memory)).toEqual(appraise(survey));
          for (const [kind, at, value] of steps) {
            const reading = survey.readings[at] as Reading;
            const outcome =
              kind === 0
                ? correctReading(survey, reading.id, { value }, author)
                : kind === 1
                  ? rejectReading(survey, reading.id, 'a try', author)
                  : {
                      ok: true as const,
                      value: retireLine(survey, survey.lines[at % 4] as (typeof survey.lines)[number], author),
                    };
            if (!outcome.ok) throw new Error(outcome.sentence);
            survey = commit(survey, outcome.value).survey;
            expect(appraise(survey, DEFAULT_SETTINGS, memory)).toEqual(appraise(survey));
          }
        },
      ),
      { numRuns: 25, seed: 17 },
    );
  });

  it('hands out the same findings for lines that an edit does not touch', () => {
    const memory = newMemory();
    const survey = made(true);
    const before = appraise(survey, DEFAULT_SETTINGS, memory);
    const last = survey.readings[survey.readings.length - 1] as Reading;
    const change = correctReading(survey, last.id, { value: 999 }, author);
    if (!change.ok) throw new Error(change.sentence);
    const after = appraise(commit(survey, change.value).survey, DEFAULT_SETTINGS, memory);
    expect(after.lines[1]).toBe(before.lines[1]);
    expect(after.lines[3]).not.toBe(before.lines[3]);
  });

  it('computes every line again when the reference itself is edited', () => {
    const memory = newMemory();
    const survey = made(true);
    const before = appraise(survey, DEFAULT_SETTINGS, memory);
    const first = survey.readings[0] as Reading;
    const change = correctReading(survey, first.id, { value: 400 }, author);
    if (!change.ok) throw new Error(change.sentence);
    const after = appraise(commit(survey, change.value).survey, DEFAULT_SETTINGS, memory);
    expect(after.lines[3]).not.toBe(before.lines[3]);
  });
});
