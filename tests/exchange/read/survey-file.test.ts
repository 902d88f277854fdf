import { describe, expect, test } from 'vitest';
import { readSurveyFile } from '../../../src/exchange/read/survey-file';
import { survey, TWO_POINTS, utf8 } from './helpers';

const made = survey({ 'positions.csv': TWO_POINTS });

describe('readSurveyFile', () => {
  test('reads back what was written, with keys it does not know', () => {
    const document = { ...made, mood: 'hopeful', lines: made.lines.map((line) => ({ ...line, peg: 'red' })) };
    expect(readSurveyFile(utf8(JSON.stringify(document)), 'a.survey.json')).toEqual({ survey: document, notes: [] });
    expect(readSurveyFile(utf8(`\ufeff${JSON.stringify(made)}`), 'a.survey.json').survey).toEqual(made);
  });

  test.each([
    ['an empty file', '', 'bytes that are no text'],
    ['half a file', JSON.stringify(made).slice(0, 200), '{"format":"hollowline-survey","version":1'],
    ['another JSON', '{"type":"FeatureCollection"}', 'not_a_survey'],
    ['a newer version', JSON.stringify({ ...made, version: 99 }), 'newer_version'],
    ['a damaged survey', JSON.stringify({ ...made, lines: [{ name: 'L1' }] }), 'invalid_survey'],
  ])('refuses %s with one fault', (_, text, said) => {
    const outcome = readSurveyFile(utf8(text), 'a.survey.json');
    expect(outcome.survey).toBeNull();
    expect(outcome.notes).toMatchObject([{ kind: 'fault', file: 'a.survey.json', read: said.slice(0, 40) }]);
    expect(outcome.notes[0]?.sentence).toMatch(/^a\.survey\.json: ./);
  });

  test('refuses text that is not UTF-8, which JSON has to be', () => {
    const bytes = Uint8Array.from(JSON.stringify({ ...made, mood: 'düster' }), (letter) => letter.charCodeAt(0));
    expect(readSurveyFile(bytes, 'a.survey.json')).toMatchObject({ survey: null, notes: [{ read: 'windows-1252' }] });
  });
});
