import { describe, expect, test } from 'vitest';
import { FAULTS_TOLD } from '../../../src/exchange/read/notebook';
import { faults, mapOf, ONE_READING, READINGS_HEAD, read, TWO_POINTS } from './helpers';

const POSITIONS_HEAD = 'line,chainage_m,lon,lat';
const told = (files: Parameters<typeof faults>[0]) =>
  faults(files).map(({ row, column, read: said }) => `${row}:${column} ${said}`);
const inReadings = (table: string) => told({ 'positions.csv': TWO_POINTS, 'readings.csv': table });
const inPositions = (table: string) => told({ 'positions.csv': table });

describe('whole files', () => {
  test('an empty file is one fault', () => {
    expect(faults({ 'positions.csv': '' })).toMatchObject([{ file: 'positions.csv', row: null, read: 'nothing' }]);
  });

  test('headers with no rows are one fault', () => {
    expect(inPositions(`${POSITIONS_HEAD}\n`)).toEqual(['1:null no rows']);
  });

  test('a table without one known header is one fault', () => {
    expect(inPositions('alpha,beta\n1,2\n')).toEqual(['1:null alpha,beta']);
  });

  test('bytes that are no text are one fault', () => {
    const bytes = new Uint8Array(1000).map((_, i) => (i * 37) % 256);
    expect(faults({ 'positions.csv': bytes })).toMatchObject([{ row: null, read: 'bytes that are no text' }]);
  });

  test.each([
    ['all bytes', 256, 0],
    ['printable characters and line ends', 96, 31],
    ['one endless line', 26, 97],
  ])('5 MB of noise (%s) is one fault, at once', (_, count, from) => {
    let state = 12345;
    const bytes = new Uint8Array(5_000_000).map(() => {
      state = (Math.imul(state, 1103515245) + 12345) >>> 0;
      const code = from + ((state >>> 16) % count);
      return code === 31 ? 10 : code;
    });
    const before = performance.now();
    expect(faults({ 'readings.csv': bytes })).toHaveLength(1);
    expect(performance.now() - before).toBeLessThan(5000);
  });

  test('a quotation mark that is never closed is one fault', () => {
    expect(inPositions(`${POSITIONS_HEAD}\nL1,0,-91.6,17.1\n"L1,100,-91.6,17.1009\nL2,0,1,1\n`)).toEqual(['3:null "']);
  });

  test('of very many faults the first ones are told and the rest counted', () => {
    const rows = Array.from({ length: FAULTS_TOLD + 51 }, () => 'L1,10,2,twelve,ohm,pole_pole').join('\n');
    const found = faults({ 'positions.csv': TWO_POINTS, 'readings.csv': `${READINGS_HEAD}\n${rows}\n` });
    expect(found).toHaveLength(FAULTS_TOLD + 1);
    expect(found.at(-1)?.sentence).toContain('51 more faults');
  });

  test('faults of every file are told together', () => {
    const found = faults({ 'positions.csv': '', 'readings.csv': `${READINGS_HEAD}\nL1,10,2,x,ohm,pole_pole\n` });
    expect(found.map(({ file }) => file)).toEqual(['positions.csv', 'readings.csv']);
  });
});

