import { describe, expect, test } from 'vitest';
import { readSurveyFile } from '../../../src/exchange/read/survey-file';
import { READINGS_HEAD, survey, TWO_POINTS, utf8 } from './helpers';

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

describe('what is expected says what is wrong and where', () => {
  const expected = (document: object): string =>
    readSurveyFile(utf8(JSON.stringify(document)), 'a.survey.json').notes[0]?.expected ?? '';

  test.each([
    ['a newer version', { ...made, version: 99 }, /^a survey; .*version 99/],
    ['a damaged survey', { ...made, lines: [{ ...made.lines[0], path: 7 }] }, /^a survey; .*damaged at lines\.0\.path/],
    ['another document', { type: 'FeatureCollection' }, /^a survey; .*"format"/],
  ])('%s', (_, document, said) => {
    expect(expected(document)).toMatch(said);
  });
});

describe('ids', () => {
  const full = survey({
    'positions.csv': TWO_POINTS,
    'readings.csv': `${READINGS_HEAD},outing,reference\nL1,10,2,12,ohm,pole_pole,D1,yes\nL1,12,2,12,ohm,pole_pole,D1,\n`,
  });
  const first = <T>(list: readonly T[]): T => {
    const [member] = list;
    if (member === undefined) throw new Error('an empty list');
    return member;
  };
  const [line, reading, outing] = [first(full.lines), first(full.readings), first(full.outings)];
  const reference = first(full.references);
  const told = (document: object): string[] => {
    const { survey: read, notes } = readSurveyFile(utf8(JSON.stringify(document)), 'a.survey.json');
    expect(read === null).toBe(notes.length > 0);
    return notes.map(({ column, read: said, expected }) => `${column} ${said}: ${expected}`);
  };

  test('that agree are no fault', () => {
    expect(told(full)).toEqual([]);
    expect(told({ ...full, lines: [{ ...line, retired: true }] })).toEqual([]);
  });

  test('that point nowhere are a fault each, with where', () => {
    const station = { line: 'line-x', chainage_m: 1 };
    const document = {
      ...full,
      readings: [
        { ...reading, line: 'line-x' },
        { ...reading, id: 'reading-2', outing: 'outing-x' },
      ],
      references: [{ ...reference, stations: [station], serves: ['line-y'] }],
      lines: [
        {
          ...line,
          path: [
            { id: 'p', kind: 'offset', chainage_m: 1, base_line: 'line-z', base_chainage_m: 1, offset_right_m: 1 },
          ],
        },
      ],
    };
    const ofLine = 'the id of a line of this survey';
    expect(told(document)).toEqual([
      `readings.0.line line-x: ${ofLine} at readings.0.line`,
      'readings.1.outing outing-x: the id of an outing of this survey at readings.1.outing',
      `references.0.stations.0.line line-x: ${ofLine} at references.0.stations.0.line`,
      `references.0.serves.0 line-y: ${ofLine} at references.0.serves.0`,
      `lines.0.path.0.base_line line-z: ${ofLine} at lines.0.path.0.base_line`,
    ]);
  });

  test('that stand twice are a fault, in every list', () => {
    expect(told({ ...full, readings: [reading, reading, reading] }).map((said) => said.split(' ')[0])).toEqual([
      'readings.1.id',
      'readings.2.id',
    ]);
    expect(told({ ...full, outings: [outing, outing] })).toHaveLength(1);
    expect(told({ ...full, lines: [line, { ...line, path: [line.path[0], line.path[0]] }] })).toHaveLength(2);
  });

  test('are checked quickly', () => {
    const readings = Array.from({ length: 100_000 }, (_, i) => ({ ...reading, id: `reading-${i}` }));
    const bytes = utf8(JSON.stringify({ ...full, readings }));
    const start = performance.now();
    expect(readSurveyFile(bytes, 'a.survey.json').survey?.readings).toHaveLength(100_000);
    // Parsing the text and checking its shape take most of it.
    expect(performance.now() - start).toBeLessThan(5000);
  });
});

test('a name with control characters does not shut a survey out', () => {
  const document = { ...made, site: { ...made.site, name: 'a\u001bb' } };
  expect(readSurveyFile(utf8(JSON.stringify(document)), 'a.survey.json')).toMatchObject({
    survey: document,
    notes: [],
  });
});
