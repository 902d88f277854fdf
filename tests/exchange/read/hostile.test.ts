import { describe, expect, test } from 'vitest';
import { checkSwaps } from '../../../src/exchange/read/checks';
import { emptyDraft, lineOf } from '../../../src/exchange/read/draft';
import { Notebook } from '../../../src/exchange/read/notebook';
import { openSheet } from '../../../src/exchange/read/table';
import type { Note } from '../../../src/survey/note';
import { type Files, faults, ONE_READING, places, READINGS_HEAD, read, survey, TWO_POINTS, utf8 } from './helpers';

/*
 * Tables that are made to break the reader, or that are broken in ways that nobody makes on purpose. Most inputs of the
 * first part took more than ten seconds while a pattern or a comparison cost the square of what it was given.
 */

const rows = (count: number, row: (i: number) => string): string =>
  `${Array.from({ length: count }, (_, i) => row(i)).join('\n')}\n`;
const BOUND_MS = 2000;

/** The notes of one kind as a person at a terminal sees them. */
const lines = (notes: readonly Note[], kind: Note['kind'] = 'fault'): string[] =>
  notes
    .filter((note) => note.kind === kind)
    .map(({ file, row, column, read: said, expected }) => `${file}:${row}:${column}: ${said}; expected ${expected}`);
const told = (files: Files): string[] => lines(faults(files));
const inReadings = (table: string): string[] => told({ 'positions.csv': TWO_POINTS, 'readings.csv': table });

describe('in time', () => {
  const withHeader = (header: string): Files => ({
    'positions.csv': TWO_POINTS,
    'readings.csv': ONE_READING.replace('hookup', `hookup,${header}`),
  });
  const letters = (letter: string) => letter.repeat(40_000);

  test.each<[string, Files]>([
    ['5 MB of only commas', { 'readings.csv': ','.repeat(5_000_000) }],
    ['a header of one letter and 60,000 underscores', withHeader(`a${'_'.repeat(60_000)}b`)],
    ['a header of 60,000 brackets', withHeader('('.repeat(60_000))],
    [
      'a value of 200,000 dashes',
      { 'positions.csv': TWO_POINTS, 'readings.csv': ONE_READING.replace('345.6', '-'.repeat(200_000)) },
    ],
    ['a longitude of 100,000 digits', { 'positions.csv': TWO_POINTS.replace('-91.6', `${'1'.repeat(100_000)}x`) }],
    [
      'a level of 100,000 spaces',
      { 'positions.csv': `line,chainage_m,lon,lat,accuracy_level\nL1,0,1,1,6${' '.repeat(100_000)}8\n` },
    ],
    [
      'readings on 10,000 lines that are each one letter from a placed one',
      {
        'positions.csv': `line,chainage_m,lon,lat\n${rows(20_000, (i) => `Line${i >> 1},${(i & 1) * 100},10.${1000 + (i >> 1)},45.000${i & 1}`)}`,
        'readings.csv': `${READINGS_HEAD}\n${rows(10_000, (i) => `Lime${i},10,2,3,ohm,pole_pole`)}`,
      },
    ],
    [
      'line names of 40,000 letters',
      {
        'positions.csv': TWO_POINTS.replaceAll('L1', letters('a')),
        'readings.csv': ONE_READING.replace('L1', letters('b')),
      },
    ],
  ])('%s', (_, files) => {
    const before = performance.now();
    read(files);
    expect(performance.now() - before).toBeLessThan(BOUND_MS);
  });

  test('60,000 places in two heaps that are too far apart to be neighbours', () => {
    const sheet = openSheet(utf8(TWO_POINTS), 'positions', null, new Notebook('positions.csv'));
    const row = sheet?.rows[0];
    if (!sheet || !row) throw new Error('no sheet');
    const draft = emptyDraft();
    const line = lineOf(draft, 'L1', { sheet, row });
    for (let i = 0; i < 60_000; i += 1) {
      line.ownPlaces.push({ lonLat: { lon: i % 2 ? 10 : 10.07, lat: 45 }, source: { sheet, row } });
    }
    const before = performance.now();
    checkSwaps(draft, undefined);
    expect(performance.now() - before).toBeLessThan(BOUND_MS);
    expect(sheet.notes.troubles).toBe(0);
  });

  test('outings with 80 letters in common, none of which is meant', () => {
    const name = (letter: string, i: number) => `${'x'.repeat(80)}${letter}${i}`;
    const files = {
      'positions.csv': TWO_POINTS,
      'readings.csv': `${READINGS_HEAD},outing\n${rows(6000, (i) => `L1,10,2,3,ohm,pole_pole,${name('a', i)}`)}`,
      'remotes.csv': `outing,role,lon,lat\n${rows(6000, (i) => `${name('bb', i)},B,1,1`)}`,
    };
    const before = performance.now();
    expect(read(files).survey).not.toBeNull();
    expect(performance.now() - before).toBeLessThan(2 * BOUND_MS);
  });

  test('a row of more than 1,000 cells is no row of headers', () => {
    const wide = `${READINGS_HEAD},${Array.from({ length: 1000 }, (_, i) => `x${i}`).join(',')}`;
    expect(inReadings(`${wide}\n`)).toEqual([
      'readings.csv:1:null: 1006 cells in a row; expected headers of a readings table, 1,000 columns at most',
    ]);
  });

  test('a number of 101 digits is no number', () => {
    expect(inReadings(ONE_READING.replace('345.6', '1'.repeat(101)))).toHaveLength(1);
  });
});

