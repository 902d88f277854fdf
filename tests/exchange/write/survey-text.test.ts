import { expect, it } from 'vitest';
import { surveyPieces } from '../../../src/exchange/write/survey-text';
import type { Survey } from '../../../src/survey/survey';
import { demoContent } from '../../app/demo-content';
import { everything } from '../../discretion/made-share';

const { survey } = demoContent();

it('A survey in pieces is the same JSON as the survey at once, whatever its lists hold', () => {
  const readings = survey.readings;
  const cases: readonly Survey[] = [
    survey,
    ...[0, 1, 99, 100, 101, 250].map((count) => ({ ...survey, readings: readings.slice(0, count) })),
    // Keys that are not ours stay, and those that are not there are not written.
    { ...survey, theirs: [[], {}, null, ['"\n\u2028']], gone: undefined, empty: {} } as Survey,
  ];
  expect(readings.length).toBeGreaterThan(100);
  for (const each of cases) {
    const disclosed = { ...everything(survey), survey: each };
    expect([...surveyPieces(disclosed)].join('')).toBe(`${JSON.stringify(each, null, 1)}\n`);
  }
});
