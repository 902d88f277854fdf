import { describe, expect, test } from 'vitest';
import type { Survey } from '../../../src/survey/survey';
import { readSurveyDocument } from '../../../src/survey/versions';
import { READINGS_HEAD, read, survey, TWO_POINTS } from './helpers';

const FILES = {
  'positions.csv':
    'line,chainage_m,lon,lat,elevation_m,source,time\n' +
    'L1,0,-91.6,17.1,810,gps,2026-03-12T10:00\nL1,0,-91.6,17.10001,810,gps,2026-03-12T10:00\nL1,100,-91.6,17.1009,815,gps,\n' +
    'L2,0,-91.601,17.1,,gps,\nL2,100,-91.601,17.1009,,gps,\n',
  'readings.csv':
    `${READINGS_HEAD},outing,note,reference,status\n` +
    'L1,10,2,12,ohm,pole_pole,day 1,first,yes,\nL1,10,2,13,ohm,pole_pole,day 1,,,\nL1,12,2,OL,ohm,pole_pole,day 1,,,\n' +
    'L2,10,2,14,ohm,two_probe,day 2,,no,\n',
  'legs.csv': 'line,from_chainage_m,bearing_deg,bearing_ref,distance_m\nL2,100,10,true,20\n',
  'remotes.csv': 'outing,role,lon,lat\nday 1,B,-91.61,17.11\nday 1,N,-91.59,17.09\n',
  'features.csv': 'id,type,lon,lat\nK1,doline,-91.6,17.1\n,ponor,-91.61,17.11\n',
};
const FIRST = survey(FILES);

type Json = { [key: string]: Json | string | number | boolean | null };

/** A copy in which a person has set some places, named by their path (`readings.0.note`). */
function edited(places: Readonly<Record<string, Json[string]>>): Survey {
  const copy = structuredClone(FIRST) as unknown as Json;
  for (const [path, value] of Object.entries(places)) {
    const keys = path.split('.');
    const last = keys.pop() ?? '';
    const owner = keys.reduce((piece, key) => piece[key] as Json, copy);
    owner[last] = value;
  }
  return copy as unknown as Survey;
}

const replaced = (file: keyof typeof FILES, from: string, to: string) => ({
  ...FILES,
  [file]: FILES[file].replace(from, to),
});

test('what the tables make is a survey by its own schema', () => {
  expect(readSurveyDocument(JSON.parse(JSON.stringify(FIRST)))).toEqual({ ok: true, value: FIRST });
});

describe('reading the same tables twice', () => {
  test('changes nothing: the survey stays the same object', () => {
    expect(read(FILES, { into: FIRST }).survey).toBe(FIRST);
  });

  test('changes nothing in a survey of another seed, which is matched by its natural keys', () => {
    const other = survey(FILES, { seed: 'another' });
    expect(other.readings[0]?.id).not.toBe(FIRST.readings[0]?.id);
    expect(read(FILES, { into: other }).survey).toBe(other);
  });

  test('changes nothing in a survey that was saved and read again', () => {
    const saved = JSON.parse(JSON.stringify(FIRST)) as Survey;
    expect(read(FILES, { into: saved }).survey).toBe(saved);
  });

  test('gives the same survey, ids and all, when made anew', () => {
    expect(survey(FILES)).toEqual(FIRST);
    expect(survey(FILES, { siteName: 'Elsewhere' }).site.name).toBe('Elsewhere');
  });

  test('one table after the other gives what both together give', () => {
    const { 'positions.csv': positions, ...rest } = FILES;
    const half = survey({ 'positions.csv': positions });
    expect(read(rest, { into: half }).survey).toEqual({ ...FIRST, lines: expect.anything() });
    const lines = read(rest, { into: half }).survey?.lines;
    expect(lines?.map(({ revised: _, ...line }) => line)).toEqual(FIRST.lines.map(({ revised: _, ...line }) => line));
  });
});

