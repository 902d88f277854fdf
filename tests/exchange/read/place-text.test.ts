import { describe, expect, test } from 'vitest';
import { noteMixedDatums } from '../../../src/exchange/read/datum-mixed';
import { emptyDraft } from '../../../src/exchange/read/draft';
import { Notebook } from '../../../src/exchange/read/notebook';
import { readPositions } from '../../../src/exchange/read/positions';
import { openSheet } from '../../../src/exchange/read/table';
import type { Fix } from '../../../src/survey/survey';
import { faults, lineNamed, places, survey, utf8 } from './helpers';

const HEAD = 'line,chainage_m,easting,northing,epsg\n';

function positions(rows: string) {
  const line = lineNamed(survey({ 'positions.csv': HEAD + rows }), 'L1');
  return line.path.filter((item): item is Fix => item.kind === 'fix').map(({ position }) => position);
}

describe('a UTM zone in the place of a code', () => {
  test.each([
    ['15N', 'EPSG:32615'],
    ['15 Q', 'EPSG:32615'],
    ['UTM 15 north', 'EPSG:32615'],
    ['UTM zone 15N', 'EPSG:32615'],
  ])('%s is that of the code', (zone, crs) => {
    expect(positions(`L1,0,500000,1890000,${zone}\nL1,9,500009,1890000,${zone}\n`)).toEqual([
      { x: 500000, y: 1890000, crs },
      { x: 500009, y: 1890000, crs },
    ]);
  });

  test('S is the south where band S cannot be meant, and asked about where it can', () => {
    expect(positions('L1,0,500000,7000000,17S\nL1,9,500009,7000000,17S\n')[0]?.crs).toBe('EPSG:32717');
    const [fault] = faults({ 'positions.csv': `${HEAD}L1,0,500000,4000000,17S\nL1,9,500009,4000000,17 north\n` });
    expect(fault?.sentence).toContain('17 north');
    expect(fault?.column).toBe('epsg');
    expect(fault?.row).toBe(2);
  });

  test('that its northing denies is a fault in its own row', () => {
    const found = faults({ 'positions.csv': `${HEAD}L1,0,500000,1890000,15T\nL1,9,500009,1890000,15N\n` });
    expect(places(found, 'fault')).toEqual(['2:epsg']);
  });

  test('beside a number that is none is not told off too', () => {
    const found = faults({ 'positions.csv': `${HEAD}L1,0,here,1890000,15N\nL1,9,500009,1890000,15N\n` });
    expect(places(found, 'fault')).toEqual(['2:easting']);
  });
});

describe('datums mixed in one table', () => {
  function notesOf(rows: string) {
    const notes = new Notebook('positions.csv');
    const sheet = openSheet(utf8(HEAD + rows), 'positions', null, notes);
    if (!sheet) throw new Error('no sheet');
    const draft = emptyDraft();
    readPositions(sheet, draft);
    noteMixedDatums(draft);
    return notes.all();
  }

  test('are named, at the first point that differs, with what they may cost', () => {
    const [note, ...others] = notesOf(
      'L1,0,500000,4140000,32615\nL1,9,500009,4140000,26915\nL1,18,500018,4140000,26915\n',
    );
    expect(others).toEqual([]);
    expect(note).toMatchObject({ kind: 'guessed', row: 3, column: 'epsg' });
    expect(note?.sentence).toContain('WGS 84, NAD83');
    expect(note?.sentence).toContain('2 m');
  });

  test('are none where only zones or grids of one datum meet', () => {
    expect(notesOf('L1,0,500000,4140000,32615\nL1,9,235000,4140000,32616\n')).toEqual([]);
    expect(notesOf('L1,0,500000,5140000,25832\nL1,9,500009,5140000,25832\n')).toEqual([]);
  });
});