describe('columns', () => {
  test.each([
    ['line', 'midpoint_m,spacing_m,value,unit,hookup\n10,2,12,ohm,pole_pole\n', 'line'],
    ['midpoint', 'line,spacing_m,value,unit,hookup\nL1,2,12,ohm,pole_pole\n', 'midpoint_m'],
    ['spacing', 'line,midpoint_m,value,unit,hookup\nL1,10,12,ohm,pole_pole\n', 'spacing_m'],
    ['value', 'line,midpoint_m,spacing_m,unit,hookup\nL1,10,2,ohm,pole_pole\n', 'value'],
    ['unit', 'line,midpoint_m,spacing_m,value,hookup\nL1,10,2,12,pole_pole\n', 'unit'],
  ])('readings without %s are one fault at the headers', (_, table, column) => {
    const found = faults({ 'positions.csv': TWO_POINTS, 'readings.csv': table });
    expect(found).toMatchObject([{ file: 'readings.csv', row: 1, column }]);
  });

  test('positions without chainage or place are a fault each', () => {
    expect(faults({ 'positions.csv': 'line,note\nL1,x\n' }).map(({ column }) => column)).toEqual(['chainage_m', 'lon']);
  });

  test('a missing column names the header that may have been meant', () => {
    const [fault] = faults({ 'positions.csv': 'line,chainge_m,lon,lat\nL1,0,-91.6,17.1\n' });
    expect(fault?.sentence).toContain('"chainge_m"');
  });

  test('two columns of one meaning are a fault', () => {
    expect(inPositions('line,chainage_m,Station,lon,lat\nL1,0,0,-91.6,17.1\n')).toEqual(['1:Station Station']);
  });

  test('easting without a code is one fault, however many rows', () => {
    const rows = 'L1,0,500000,1890000\nL1,9,500009,1890000\n';
    expect(inPositions(`line,chainage_m,easting,northing\n${rows}`)).toEqual(['1:epsg ']);
  });

  test('an unknown code is one fault, a word for a code is another', () => {
    const head = 'line,chainage_m,easting,northing,epsg\n';
    expect(inPositions(`${head}L1,0,500000,1890000,99999\nL1,9,500009,1890000,99999\n`)).toEqual(['2:epsg EPSG:99999']);
    expect(inPositions(`${head}L1,0,500000,1890000,UTM\n`)).toEqual(['2:epsg UTM']);
  });

  test('a projected code beside lon and lat is a fault', () => {
    expect(inPositions('line,chainage_m,lon,lat,epsg\nL1,0,-91.6,17.1,32615\n')).toEqual(['2:epsg EPSG:32615']);
  });
});

describe('cells', () => {
  test.each([
    ['text in a number', 'L1,ten,2,12,ohm,pole_pole', '2:midpoint_m ten'],
    ['NaN', 'L1,10,2,NaN,ohm,pole_pole', '2:value NaN'],
    ['Infinity', 'L1,10,2,Infinity,ohm,pole_pole', '2:value Infinity'],
    ['a hexadecimal', 'L1,10,0x10,12,ohm,pole_pole', '2:spacing_m 0x10'],
    ['an unknown unit', 'L1,10,2,12,furlongs,pole_pole', '2:unit furlongs'],
    ['a unit that may be a thousandth or a million', 'L1,10,2,12,MOhm,pole_pole', '2:unit MOhm'],
    ['an unknown hookup', 'L1,10,2,12,ohm,zigzag', '2:hookup zigzag'],
    ['a spacing of zero', 'L1,10,0,12,ohm,pole_pole', '2:spacing_m 0'],
    ['a negative spacing', 'L1,10,-2,12,ohm,pole_pole', '2:spacing_m -2'],
    ['no line', ',10,2,12,ohm,pole_pole', '2:line '],
    ['no midpoint', 'L1,,2,12,ohm,pole_pole', '2:midpoint_m '],
    ['no spacing', 'L1,10,,12,ohm,pole_pole', '2:spacing_m '],
    ['no value', 'L1,10,2,,ohm,pole_pole', '2:value '],
    ['no unit', 'L1,10,2,12,,pole_pole', '2:unit '],
    ['millivolts without a current', 'L1,10,2,12,mV,pole_pole', '2:current_ma '],
    ['a limit that is no number', 'L1,10,2,>lots,ohm,pole_pole', '2:value >lots'],
    ['an ambiguous thousand', 'L1,10,2,"1,234",ohm,pole_pole', '2:value 1,234'],
    ['more cells than headers', 'L1,10,2,12,ohm,pole_pole,13', '2:7 13'],
  ])('%s is one fault at its place', (_, row, expected) => {
    expect(inReadings(`${READINGS_HEAD}\n${row}\n`)).toEqual([expected]);
  });

  test.each([
    ['status', 'perhaps'],
    ['wetting', 'damp'],
    ['reference', 'maybe'],
    ['time', '12/03/2026'],
    ['time', '14:05'],
    ['time', '2026-02-30'],
    ['date', 'Thursday'],
    ['n', '0'],
    ['inner_spacing_m', '-1'],
    ['meter_spacing_m', '0'],
    ['driven_depth_m', '-0.1'],
  ])('in %s, "%s" is one fault at its place', (column, cell) => {
    expect(inReadings(`${READINGS_HEAD},${column}\nL1,10,2,12,ohm,pole_pole,${cell}\n`)).toEqual([
      `2:${column} ${cell}`,
    ]);
  });

  test('the fault of an unknown unit or hookup lists those that are known', () => {
    const [unit, hookup] = faults({
      'positions.csv': TWO_POINTS,
      'readings.csv': `${READINGS_HEAD}\nL1,10,2,12,furlongs,zigzag\n`,
    });
    expect(unit?.expected).toContain('ohm_m, kohm_m, ohm, kohm, mV');
    expect(hookup?.expected).toContain('two_probe, pole_pole, wenner_alpha');
  });

  test('every faulty cell of a row is told', () => {
    expect(inReadings(`${READINGS_HEAD}\nL1,ten,-2,x,furlongs,zigzag\n`)).toHaveLength(5);
  });

  test('over range with a value that is not the limit is a fault', () => {
    expect(inReadings(`${READINGS_HEAD},status,limit\nL1,10,2,12,ohm,pole_pole,over,20000\n`)).toEqual(['2:value 12']);
  });

  test('a value over range with the status ok is a fault', () => {
    expect(inReadings(`${READINGS_HEAD},status\nL1,10,2,OL,ohm,pole_pole,ok\n`)).toEqual(['2:status ok']);
  });

  test('a unit against that of the header is a fault', () => {
    expect(inReadings('line,midpoint_m,spacing_m,value_ohm,unit,hookup\nL1,10,2,12,ohm_m,pole_pole\n')).toEqual([
      '2:unit ohm_m',
    ]);
  });

  test('one electrode alone, or two at one place, are a fault', () => {
    const head = 'line,a_m,b_m,m_m,n_m,value,unit,hookup';
    expect(inReadings(`${head}\nL1,10,,,,12,ohm,pole_pole\n`)).toEqual(['2:a_m 10']);
    expect(inReadings(`${head}\nL1,10,,10,,12,ohm,pole_pole\n`)).toEqual(['2:a_m 10, 10']);
  });

  test('a decimal comma among decimal points names the sign that is expected', () => {
    const [fault] = faults({
      'positions.csv': TWO_POINTS,
      'readings.csv': `${READINGS_HEAD.replaceAll(',', ';')}\nL1;10.5;2.5;12.5;ohm;pole_pole\nL1;10.5;2,5;12.5;ohm;pole_pole\n`,
    });
    expect(fault).toMatchObject({ row: 3, column: 'spacing_m', read: '2,5' });
    expect(fault?.expected).toContain('"."');
  });
});

