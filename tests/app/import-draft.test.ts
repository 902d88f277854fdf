import { describe, expect, it } from 'vitest';
import { gridFrom, gridText } from '../../src/app/screens/import/grid-text';
import {
  withConstant,
  withDecimal,
  withDelimiter,
  withGrid,
  withHeaderRow,
  withMeaning,
  withTable,
} from '../../src/app/screens/import/import-draft';
import { takeWords } from '../../src/app/screens/import/take-words';
import { LEADS, rodsOf } from '../../src/app/words/hookup-questions';
import type { FileColumns } from '../../src/exchange/read/columns';
import { previewTable } from '../../src/exchange/read/preview';
import type { Note } from '../../src/survey/note';

const shown = (head: string, columns?: FileColumns) =>
  previewTable(new TextEncoder().encode(`${head}\n1,2,3,4\n`), 'a.csv', columns).columns;
const READINGS: FileColumns = { table: 'readings' };

describe('a corrected meaning', () => {
  it('is all that the map says', () => {
    expect(withMeaning(READINGS, shown('line,peg,a,value'), 'peg', 'midpoint_m')).toEqual({
      table: 'readings',
      columns: { peg: 'midpoint_m' },
    });
  });

  it('is taken from the column that had it', () => {
    expect(withMeaning(READINGS, shown('line,station,peg,value'), 'peg', 'midpoint_m').columns).toEqual({
      station: null,
      peg: 'midpoint_m',
    });
  });

  it('of a second column as the line joins both, in the order of the file', () => {
    const columns = shown('block,value,spacing,line');
    const joined = withMeaning(READINGS, columns, 'block', 'line');
    expect(joined).toEqual({ table: 'readings', join: { line: ['block', 'line'] } });
    const three = withMeaning(joined, shown('block,value,spacing,line', joined), 'value', 'line');
    expect(three.join).toEqual({ line: ['block', 'value', 'line'] });
    const parted = withMeaning(joined, shown('block,value,spacing,line', joined), 'block', null);
    expect(parted).toEqual({ table: 'readings', columns: { block: null, line: 'line' } });
  });

  it('keeps what was said of other columns, by whatever part of the map', () => {
    const before: FileColumns = { table: 'readings', ignore: ['peg'], columns: { gap: 'spacing_m', old: '' } };
    expect(withMeaning(before, shown('line,peg,gap,old', before), 'line', null)).toEqual({
      table: 'readings',
      columns: { line: null, peg: null, gap: 'spacing_m', old: null },
    });
  });
});

describe('other corrections', () => {
  const before: FileColumns = {
    table: 'readings',
    delimiter: ';',
    columns: { peg: 'midpoint_m' },
    constants: { unit: 'ohm' },
    grid: { unit: 'm', origin_lon_lat: [1, 2] },
  };

  it('of the kind keep how the text is parted and nothing else', () => {
    expect(withTable(before, 'positions')).toEqual({ table: 'positions', delimiter: ';' });
    expect(withTable(undefined, 'legs')).toEqual({ table: 'legs' });
  });

  it('of the header row drop the names of the old headers', () => {
    const { columns: _, ...rest } = before;
    expect(withHeaderRow(before, 3)).toEqual({ ...rest, header_row: 3 });
  });

  it('of delimiter and decimal sign are said', () => {
    expect(withDecimal(withDelimiter(READINGS, '\t'), ',')).toEqual({ ...READINGS, delimiter: '\t', decimal: ',' });
  });

  it('by a constant are numbers where they look like one, and go away when they are blank', () => {
    expect(withConstant(READINGS, 'step_m', ' 2.5 ').constants).toEqual({ step_m: 2.5 });
    expect(withConstant(READINGS, 'line', 'A 1').constants).toEqual({ line: 'A 1' });
    expect(withConstant({ ...READINGS, constants: { line: 'A' } }, 'line', ' ')).toEqual(READINGS);
  });

  it('by a grid can be taken back', () => {
    expect(withGrid(before, undefined)).not.toHaveProperty('grid');
  });
});

describe('a grid that is typed', () => {
  it('is one once its numbers are there and on the Earth', () => {
    const typed = gridText(undefined, 'km');
    expect(typed).toEqual({ unit: 'km', lat: '', lon: '', bearing: '0' });
    expect(gridFrom(typed)).toBeUndefined();
    expect(gridFrom({ ...typed, lat: '37.4', lon: '-122.3' })).toEqual({ unit: 'km', origin_lon_lat: [-122.3, 37.4] });
    expect(gridFrom({ ...typed, lat: '97', lon: '1' })).toBeUndefined();
    expect(gridFrom({ ...typed, lat: '3', lon: '1', bearing: '12' })).toMatchObject({ bearing_deg: 12 });
  });

  it('begins with what is known', () => {
    const grid = { unit: 'ft' as const, origin_lon_lat: [-1, 2] as [number, number], bearing_deg: 5 };
    expect(gridFrom(gridText(grid, null))).toEqual(grid);
  });
});

describe('the question about the hookup', () => {
  it('has two answers for two rods, and none is chosen beforehand', () => {
    expect(LEADS[2].map(({ hookup }) => hookup)).toEqual(['two_probe', 'pole_pole']);
    expect(rodsOf(undefined)).toBeNull();
  });

  it('finds its first answer again from what was said', () => {
    expect(['pole_pole', 'pole_dipole', 'schlumberger', 'unknown'].map(rodsOf)).toEqual([2, 3, 4, 'unknown']);
  });
});

describe('what stands beside the button', () => {
  const fault: Note = { kind: 'fault', file: 'a', row: 1, column: null, read: '', expected: '', sentence: 's' };
  const brings = { lines: 1, readings: 24, changes: true };

  it('says why files cannot be taken', () => {
    const faulty = { previews: [], places: [], notes: [fault, fault], brings: null };
    expect(takeWords({ understood: faulty, refused: [] })).toEqual({
      mayTake: false,
      words: '2 faults in the way: each says above what to do.',
    });
    expect(takeWords({ understood: null, refused: ['no survey'] })).toMatchObject({ mayTake: false });
    const nothingNew = { previews: [], places: [], notes: [], brings: { ...brings, changes: false } };
    expect(takeWords({ understood: nothingNew, refused: [] })).toMatchObject({ mayTake: false });
  });

  it('says what they bring', () => {
    expect(takeWords({ understood: { previews: [], places: [], notes: [], brings }, refused: [] })).toEqual({
      mayTake: true,
      words: '1 line, 24 readings.',
    });
  });
});
