import { describe, expect, test } from 'vitest';
import {
  faults,
  firstReading,
  lineNamed,
  mapOf,
  places,
  READINGS_HEAD,
  read,
  survey,
  TWO_POINTS,
  utf8,
} from './helpers';

const PLAIN = survey({ 'positions.csv': TWO_POINTS });

describe('the same table in another dialect reads the same', () => {
  const lines = TWO_POINTS.trim().split('\n');
  const parted = (by: string) => lines.map((line) => line.replaceAll(',', by)).join('\n');
  test.each([
    ['semicolons', parted(';')],
    ['tabs', parted('\t')],
    ['bars', parted('|')],
    ['spaces after commas', parted(', ')],
    ['carriage return and line feed', lines.join('\r\n')],
    ['carriage return only', lines.join('\r')],
    ['no line end at the end', lines.join('\n')],
    ['a byte order mark', `\ufeff${TWO_POINTS}`],
    ['blank lines', lines.join('\n\n\n')],
    ['empty cells behind every row', lines.map((line) => `${line},,`).join('\n')],
    ['every cell quoted', lines.map((line) => line.replace(/[^,]+/g, '"$&"')).join('\n')],
    ['quotes behind spaces', lines.map((line) => line.replace(/[^,]+/g, ' "$&"')).join('\n')],
    ['headers in capitals with spaces', TWO_POINTS.replace('line,chainage_m,lon,lat', 'LINE , Chainage (m),LON.,Lat')],
  ])('%s', (_, table) => {
    const outcome = read({ 'positions.csv': table });
    expect(outcome.notes).toEqual([]);
    expect(outcome.survey).toEqual(PLAIN);
  });

  test('UTF-16 with a mark', () => {
    const bytes = new Uint8Array(2 + 2 * TWO_POINTS.length);
    bytes.set([0xff, 0xfe]);
    for (let i = 0; i < TWO_POINTS.length; i += 1) bytes[2 + 2 * i] = TWO_POINTS.charCodeAt(i);
    expect(read({ 'positions.csv': bytes })).toEqual({ survey: PLAIN, notes: [] });
  });

  test('decimal commas, with a note', () => {
    const outcome = read({ 'positions.csv': parted(';').replaceAll('.', ',') });
    expect(outcome.survey).toEqual(PLAIN);
    expect(outcome.notes).toMatchObject([{ kind: 'guessed', row: null, read: 'numbers like 47,5' }]);
  });

  test('quoted decimal commas between commas, with a note', () => {
    const outcome = read({
      'positions.csv': 'line,chainage_m,lon,lat\nL1,0,"-91,6","17,1"\nL1,100,"-91,6","17,1009"\n',
    });
    expect(outcome.survey).toEqual(PLAIN);
    expect(places(outcome.notes, 'guessed')).toEqual(['null:null']);
  });

  test('spaces between the columns, when the map says so', () => {
    const outcome = read(
      { 'p.txt': parted('   ') },
      { columns: mapOf('p.txt', { table: 'positions', delimiter: 'spaces' }) },
    );
    expect(outcome.survey).toEqual(PLAIN);
  });

  test('no headers, when the map numbers the columns', () => {
    const columns = { '1': 'line', '2': 'chainage_m', '3': 'lon', '4': 'lat', '5': null };
    const body = lines.slice(1).map((line) => `${line},x`);
    const outcome = read(
      { 'p.txt': body.join('\n') },
      { columns: mapOf('p.txt', { table: 'positions', header_row: 0, columns }) },
    );
    expect(outcome).toEqual({ survey: PLAIN, notes: [] });
  });
});

describe('rows are numbered as in the file', () => {
  const spoilt = 'L1,100,-91.6,spoilt\n';
  const head = 'line,chainage_m,lon,lat\n';
  const faultRows = (table: string) => faults({ 'positions.csv': table }).map(({ row }) => row);

  test('under a sep= line, comments and blank lines', () => {
    expect(faultRows(`sep=,\n# made by hand\n${head}\n# one\nL1,0,-91.6,17.1\n# two\n\n${spoilt}`)).toEqual([9]);
  });

  test('under a cell with line breaks', () => {
    expect(faultRows(`${head.replace('lat', 'lat,remark')}L1,0,-91.6,17.1,"a\nb\nc"\n${spoilt}`)).toEqual([5]);
  });

  test('under skipped rows', () => {
    const found = faults(
      { 'p.csv': `Survey of the wall\nline,but not the headers\n${head}${spoilt}` },
      { columns: mapOf('p.csv', { table: 'positions', skip_rows: 2 }) },
    );
    expect(found.map(({ row }) => row)).toEqual([4]);
  });

  test('with the header row that the map names', () => {
    const found = faults(
      { 'p.csv': `line,lon,lat,made by\n\n${head}${spoilt}` },
      { columns: mapOf('p.csv', { table: 'positions', header_row: 3 }) },
    );
    expect(found.map(({ row }) => row)).toEqual([4]);
  });
});