describe('reading changed tables into a survey', () => {
  test('a new value keeps the id and counts one revision; all else stays the same objects', () => {
    const second = survey(replaced('readings.csv', '13,ohm', '13.5,ohm'), { into: FIRST });
    const changed = second.readings[1];
    expect(changed).toEqual({ ...FIRST.readings[1], value: 13.5, revised: { at: null, by: null, count: 1 } });
    expect(second.readings[0]).toBe(FIRST.readings[0]);
    expect(second.readings[2]).toBe(FIRST.readings[2]);
    expect(second.lines).toBe(FIRST.lines);
    expect(second.site).toBe(FIRST.site);
  });

  test('a moved fix keeps its id, and its line counts one revision', () => {
    const second = survey(replaced('positions.csv', 'L1,100,-91.6,17.1009', 'L1,100,-91.6,17.1008'), { into: FIRST });
    expect(second.lines[0]?.path.map(({ id }) => id)).toEqual(FIRST.lines[0]?.path.map(({ id }) => id));
    expect(second.lines[0]?.path[2]).toMatchObject({ position: { y: 17.1008 } });
    expect(second.lines[0]?.path[0]).toBe(FIRST.lines[0]?.path[0]);
    expect(second.lines[0]?.revised.count).toBe(1);
    expect(second.lines[1]).toBe(FIRST.lines[1]);
  });

  test('new rows are added and rows that are gone stay', () => {
    const more = survey(replaced('readings.csv', 'L2,10,2,14', 'L2,20,2,15'), { into: FIRST });
    expect(more.readings.map(({ value }) => value)).toEqual([12, 13, null, 14, 15]);
    expect(more.readings.slice(0, 4)).toEqual(FIRST.readings);
  });

  test('an over-range reading that now has a number is ok again', () => {
    const second = survey(replaced('readings.csv', 'OL', '900'), { into: FIRST });
    expect(second.readings[2]).toMatchObject({ id: FIRST.readings[2]?.id, value: 900, status: 'ok' });
  });

  test('a hookup that is said only now makes no second reading', () => {
    const unsaid = {
      'positions.csv': TWO_POINTS,
      'readings.csv': 'line,midpoint_m,spacing_m,value,unit\nL1,10,2,12,ohm\n',
    };
    const before = survey(unsaid);
    const after = survey(
      { 'positions.csv': TWO_POINTS, 'readings.csv': `${READINGS_HEAD}\nL1,10,2,12,ohm,pole_pole\n` },
      { into: before },
    );
    expect(after.readings).toEqual([
      { ...before.readings[0], hookup: 'pole_pole', revised: { at: null, by: null, count: 1 } },
    ]);
  });

  test('a remote electrode that has moved replaces the one of its role', () => {
    const second = survey(replaced('remotes.csv', '-91.61,17.11', '-91.62,17.11'), { into: FIRST });
    expect(
      second.outings.find(({ name }) => name === 'day 1')?.remotes.map(({ role, position }) => [role, position.x]),
    ).toEqual([
      ['B', -91.62],
      ['N', -91.59],
    ]);
  });

  test('a feature is found by its own id when it has moved', () => {
    const second = survey(replaced('features.csv', 'K1,doline,-91.6,', 'K1,doline,-91.605,'), { into: FIRST });
    expect(second.features).toHaveLength(2);
    expect(second.features[0]).toMatchObject({ id: FIRST.features[0]?.id, positions: [{ x: -91.605 }] });
  });

  test('two lists that number their features alike make two features', () => {
    const both = survey({
      ...FILES,
      'features.csv': 'id,type,lon,lat,source\n1,doline,-91.6,17.1,list A\n1,doline,-91.61,17.11,list B\n',
    });
    expect(both.features.map(({ source }) => source)).toEqual(['list A', 'list B']);
    expect(new Set(both.features.map(({ id }) => id)).size).toBe(2);
  });

  test('a text that was entered for another place does not stay with the new one', () => {
    const dms = "line,chainage_m,lon,lat\nL1,0,91°36'W,17°06'N\nL1,100,-91.6,17.1009\n";
    const before = survey({ 'positions.csv': dms });
    const after = survey({ 'positions.csv': TWO_POINTS.replace('17.1\n', '17.1001\n') }, { into: before });
    expect(before.lines[0]?.path[0]).toHaveProperty('position.as_entered');
    expect(after.lines[0]?.path[0]).not.toHaveProperty('position.as_entered');
  });
});

describe('what a person has done to the survey', () => {
  test('keys of their own stay', () => {
    const mine = edited({
      'readings.0.mood': 'hopeful',
      'lines.0.path.0.peg': 'red',
      'lines.0.path.0.position.peg': 'blue',
      'site.colour': 'green',
    });
    expect(read(FILES, { into: mine }).survey).toBe(mine);
    const second = survey(replaced('readings.csv', '2,12,ohm', '2,12.5,ohm'), { into: mine });
    expect(second.readings[0]).toMatchObject({ value: 12.5, mood: 'hopeful' });
  });

  test('a rejection stands when the table has no word on it', () => {
    const mine = edited({ 'readings.0.status': 'rejected', 'readings.0.status_reason': 'loose clip' });
    expect(read(FILES, { into: mine }).survey).toBe(mine);
  });

  test('a note written where the table is blank stays', () => {
    const mine = edited({ 'readings.1.note': 'dripping here' });
    expect(read(FILES, { into: mine }).survey).toBe(mine);
  });

  test('a retired reading stays retired', () => {
    const mine = edited({ 'readings.0.retired': true });
    expect(read(FILES, { into: mine }).survey).toBe(mine);
  });

  test('a correction is overwritten by the table, and that is said', () => {
    const mine = edited({
      'readings.0.value': 99,
      'readings.0.revised': { at: '2026-04-01T00:00:00Z', by: 'A', count: 1 },
    });
    const outcome = read(FILES, { into: mine });
    expect(outcome.survey?.readings[0]).toMatchObject({ value: 12, revised: { by: null, count: 2 } });
    expect(outcome.notes.filter(({ kind }) => kind === 'guessed')).toMatchObject([{ read: '1 changed by a person' }]);
  });

  test('a reading whose midpoint was corrected is found by its id and not doubled', () => {
    const mine = edited({ 'readings.3.midpoint_m': 11 });
    expect(read(FILES, { into: mine }).survey?.readings).toHaveLength(4);
  });

  test('fixes and heights of their own stay in the line', () => {
    const mine = edited({
      'lines.0.path.3': {
        id: 'path-mine',
        kind: 'fix',
        chainage_m: 55,
        position: { x: -91.6, y: 17.1005, crs: 'EPSG:4326' },
      },
      'lines.0.profile.2': { chainage_m: 55, height_m: 812 },
    });
    expect(read(FILES, { into: mine }).survey).toBe(mine);
  });

  test('a line known with its positions needs no positions table again', () => {
    const second = survey({ 'readings.csv': `${READINGS_HEAD}\nL1,30,2,12,ohm,pole_pole\n` }, { into: FIRST });
    expect(second.readings).toHaveLength(5);
    expect(second.lines).toBe(FIRST.lines);
  });
});

test('with a fault nothing is read, not even into a survey', () => {
  expect(read(replaced('readings.csv', '13,ohm', 'x,ohm'), { into: FIRST }).survey).toBeNull();
});