describe('places', () => {
  test.each([
    ['a latitude beyond the pole', 'L1,0,120,95', '2:lat 95'],
    ['a longitude beyond the date line', 'L1,0,260.9,17.1', '2:lon 260.9'],
    ['half a pair', 'L1,0,-91.6,', '2:lat '],
    ['a latitude in letters', 'L1,0,-91.6,seventeen', '2:lat seventeen'],
    ['an unclear hemisphere', 'L1,0,10 O,17.1', '2:lon 10 O'],
    ['no place at all', 'L1,0,,', '2:lon '],
  ])('%s is one fault', (_, row, expected) => {
    expect(inPositions(`${POSITIONS_HEAD}\n${row}\n`)).toEqual([expected]);
  });

  const swapped = (files: Parameters<typeof faults>[0]) =>
    faults(files).map(({ file, row, sentence }) => `${file}:${row} ${/probably swapped/.test(sentence)}`);

  test('a latitude beyond the pole that would be a longitude says so', () => {
    expect(swapped({ 'positions.csv': `${POSITIONS_HEAD}\nL1,0,17.1,-91.6\nL1,100,17.1009,-91.6\n` })).toEqual([
      'positions.csv:2 true',
      'positions.csv:3 true',
    ]);
  });

  test('a hemisphere of the other axis says so', () => {
    expect(swapped({ 'positions.csv': `${POSITIONS_HEAD}\nL1,0,17.1N,10E\n` })).toEqual([
      'positions.csv:2 true',
      'positions.csv:2 true',
    ]);
  });

  test('one point far from its line and near it when exchanged is told', () => {
    const table = `${POSITIONS_HEAD}\nL1,0,10.25,47.5\nL1,50,47.5005,10.25\nL1,100,10.25,47.501\n`;
    expect(swapped({ 'positions.csv': table })).toEqual(['positions.csv:3 true']);
  });

  test('of two points far apart and near when one is exchanged, one fault speaks of both', () => {
    const table = `${POSITIONS_HEAD}\nL1,0,10.25,47.5\nL1,100,47.501,10.25\n`;
    const found = faults({ 'positions.csv': table });
    expect(found).toMatchObject([{ row: 3, column: 'lat' }]);
    expect(found[0]?.sentence).toContain('one of the two');
  });

  test('a whole line far from the others and near them when exchanged is told once', () => {
    const table =
      `${POSITIONS_HEAD}\nL1,0,10.25,47.5\nL1,100,10.25,47.501\nL2,0,10.26,47.5\nL2,100,10.26,47.501\n` +
      'L3,0,47.5,10.27\nL3,100,47.501,10.27\n';
    expect(swapped({ 'positions.csv': table })).toEqual(['positions.csv:6 true']);
  });

  test('a reading with a place of its own is watched as well', () => {
    const rows = 'T,10.25,47.5,1,ohm_m\nT,10.2501,47.5,1,ohm_m\nT,47.5,10.2502,1,ohm_m\n';
    expect(swapped({ 'readings.csv': `line,lon,lat,value,unit\n${rows}` })).toEqual(['readings.csv:4 true']);
  });

  test('a point that is far however one turns it is not taken for a swap', () => {
    const table = `${POSITIONS_HEAD}\nL1,0,10.25,47.5\nL1,50,10.25,47.5005\nL1,100,30.1,52.2\n`;
    expect(read({ 'positions.csv': table }).survey).not.toBeNull();
  });

  test('a long line whose points follow one another is no swap', () => {
    const rows = Array.from({ length: 25 }, (_, i) => `L1,${i * 4000},${20 + i * 0.04},${20 + i * 0.001}`);
    expect(read({ 'positions.csv': `${POSITIONS_HEAD}\n${rows.join('\n')}\n` }).survey).not.toBeNull();
  });
});