test('a sep= line names the delimiter, even an odd one', () => {
  const table = `sep=~\n${TWO_POINTS.replaceAll(',', '~')}`;
  expect(read({ 'positions.csv': table })).toEqual({ survey: PLAIN, notes: [] });
});

test('lines that begin with # are left out, with one note', () => {
  const outcome = read({ 'positions.csv': `${TWO_POINTS}# L1, 50 was lost\n# end\n` });
  expect(outcome.survey).toEqual(PLAIN);
  expect(places(outcome.notes, 'skipped')).toEqual(['4:null']);
  expect(outcome.notes[0]?.sentence).toContain('2 lines');
});

test('headers below a preamble are found, with a note', () => {
  const outcome = read({ 'positions.csv': `Positions along lines,,,\nDatum: WGS84,,,\n${TWO_POINTS}` });
  expect(outcome.survey).toEqual(PLAIN);
  expect(places(outcome.notes, 'guessed')).toEqual(['3:null']);
});

test('a header row beyond the end of the file leaves no table, whatever its number', () => {
  const found = faults({ 'p.csv': TWO_POINTS }, { columns: mapOf('p.csv', { table: 'positions', header_row: 1e9 }) });
  expect(found).toHaveLength(1);
});

test('headers in a comment are read when the map names their row', () => {
  const outcome = read(
    { 'p.csv': `#${TWO_POINTS}` },
    { columns: mapOf('p.csv', { table: 'positions', header_row: 1 }) },
  );
  expect(outcome).toEqual({ survey: PLAIN, notes: [] });
});

test('Latin-1 letters and degree signs are read, with a note', () => {
  const table = "line,chainage_m,lat,lon\nSüd,0,17°06'N,91°36'W\nSüd,100,17°06.05'N,91°36'W\n";
  const outcome = read({ 'positions.csv': Uint8Array.from(table, (letter) => letter.charCodeAt(0)) });
  expect(outcome.survey && lineNamed(outcome.survey, 'Süd').path[0]).toMatchObject({ position: { x: -91.6, y: 17.1 } });
  expect(outcome.notes).toMatchObject([{ kind: 'guessed', read: 'windows-1252' }]);
});

describe('columns that are not known', () => {
  test('have a note each, with the nearest name where there is one', () => {
    const outcome = read({
      'positions.csv': TWO_POINTS,
      'readings.csv': `${READINGS_HEAD},operator,weting\nL1,10,2,12,ohm,pole_pole,AB,wet\n`,
    });
    expect(outcome.notes).toMatchObject([
      { kind: 'skipped', row: 1, column: 'operator', expected: 'a known header' },
      { kind: 'skipped', row: 1, column: 'weting', expected: 'wetting' },
    ]);
    expect(outcome.survey && firstReading(outcome.survey)).not.toHaveProperty('wetting');
  });

  test('named __proto__ or constructor break nothing', () => {
    const outcome = read({
      'positions.csv': 'line,chainage_m,lon,lat,__proto__,constructor\nL1,0,-91.6,17.1,x,y\nL1,100,-91.6,17.1009,x,y\n',
    });
    expect(outcome.survey).toEqual(PLAIN);
    expect(places(outcome.notes, 'skipped')).toEqual(['1:__proto__', '1:constructor']);
    expect(({} as Record<string, unknown>).x).toBeUndefined();
  });

  test('without a header have a note when they hold anything', () => {
    const outcome = read({
      'positions.csv': TWO_POINTS.replace('-91.6,17.1\n', '-91.6,17.1,odd\n').replace('lat\n', 'lat,\n'),
    });
    expect(outcome.survey).toEqual(PLAIN);
    expect(places(outcome.notes, 'skipped')).toEqual(['1:5']);
  });
});

describe('text cells', () => {
  const note = (cell: string) =>
    firstReading(
      survey({
        'positions.csv': TWO_POINTS,
        'readings.csv': `${READINGS_HEAD},note\nL1,10,2,12,ohm,pole_pole,${cell}\n`,
      }),
    ).note;

  test('lose the apostrophe that keeps spreadsheets from running them', () => {
    expect(note("'=1+1")).toBe('=1+1');
    expect(note("'-2")).toBe('-2');
    expect(note("'007")).toBe('007');
  });

  test('keep an apostrophe that is part of a name', () => {
    expect(note("'t Hol")).toBe("'t Hol");
  });

  test('keep quotes inside, and line breaks as spaces', () => {
    expect(note('"said ""no""\nand left"')).toBe('said "no" and left');
  });

  test('in a number column, too, an apostrophe before a number is dropped', () => {
    const made = survey({ 'positions.csv': TWO_POINTS.replace('L1,100', "L1,'100") });
    expect(made).toEqual(PLAIN);
  });
});

test('bytes are read, whatever the file is called in', () => {
  expect(read({ '/some/where/POSITIONS.CSV': utf8(TWO_POINTS) }).survey).toEqual(PLAIN);
  expect(read({ 'C:\\field\\positions.tsv': TWO_POINTS.replaceAll(',', '\t') }).survey).toEqual(PLAIN);
});