describe('rows that begin with #', () => {
  const named = (name: string) => `line,chainage_m,lon,lat\n${name},0,-91.6,17.1\n${name},100,-91.6,17.1009\n`;

  test('are read when they have as many cells as the headers, and that is said', () => {
    const outcome = read({
      'positions.csv': named('#2'),
      'readings.csv': `${READINGS_HEAD},note\n#2,10,2,12,ohm,pole_pole,"wet, and\n#3 dry"\n# a remark, short\n#2,12,2,12,ohm,pole_pole,\n`,
    });
    expect(outcome.survey?.lines.map(({ name }) => name)).toEqual(['#2']);
    expect(outcome.survey?.readings.map(({ midpoint_m, note }) => [midpoint_m, note])).toEqual([
      [10, 'wet, and #3 dry'],
      [12, undefined],
    ]);
    expect(places(outcome.notes, 'guessed')).toEqual(['2:null', '2:null']);
    expect(places(outcome.notes, 'skipped')).toEqual(['4:null']);
  });

  test('a first header # is a header', () => {
    const table = `#,line,chainage_m,lon,lat\n1,L1,0,-91.6,17.1\n2,L1,100,-91.6,17.1009\n`;
    expect(survey({ 'positions.csv': table })).toEqual(survey({ 'positions.csv': TWO_POINTS }));
  });

  test('headers in a comment are headers where no others follow, and a comment where they do', () => {
    expect(survey({ 'positions.csv': `# ${TWO_POINTS}` })).toEqual(survey({ 'positions.csv': TWO_POINTS }));
    expect(survey({ 'positions.csv': `# line, chainage_m, lon, lat\n${TWO_POINTS}` })).toEqual(
      survey({ 'positions.csv': TWO_POINTS }),
    );
  });

  test('a remark that a spreadsheet has filled up with blank cells stays a comment', () => {
    const outcome = read({ 'positions.csv': `${TWO_POINTS}# checked,,,\n` });
    expect(outcome.survey).toEqual(survey({ 'positions.csv': TWO_POINTS }));
    expect(places(outcome.notes, 'skipped')).toEqual(['4:null']);
  });

  test('a quotation mark in a comment swallows no row', () => {
    const table = `line,chainage_m,lon,lat\n# made by,"hand\n#2,0,-91.6,17.1\n# and,"foot\n#2,100,-91.6,17.1009\n`;
    const outcome = read({ 'positions.csv': table });
    expect(outcome.survey?.lines[0]).toMatchObject({ name: '#2', path: [{ chainage_m: 0 }, { chainage_m: 100 }] });
    expect(places(outcome.notes, 'skipped')).toEqual(['2:null']);
  });

  test('rows are numbered as in the file when some are comments and some are not', () => {
    const table = `# by hand\n${named('#2')}# note\n#2,far,-91.6,17.1\n`;
    expect(faults({ 'positions.csv': table }).map(({ row, column }) => `${row}:${column}`)).toEqual(['6:chainage_m']);
  });
});

