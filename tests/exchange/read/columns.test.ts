import { describe, expect, test } from 'vitest';
import { columnsFor, readColumnsMap } from '../../../src/exchange/read/columns';
import { faults, lineNamed, mapOf, ONE_READING, places, read, survey, TWO_POINTS, utf8 } from './helpers';

const readMap = (map: unknown) => readColumnsMap(utf8(typeof map === 'string' ? map : JSON.stringify(map)), 'map.json');

describe('readColumnsMap', () => {
  test('reads a map with everything in it', () => {
    const map = {
      files: {
        'a.txt': {
          table: 'positions',
          header_row: 3,
          skip_rows: 2,
          delimiter: '\t',
          decimal: ',',
          columns: { 'Line ID': 'line', junk: null, more: '' },
          ignore: ['is.ns'],
          join: { line: ['block', 'track'] },
          values: { array: { W: 'wenner_alpha' } },
          constants: { hookup: 'wenner_alpha', step_m: 5, electrodes: 48, hdop: '1.5' },
          grid: { name: 'g', unit: 'km', origin_lon_lat: [-122.3, 37.4], bearing_deg: 12.5 },
        },
      },
    };
    expect(readMap(map)).toEqual({ columns: map, notes: [] });
  });

  test.each([
    ['no JSON', '{"files": ', /not JSON/],
    ['no files', {}, /files/],
    ['an unknown table', { files: { 'a.txt': { table: 'points' } } }, /table/],
    ['a misspelt key', { files: { 'a.txt': { table: 'positions', hedaer_row: 1 } } }, /hedaer_row/],
    ['a delimiter that is none', { files: { 'a.txt': { table: 'positions', delimiter: 'x' } } }, /delimiter/],
    [
      'an origin off the Earth',
      { files: { 'a.txt': { table: 'positions', grid: { unit: 'm', origin_lon_lat: [37, 122] } } } },
      /origin/,
    ],
    [
      'a field that the table has not',
      { files: { 'a.txt': { table: 'positions', columns: { x: 'spacing_m' } } } },
      /spacing_m/,
    ],
    [
      'a constant that the table has not',
      { files: { 'a.txt': { table: 'legs', constants: { unit: 'ohm' } } } },
      /unit/,
    ],
  ])('refuses %s, and says where', (_, map, where) => {
    const { columns, notes } = readMap(map);
    expect(columns).toBeNull();
    expect(notes).toMatchObject([{ kind: 'fault', file: 'map.json' }]);
    expect(`${notes[0]?.column} ${notes[0]?.read} ${notes[0]?.sentence}`).toMatch(where);
  });

  test('a misspelt field has its nearest name in the sentence', () => {
    const { notes } = readMap({ files: { 'a.txt': { table: 'readings', columns: { x: 'spaceing_m' } } } });
    expect(notes[0]?.sentence).toContain('Is spacing_m meant?');
  });

  test('bytes that are no text are refused', () => {
    expect(readColumnsMap(Uint8Array.of(0, 1, 2, 3), 'map.json')).toMatchObject({
      columns: null,
      notes: [{ kind: 'fault' }],
    });
  });
});

test('files are found by base name, whatever the case and the folder', () => {
  const map = mapOf('Lines.TXT', { table: 'positions' });
  expect(columnsFor('/field/2026/lines.txt', map)).toEqual({ table: 'positions' });
  expect(columnsFor('other.txt', map)).toBeNull();
  expect(columnsFor('toString', map)).toBeNull();
});

