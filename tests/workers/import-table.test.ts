import { describe, expect, it } from 'vitest';
import { createImportTable, type Looked } from '../../src/workers/import-table';

const file = (name: string, text: string) => ({ name, bytes: new TextEncoder().encode(text) });
const POSITIONS = file('positions.csv', 'line,chainage_m,lon,lat\nA,0,-91.6,17.1\nA,50,-91.6,17.10045\n');
const READINGS = file('field.csv', 'Line;Peg;a;Ohm\nA;10;2;5,5\nA;12;2;6,5\n');
const MAP = { table: 'readings' as const, columns: { Peg: 'midpoint_m' }, constants: { hookup: 'pole_pole' } };

function tables(looked: Looked) {
  if (looked.kind !== 'tables') throw new Error('no tables');
  return looked;
}

const target = { into: null, siteName: 'Field', seed: 'a chance' };

describe('files in hand', () => {
  it('are understood, corrected, and taken as one survey', () => {
    const table = createImportTable();
    const looked = tables(table.look([READINGS, POSITIONS], null));
    expect(looked.columns.files).toEqual({
      'field.csv': { table: 'readings' },
      'positions.csv': { table: 'positions' },
    });
    expect(looked.understood.brings).toBeNull();
    const columns = { files: { ...looked.columns.files, 'field.csv': MAP } };
    expect(table.understand(columns, null)).toMatchObject({ brings: { lines: 1, readings: 2, changes: true } });
    const { survey } = table.take(columns, target);
    expect(survey).toMatchObject({ site: { name: 'Field' }, readings: [{ value: 5.5 }, { value: 6.5 }] });
    expect(survey?.site.column_mappings).toEqual([
      { files: { 'field.csv': MAP }, headers: ['Line', 'Peg', 'a', 'Ohm'] },
    ]);
  });

  it('that are taken twice bring nothing new', () => {
    const table = createImportTable();
    const { columns } = tables(
      table.look([READINGS, POSITIONS, file('columns.json', JSON.stringify({ files: { 'FIELD.csv': MAP } }))], null),
    );
    expect(columns.files['field.csv']).toEqual(MAP);
    const { survey } = table.take(columns, target);
    if (!survey) throw new Error('not taken');
    expect(table.understand(columns, survey).brings).toEqual({ lines: 0, readings: 0, changes: false });
    expect(table.take(columns, { ...target, into: survey }).survey).toBe(survey);
    // The survey knows how such a file is read, whatever it is called.
    const next = tables(table.look([{ ...READINGS, name: 'next.csv' }], survey));
    expect(next.columns.files).toEqual({ 'next.csv': MAP });
  });

  it('of an unknown kind are a fault, and the others are still understood', () => {
    const table = createImportTable();
    const { understood } = tables(table.look([POSITIONS, file('x.txt', 'alpha beta\n1 2\n')], null));
    expect(understood.notes).toMatchObject([{ kind: 'fault', file: 'x.txt' }]);
    expect(understood.brings).toBeNull();
    const noise = tables(table.look([file('noise.csv', '\u0000\u0001')], null));
    expect(noise.understood.notes).toMatchObject([{ kind: 'fault', sentence: expect.stringContaining('no text has') }]);
  });

  it('with a columns map that is wrong are understood without it', () => {
    const looked = tables(createImportTable().look([POSITIONS, file('columns.json', '{"files":')], null));
    expect(looked.mapFaults).toMatchObject([{ kind: 'fault', file: 'columns.json' }]);
    expect(looked.understood.brings).toMatchObject({ lines: 1 });
  });

  it('that are a survey document are opened alone or not at all', () => {
    const table = createImportTable();
    expect(table.look([file('a.survey.json', '{}')], null)).toMatchObject({ kind: 'survey', survey: null });
    const both = table.look([file('a.survey.json', '{}'), POSITIONS], null);
    expect(both).toMatchObject({ kind: 'survey', survey: null, notes: [{ kind: 'fault' }] });
  });
});