describe('absurd sizes', () => {
  const head = `${READINGS_HEAD},meter_spacing_m,inner_spacing_m,driven_depth_m,limit`;
  test.each([
    ['L1,100001,2,12,ohm,pole_pole,,,,', 'midpoint_m: 100001; expected a chainage from -100,000 to 100,000 m'],
    ['L1,10,10001,12,ohm,pole_pole,,,,', 'spacing_m: 10001; expected a spacing of 10,000 m at most'],
    ['L1,10,2,-2e12,ohm,pole_pole,,,,', 'value: -2e12; expected a number from -1,000,000,000,000 to 1,000,000,000,000'],
    ['L1,10,2,12,ohm,pole_pole,1e5,,,', 'meter_spacing_m: 1e5; expected a spacing of 10,000 m at most'],
    ['L1,10,2,12,ohm,pole_pole,,1e5,,', 'inner_spacing_m: 1e5; expected a spacing of 10,000 m at most'],
    ['L1,10,2,12,ohm,pole_pole,,,1e5,', 'driven_depth_m: 1e5; expected a depth of 10,000 m at most'],
    ['L1,10,2,12,ohm,pole_pole,,,,1e13', 'limit: 1e13; expected a number from -1,000,000,000,000 to 1,000,000,000,000'],
  ])('%s', (row, expected) => {
    expect(inReadings(`${head}\n${row}\n`)).toEqual([`readings.csv:2:${expected}`]);
  });

  test('are judged after conversion', () => {
    expect(inReadings(`line,midpoint_km,spacing_m,value,unit,hookup\nL1,101,2,12,ohm,pole_pole\n`)).toEqual([
      'readings.csv:2:midpoint_km: 101; expected a chainage from -100,000 to 100,000 m',
    ]);
  });

  test('of places', () => {
    const table = 'line,chainage_m,lon,lat,elevation_m,accuracy_m\nL1,1e6,1,1,,\nL1,0,1,1,12001,\nL1,0,1,1,,100001\n';
    expect(told({ 'positions.csv': table })).toEqual([
      'positions.csv:2:chainage_m: 1e6; expected a chainage from -100,000 to 100,000 m',
      'positions.csv:3:elevation_m: 12001; expected a height from -12,000 to 12,000 m',
      'positions.csv:4:accuracy_m: 100001; expected a radius of 100,000 m at most',
    ]);
  });

  test('of planned electrodes', () => {
    const head = 'line,first_lon,first_lat,last_lon,last_lat,step_m,electrodes';
    const wide = (row: string) => told({ 'positions.csv': `${head}\n${row}\n` });
    expect(wide('L1,1,1,1.001,1,1,10001')).toEqual([
      'positions.csv:2:electrodes: 10001; expected a number of electrodes of 10,000 at most',
    ]);
    expect(wide('L1,1,1,1.5,1,1,')[0]).toMatch(
      /^positions\.csv:2:step_m: 1; expected .* 10,000 electrodes at most, and not 5\d{4}$/,
    );
    expect(wide('L1,1,1,1.001,1,1000,5000')[0]).toMatch(
      /^positions\.csv:2:electrodes: 5000; expected .* 100,000 m, and not at 4999000 m$/,
    );
    const long = 'line,electrode,step_m,lon,lat\nL1,1,500,1,1\nL1,5000,500,1,1.001\n';
    expect(told({ 'positions.csv': long })).toHaveLength(1);
  });

  test('of electrodes by number', () => {
    const table = 'line,a_electrode,m_electrode,step_m,value,unit,hookup\nL1,1,2000,500,12,ohm,pole_pole\n';
    expect(inReadings(table)).toEqual([
      'readings.csv:2:m_electrode: 2000; expected a chainage from -100,000 to 100,000 m when multiplied by step_m, and not 999500 m',
    ]);
  });
});