describe('a columns map', () => {
  test('renames headers without regard to case and spaces, and leaves the rest to the usual names', () => {
    const made = survey(
      { 'p.csv': TWO_POINTS.replace('chainage_m', 'Pegs  along') },
      { columns: mapOf('p.csv', { table: 'positions', columns: { 'pegs along': 'chainage_m' } }) },
    );
    expect(made).toEqual(survey({ 'positions.csv': TWO_POINTS }));
  });

  test('a renamed header keeps the unit that it names', () => {
    const made = survey(
      { 'p.csv': 'line,Pegs (ft),lon,lat\nL1,0,-91.6,17.1\nL1,100,-91.6,17.1003\n' },
      { columns: mapOf('p.csv', { table: 'positions', columns: { 'Pegs (ft)': 'chainage_m' } }) },
    );
    expect(lineNamed(made, 'L1').path[1]).toMatchObject({ chainage_m: 30.48 });
  });

  test.each([
    ['null', { columns: { station: null } }],
    ['an empty text', { columns: { station: '' } }],
    ['the ignore list', { ignore: ['Station'] }],
  ])('leaves a column out by %s, without a note', (_, how) => {
    const table = TWO_POINTS.replace('line,', 'station,line,').replaceAll('L1,', '7,L1,');
    const outcome = read({ 'p.csv': table }, { columns: mapOf('p.csv', { table: 'positions', ...how }) });
    expect(outcome.notes).toEqual([]);
    expect(outcome.survey).toEqual(survey({ 'positions.csv': TWO_POINTS }));
  });

  test('a constant stands for missing columns and blank cells, not for cells that speak', () => {
    const outcome = read(
      { 'positions.csv': TWO_POINTS, 'r.csv': 'midpoint_m,spacing_m,value,unit\n10,2,12,\n12,2,12,kohm\n' },
      {
        columns: mapOf('r.csv', { table: 'readings', constants: { line: 'L1', unit: 'ohm', hookup: 'wenner_alpha' } }),
      },
    );
    expect(outcome.survey?.readings.map(({ unit, hookup }) => [unit, hookup])).toEqual([
      ['ohm', 'wenner_alpha'],
      ['kohm', 'wenner_alpha'],
    ]);
  });

  test('a constant in decimals is read in a file of decimal commas', () => {
    const made = survey(
      { 'positions.csv': TWO_POINTS, 'r.csv': 'line;midpoint_m;value\nL1;10,5;12,5\n' },
      {
        columns: mapOf('r.csv', { table: 'readings', constants: { unit: 'ohm', hookup: 'pole_pole', spacing_m: 0.5 } }),
      },
    );
    expect(made.readings[0]).toMatchObject({ midpoint_m: 10.5, spacing_m: 0.5, value: 12.5 });
  });

  test('cells are given their meaning by header or by field', () => {
    const table = ONE_READING.replace('pole_pole', 'K').replace('hookup', 'gear');
    const columns = { gear: 'hookup' };
    for (const key of ['gear', 'hookup']) {
      const made = survey(
        { 'positions.csv': TWO_POINTS, 'r.csv': table },
        { columns: mapOf('r.csv', { table: 'readings', columns, values: { [key]: { k: 'pole_pole' } } }) },
      );
      expect(made.readings[0]?.hookup).toBe('pole_pole');
    }
  });

  test('a stated decimal sign is taken without a note', () => {
    const table = TWO_POINTS.replaceAll(',', ';').replaceAll('.', ',');
    const outcome = read({ 'p.csv': table }, { columns: mapOf('p.csv', { table: 'positions', decimal: ',' }) });
    expect(outcome).toEqual({ survey: survey({ 'positions.csv': TWO_POINTS }), notes: [] });
  });

  test('a column that the file has not is a fault that lists those it has', () => {
    const [fault] = faults(
      { 'p.csv': TWO_POINTS },
      { columns: mapOf('p.csv', { table: 'positions', columns: { Pegs: 'chainage_m' } }) },
    );
    expect(fault).toMatchObject({ row: 1, column: 'Pegs' });
    expect(fault?.sentence).toContain('line, chainage_m, lon, lat');
  });

  test('a file that is not there has a note', () => {
    const outcome = read({ 'positions.csv': TWO_POINTS }, { columns: mapOf('gone.csv', { table: 'readings' }) });
    expect(outcome.survey).not.toBeNull();
    expect(places(outcome.notes, 'skipped')).toEqual(['null:null']);
    expect(outcome.notes[0]?.file).toBe('gone.csv');
  });
});
