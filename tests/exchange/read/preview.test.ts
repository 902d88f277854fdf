import { describe, expect, it } from 'vitest';
import { type ColumnsMap, type FileColumns, readColumnsMap } from '../../../src/exchange/read/columns';
import { previewTable } from '../../../src/exchange/read/preview';
import { recallColumns, rememberColumns } from '../../../src/exchange/read/remembered-columns';
import { columnsMapText } from '../../../src/exchange/write/columns-map';
import { faults, mapOf, ONE_READING, read, survey, TWO_POINTS, utf8 } from './helpers';

const preview = (text: string, name = 'a.txt', columns?: FileColumns) => previewTable(utf8(text), name, columns);
const meanings = (text: string, name?: string, columns?: FileColumns) =>
  Object.fromEntries(preview(text, name, columns).columns.map(({ header, field }) => [header, field]));

/** A table of a person's own: nothing named as ours, two columns that make the line, values without a unit. */
const OWN = [
  'northing\teasting\tresistivity\tleg\ttrack',
  ...Array.from({ length: 40 }, (_, i) => `0.0${10 + i}\t0.${100 + i}\t${30 + i}.5\t${i % 2 ? 'T' : 'F'}\t1`),
].join('\n');

describe('a preview', () => {
  it('says what was understood of a table of our own', () => {
    const shown = preview(ONE_READING, 'readings.csv');
    expect(shown).toMatchObject({
      kind: 'readings',
      kindFrom: 'name',
      encoding: 'utf-8',
      delimiter: ',',
      decimal: '.',
      headerRow: 1,
      rowCount: 1,
      missing: [],
      unitSaid: true,
      hookupSaid: true,
      notes: [],
    });
    expect(shown.columns[3]).toMatchObject({ header: 'value', field: 'value', samples: ['345.6'] });
    expect(shown.rows).toEqual([{ row: 2, cells: ['L1', '10', '2', '345.6', 'ohm_m', 'pole_pole'] }]);
  });

  it.each([
    ['positions', TWO_POINTS],
    ['readings', ONE_READING],
    ['legs', 'line,from,azimuth,north reference,distance\nA,0,90,true,10\n'],
    ['remotes', 'outing,role,lon,lat\nmay,B,-91,17\n'],
    ['features', 'type,name,lon,lat\ndoline,Big,-91,17\n'],
  ])('tells %s by the headers, whatever the file is called', (kind, text) => {
    expect(preview(text)).toMatchObject({ kind, kindFrom: 'headers' });
  });

  it('knows delimiter, decimal sign, unit and header row of a foreign table', () => {
    const shown = preview(
      'Field book 7\n\nProfil;Station (ft);a_m;R (Ohm)\nA;10,5;2;47,5\nA;20;2;48,25\n',
      'readings.csv',
      {
        table: 'readings',
        columns: { Profil: 'line' },
      },
    );
    expect(shown).toMatchObject({ delimiter: ';', decimal: ',', headerRow: 3, unitSaid: true, hookupSaid: false });
    expect(shown.columns.map(({ unit }) => unit)).toEqual([null, '1 = 0.3048 m', null, 'ohm']);
    expect(shown.columns[2]?.doubt).toContain('electrode A');
    expect(shown.topLines.map(({ row }) => row)).toEqual([1, 3, 4, 5]);
  });

  it('guesses at an unknown header, and says what the table cannot do without', () => {
    const shown = preview('line,midpiont,spacing_m,value,unit\nA,1,2,3,ohm\n', 'readings.csv');
    expect(shown.columns[1]).toMatchObject({ field: null, guess: 'midpoint_m', notWanted: false });
    expect(shown.missing).toHaveLength(1);
    expect(shown.missing[0]).toContain('Is "midpiont" meant?');
  });

  it('shows two columns of one meaning, where the reader gives up', () => {
    const shown = preview('line,track,midpoint_m,spacing_m,value,unit\nA,1,1,2,3,ohm\n', 'readings.csv');
    expect(shown.columns.slice(0, 2)).toMatchObject([
      { field: 'line', clashes: false },
      { field: 'line', clashes: true },
    ]);
    expect(shown.notes).toMatchObject([{ kind: 'fault', column: 'track' }]);
  });

  it('shows the columns of a table in which no header is known', () => {
    const shown = preview('alpha;beta;gamma\n1;2;3\n', 'x.csv');
    expect(shown).toMatchObject({ kind: null, kindFrom: 'nothing', rowCount: 1 });
    expect(shown.columns.map(({ header, field }) => [header, field])).toEqual([
      ['alpha', null],
      ['beta', null],
      ['gamma', null],
    ]);
  });

  it('numbers the columns of a table without headers', () => {
    const columns: FileColumns = { table: 'positions', header_row: 0, columns: { '1': 'line', '2': 'chainage_m' } };
    expect(meanings('A,0,-91.6,17.1\nA,9,-91.6,17.2\n', 'p.csv', columns)).toEqual({
      '1': 'line',
      '2': 'chainage_m',
      '3': null,
      '4': null,
    });
  });

  it('hints at a column that may tell lines apart', () => {
    expect(preview(OWN).hints).toEqual([expect.stringContaining('"leg" is left out and holds only "F", "T"')]);
    const joined: FileColumns = { table: 'readings', join: { line: ['leg', 'track'] } };
    expect(preview(OWN, 'a.txt', joined)).toMatchObject({ hints: [], columns: { 3: { field: 'line' } } });
  });

  it('knows where the points fall, or their shape while the system is unknown', () => {
    expect(preview(TWO_POINTS, 'positions.csv').places).toEqual({
      system: 'lon_lat',
      points: [
        [-91.6, 17.1],
        [-91.6, 17.1009],
      ],
      bounds: [-91.6, 17.1, -91.6, 17.1009],
      extentM: [0, expect.closeTo(99.6, 1)],
    });
    expect(preview(OWN).places).toMatchObject({ system: 'own_units', bounds: [0.1, 0.01, 0.139, 0.049] });
    const grid = { unit: 'km' as const, origin_lon_lat: [-122, 37] as [number, number] };
    expect(preview(OWN, 'a.txt', { table: 'readings', grid }).places).toMatchObject({ system: 'lon_lat' });
    expect(preview(ONE_READING, 'readings.csv').places.system).toBe('none');
    const many = `line,chainage_m,lon,lat\n${Array.from({ length: 5000 }, (_, i) => `A,${i},-91.6,${17 + i / 1e5}`).join('\n')}`;
    const { points } = preview(many, 'positions.csv').places;
    expect(points).toHaveLength(500);
  });

  it.each([
    ['nothing', new Uint8Array()],
    ['noise', Uint8Array.of(0, 1, 2, 3, 0, 255)],
    ['a workbook', Uint8Array.of(0x50, 0x4b, 3, 4, 20)],
  ])('of %s has no columns and says why', (_, bytes) => {
    expect(previewTable(bytes, 'positions.csv')).toMatchObject({ columns: [], notes: [{ kind: 'fault' }] });
  });
});