describe('headers that collide', () => {
  test('every column that the README names for readings can stand beside every other', () => {
    const table = 'line,a_m,b_m,m_m,n_m,n,value,unit,hookup\nL1,0,10,20,30,2,12,ohm,dipole_dipole\n';
    expect(survey({ 'positions.csv': TWO_POINTS, 'readings.csv': table }).readings).toMatchObject([
      { n: 2, electrodes: { a_m: 0, b_m: 10, m_m: 20, n_m: 30 } },
    ]);
  });

  test('current and potential on the same two rods are two electrodes', () => {
    const head = 'line,a_m,b_m,m_m,n_m,value,unit,hookup';
    for (const probes of ['30,44,30,44', '30,44,44,30']) {
      const table = `${head}\nL1,${probes},12,ohm,two_probe\n`;
      expect(survey({ 'positions.csv': TWO_POINTS, 'readings.csv': table }).readings).toHaveLength(1);
    }
    expect(inReadings(`${head}\nL1,30,44,30,44,12,ohm,wenner_alpha\n`)).toEqual([
      'readings.csv:2:hookup: wenner_alpha; expected two_probe, since current and potential are on the same two rods',
    ]);
    for (const probes of ['30,30,44,44', '30,44,30,50', '30,,30,']) {
      expect(inReadings(`${head}\nL1,${probes},12,ohm,two_probe\n`)).toHaveLength(1);
    }
  });

  test.each([
    ['E,N', '500000,1890000', 'epsg'],
    ['e (m),n (m)', '500000,1890000', 'EPSG code'],
    ['X,Y', '500000,1890000', 'crs'],
  ])('%s are easting and northing beside a code', (axes, place, code) => {
    const table = `line,chainage_m,${axes},${code}\nL1,0,${place},32615\nL1,100,500000,1890100,32615\n`;
    expect(survey({ 'positions.csv': table }).lines[0]?.path).toMatchObject([
      { position: { x: 500000, y: 1890000, crs: 'EPSG:32615' } },
      { position: { x: 500000, y: 1890100 } },
    ]);
  });

  test('E and N without a code are a fault that asks for one', () => {
    expect(told({ 'positions.csv': 'line,chainage_m,E,N\nL1,0,500000,1890000\n' })).toEqual([
      'positions.csv:1:epsg: ; expected an EPSG code',
    ]);
  });
});

describe('a limit in a unit of its own', () => {
  const limit = (header: string, unit: string, cells: string) =>
    survey({
      'positions.csv': TWO_POINTS,
      'readings.csv': `line,midpoint_m,spacing_m,value,unit,hookup,${header}\nL1,10,2,OL,${unit},pole_pole,${cells}\n`,
    }).readings[0]?.limit;

  test('is converted to that of the reading', () => {
    expect(limit('limit (kohm m)', 'ohm_m', '20')).toBe(20_000);
    expect(limit('limit_ohm', 'kohm', '19990')).toBe(19.99);
    expect(limit('limit (kohm)', 'kohm', '20')).toBe(20);
    expect(limit('limit', 'kohm', '20')).toBe(20);
  });

  test('is refused where it is of another kind', () => {
    expect(inReadings(`${READINGS_HEAD},limit (kohm)\nL1,10,2,OL,ohm_m,pole_pole,20\n`)).toEqual([
      'readings.csv:2:limit (kohm): 20; expected in the unit of the reading, ohm_m, and not in kohm',
    ]);
  });
});

describe('what is expected says what to do', () => {
  test('a missing column names the header that may be meant', () => {
    expect(inReadings('line,midpoint_m,spcing_m,value,unit,hookup\nL1,10,2,12,ohm,pole_pole\n')[0]).toMatch(
      /; expected spacing_m; is spcing_m meant\?$/,
    );
  });

  test('a line names the placed one that may be meant', () => {
    expect(inReadings(ONE_READING.replace('L1', 'l1'))).toEqual([
      'readings.csv:2:line: l1; expected a line with positions; is L1 meant?',
    ]);
  });

  test('a zipped workbook under another name is to be saved as CSV', () => {
    const [fault] = faults({ 'positions.csv': Uint8Array.of(0x50, 0x4b, 3, 4, 20, 0) });
    expect(fault?.expected).toBe('a positions table; save it as CSV first');
  });

  test('a missing positions table is one fault a file, however many lines', () => {
    const table = `${READINGS_HEAD}\nL1,10,2,12,ohm,pole_pole\nL2,10,2,12,ohm,pole_pole\n`;
    expect(told({ 'readings.csv': table })).toEqual([
      'readings.csv:null:null: no positions.csv; expected positions.csv beside it, with two placed points for every line',
    ]);
  });
});

