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
    expect(table.look([file('a.survey (1).txt', '{}')], null)).toMatchObject({ kind: 'survey', survey: null });
    const both = table.look([file('a.survey.json', '{}'), POSITIONS], null);
    expect(both).toMatchObject({ kind: 'survey', survey: null, notes: [{ kind: 'fault' }] });
  });
});

describe('files of places in hand', () => {
  const waypoint = (name: string, lat: number) => `<wpt lat="${lat}" lon="-91.6"><name>${name}</name></wpt>`;
  const GPX = file('a.gpx', `<gpx>${waypoint('one', 17.1)}${waypoint('L9 e2', 17.1001)}</gpx>`);
  const POINT = file('p.json', '{"type":"Point","coordinates":[-91.6,17.1]}');

  it('are shown by name, corrected, and taken beside tables', () => {
    const table = createImportTable();
    const looked = tables(table.look([POSITIONS, GPX], null));
    expect(looked.files).toEqual(['positions.csv', 'a.gpx']);
    expect(looked.understood.previews.map(({ file: name }) => name)).toEqual(['positions.csv']);
    expect(looked.understood.places).toMatchObject([
      { file: 'a.gpx', format: 'gpx', pointCount: 2, matchedPoints: 0, entries: [{ key: 'one', lines: [] }, {}] },
    ]);
    const names = { one: { line: 'L9', electrode: 1 }, 'L9 e2': { line: 'L9', electrode: 2 } };
    const columns = { ...looked.columns, places: { 'a.gpx': { step_m: 10, names } } };
    expect(table.understand(columns, null)).toMatchObject({ brings: { lines: 2 }, places: [{ matchedPoints: 2 }] });
    const { survey } = table.take(columns, target);
    expect(survey?.lines.map(({ name }) => name)).toEqual(['A', 'L9']);
    if (!survey) throw new Error('not taken');
    // The survey knows what the names were, so that the file brings nothing new.
    const again = tables(createImportTable().look([GPX], survey));
    expect(again.columns.places).toEqual({ 'a.gpx': { step_m: 10, names } });
    expect(table.understand(columns, survey).brings).toEqual({ lines: 0, readings: 0, changes: false });
    expect(table.take(columns, { ...target, into: survey }).survey).toBe(survey);
  });

  it('alone and without a line are a fault', () => {
    const looked = tables(createImportTable().look([GPX], null));
    expect(looked.understood.brings).toBeNull();
    expect(looked.understood.notes.some(({ kind }) => kind === 'fault')).toBe(true);
  });

  it('may be GeoJSON by the name of any JSON, beside a columns map', () => {
    const map = file(
      'columns.json',
      JSON.stringify({ places: { 'P.JSON': { names: { 'point 1': { line: 'A', chainage_m: 5 } } } } }),
    );
    const looked = tables(createImportTable().look([POSITIONS, POINT, map], null));
    expect(looked.files).toEqual(['positions.csv', 'p.json']);
    expect(looked.understood.places).toMatchObject([{ format: 'geojson', matchedPoints: 1 }]);
    expect(looked.understood.notes.filter(({ kind }) => kind === 'fault')).toEqual([]);
  });

  it('that are tables of names may be read as another kind of table', () => {
    const points = file('points.csv', 'name,lat,lon\nSpring,17.1,-91.6\n');
    const table = createImportTable();
    const looked = tables(table.look([points], null));
    expect(looked.understood.places).toMatchObject([{ format: 'table', pointCount: 1 }]);
    const asFeatures = { files: { 'points.csv': { table: 'features' as const, constants: { type: 'spring' } } } };
    const understood = table.understand(asFeatures, null);
    expect(understood).toMatchObject({ places: [], previews: [{ kind: 'features' }], brings: { changes: true } });
  });
});