describe('lines that cannot be placed', () => {
  test('a line with one placed point is one fault', () => {
    expect(inPositions(`${POSITIONS_HEAD}\nL1,0,-91.6,17.1\n`)).toEqual(['2:line L1']);
  });

  test('two points at one chainage are still one placed point', () => {
    expect(inPositions(`${POSITIONS_HEAD}\nL1,0,-91.6,17.1\nL1,0,-91.6,17.1001\n`)).toEqual(['2:line L1']);
  });

  test('readings of a line without positions are one fault, however many', () => {
    const table = `${READINGS_HEAD}\nL9,10,2,12,ohm,pole_pole\nL9,12,2,12,ohm,pole_pole\n`;
    expect(inReadings(table)).toEqual(['2:line L9']);
  });

  test('a line whose name is nearly that of a placed one says so', () => {
    const [fault] = faults({ 'positions.csv': TWO_POINTS, 'readings.csv': ONE_READING.replace('L1', 'l 1') });
    expect(fault?.sentence).toContain('Is L1 meant?');
  });

  test('a line that lost its points to a fault is not told off a second time', () => {
    const positions = `${POSITIONS_HEAD}\nL1,0,-91.6,17.1\nL1,100,-91.6,x\n`;
    expect(told({ 'positions.csv': positions, 'readings.csv': ONE_READING })).toEqual(['3:lat x']);
  });
});

test('every fault has a sentence that names its file and its row', () => {
  const found = faults({
    'positions.csv': TWO_POINTS,
    'readings.csv': `${READINGS_HEAD}\nL1,ten,-2,x,furlongs,zigzag\n`,
  });
  expect(found).toHaveLength(5);
  for (const { sentence } of found) expect(sentence).toMatch(/^readings\.csv, row 2: \w+ says ".+"; it has to be /);
});

test('a map’s delimiter that the file does not use leaves no known header', () => {
  const found = faults({ 'p.csv': TWO_POINTS }, { columns: mapOf('p.csv', { table: 'positions', delimiter: '|' }) });
  expect(found).toMatchObject([{ row: 1, column: null }]);
});