describe('what serves nothing is told', () => {
  const remotes = (outing: string) => ({
    'positions.csv': TWO_POINTS,
    'readings.csv': `${READINGS_HEAD},outing\nL1,10,2,12,ohm,pole_pole,D1\n`,
    'remotes.csv': `outing,role,lon,lat\n${outing},B,-91.61,17.11\n${outing},N,-91.59,17.09\n`,
  });

  test('an outing that no reading belongs to, with the one that is probably meant', () => {
    expect(lines(read(remotes('d1')).notes, 'guessed')).toEqual([
      'remotes.csv:2:outing: d1; expected an outing of the readings; is D1 meant?',
    ]);
    expect(read(remotes('D1')).notes).toEqual([]);
    // Known already from the survey that is read into.
    const into = survey(remotes('D1'));
    const { 'readings.csv': _, ...rest } = remotes('D1');
    expect(read(rest, { into }).notes).toEqual([]);
  });

  test('rows that stand twice, once a file', () => {
    const row = 'L1,10,2,12,ohm,pole_pole\n';
    const { notes } = read({ 'positions.csv': TWO_POINTS, 'readings.csv': `${READINGS_HEAD}\n${row.repeat(3)}` });
    expect(notes).toMatchObject([
      { kind: 'guessed', file: 'readings.csv', row: 3, read: '2 rows the same as an earlier one' },
    ]);
    expect(notes[0]?.sentence).toContain('count as repeats');
  });
});

describe('control characters', () => {
  const filler = 'L1,10,2,12,ohm,pole_pole,day,fine\n'.repeat(400);
  const cell = (line: string, outing: string, note: string) =>
    `${READINGS_HEAD},outing,note\n${line},10,2,12,ohm,pole_pole,${outing},${note}\n`;

  test.each([
    ['an escape in a line', 'L\u001b1', 'day', 'x', '2:line'],
    ['a line break in a line', '"L\n1"', 'day', 'x', '2:line'],
    ['a tab in an outing', 'L1', 'day\t1', 'x', '2:outing'],
    ['a mark that turns the direction', 'L1', 'day\u202e1', 'x', '2:outing'],
    ['a bell in a note', 'L1', 'day', 'ring\u0007', '2:note'],
    ['a next-line in a note', 'L1', 'day', 'ring\u0085', '2:note'],
  ])('%s is one fault, however long the file', (_, line, outing, note, expected) => {
    const found = faults({ 'positions.csv': TWO_POINTS, 'readings.csv': `${cell(line, outing, note)}${filler}` });
    const there = found.filter(({ column }) => column !== 'line' || expected === '2:line');
    expect(places(there, 'fault').filter((place) => place === expected)).toHaveLength(1);
    for (const { read: said, sentence } of found) expect(said + sentence).not.toMatch(/\p{Cc}/u);
  });

  test('tabs and line breaks of a note become spaces', () => {
    const made = survey({ 'positions.csv': TWO_POINTS, 'readings.csv': cell('L1', 'day', '"two\nlines\tand a tab"') });
    expect(made.readings[0]?.note).toBe('two lines and a tab');
  });

  test('in the name of the site are a fault', () => {
    const { survey: made, notes } = read({ 'positions.csv': TWO_POINTS }, { siteName: 'Nasty\nplace' });
    expect(made).toBeNull();
    expect(notes).toMatchObject([{ kind: 'fault', read: 'Nasty\\u000aplace' }]);
  });
});

test.each([
  '2026-03-12T24:59',
  '2026-03-12T24:00:01',
  '2026-02-30',
  '2026-02-30T10:00',
  '2026-03-12T10:00+15:00',
  '2026-03-12T10:00+01:99',
])('there is no such time as %s', (time) => {
  const table = `${READINGS_HEAD},time\nL1,10,2,12,ohm,pole_pole,${time}\n`;
  expect(inReadings(table)[0]).toMatch(`readings.csv:2:time: ${time}; expected`);
});

test('the end of a day is a time', () => {
  const table = `${READINGS_HEAD},time\nL1,10,2,12,ohm,pole_pole,2026-03-12T24:00\n`;
  expect(survey({ 'positions.csv': TWO_POINTS, 'readings.csv': table }).readings[0]?.time).toBe('2026-03-12T24:00');
});