describe('a map made in the preview', () => {
  const columns: ColumnsMap = {
    files: {
      'a.txt': {
        table: 'readings',
        columns: { leg: null },
        constants: { unit: 'ohm_m', hookup: 'unknown' },
        grid: { unit: 'km', origin_lon_lat: [-122.3, 37.4] },
      },
    },
  };

  it('gives the same survey when it is saved and given to the command line', () => {
    const saved = readColumnsMap(utf8(columnsMapText(columns)), 'columns.json');
    expect(saved).toEqual({ columns, notes: [] });
    const files = { 'a.txt': OWN };
    const before = read(files, { columns });
    expect(before.survey?.readings).toHaveLength(40);
    expect(read(files, { columns: saved.columns ?? { files: {} } })).toEqual(before);
  });

  it('is what makes the table readable: without it there are faults', () => {
    expect(faults({ 'a.txt': OWN }, { columns: mapOf('a.txt', { table: 'readings' }) })).not.toEqual([]);
  });

  it('is remembered, and found again for another file of the same headers', () => {
    const made = survey({ 'a.txt': OWN }, { columns });
    const headers = preview(OWN).columns.map(({ header }) => header);
    const kept = rememberColumns(made, columns, new Map([['a.txt', headers]]));
    expect(recallColumns(kept, utf8(OWN.replace('31.5', '99')), 'b.txt')).toEqual(columns.files['a.txt']);
    expect(recallColumns(kept, utf8(OWN.replace('leg', 'arm')), 'a.txt')).toBeNull();
    expect(rememberColumns(kept, columns, new Map([['a.txt', headers]]))).toBe(kept);
    expect(kept.site.column_mappings).toEqual([{ files: columns.files, headers }]);
  });

  it('is not remembered for a table of our own, and leaves other remembered things alone', () => {
    const made = survey({ 'positions.csv': TWO_POINTS });
    const plain = mapOf('positions.csv', { table: 'positions' });
    expect(rememberColumns(made, plain, new Map([['positions.csv', ['line']]]))).toBe(made);
    const other = { ...made, site: { ...made.site, column_mappings: [{ from: 'elsewhere' }] } };
    const kept = rememberColumns(other, columns, new Map([['a.txt', ['x']]]));
    expect(kept.site.column_mappings[0]).toEqual({ from: 'elsewhere' });
    expect(recallColumns(kept, utf8('x\n1\n'), 'a.txt')).toEqual(columns.files['a.txt']);
  });
});
