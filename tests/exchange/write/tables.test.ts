import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { disclose } from '../../../src/discretion/disclose';
import { readNumber } from '../../../src/exchange/read/number-text';
import { readSurveyFile } from '../../../src/exchange/read/survey-file';
import { readTables } from '../../../src/exchange/read/tables';
import { csvText, plainDecimal } from '../../../src/exchange/write/csv';
import { dictionaryCsv, dictionaryDocument } from '../../../src/exchange/write/dictionary';
import { surveyText } from '../../../src/exchange/write/survey-text';
import { DICTIONARY_TABLES } from '../../../src/exchange/write/table-dictionary';
import { surveyTables, type WrittenTables } from '../../../src/exchange/write/tables';
import type { Findings } from '../../../src/findings';
import type { Survey } from '../../../src/survey/survey';
import { DEMO_FILE } from '../../app/demo-content';
import { emptySurvey, madeLine, madeOuting, madeReading, madeReference } from '../../helpers/made-survey';
import { survey as surveyOf, utf8 } from '../read/helpers';

// The tables hold no finding.
const shown = (survey: Survey) => disclose(survey, {} as Findings, 'surveyor');
const written = (survey: Survey): WrittenTables => surveyTables(shown(survey));

function readBack({ files }: WrittenTables): Survey {
  const { survey, notes } = readTables(
    files.map(({ name, text }) => ({ name, bytes: utf8(text) })),
    { seed: 'tables' },
  );
  if (!survey) throw new Error(notes.map(({ sentence }) => sentence).join('\n'));
  return survey;
}

/** What tables hold of a survey, by names in place of ids, in an order of its own, without what is null or blank. */
function contentOf(survey: Survey): unknown {
  const lines = new Map(survey.lines.map(({ id, name }) => [id as string, name]));
  const outings = new Map(survey.outings.map(({ id, name }) => [id as string, name]));
  const bare = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(bare);
    if (typeof value !== 'object' || value === null) return value;
    return Object.fromEntries(
      Object.entries(value)
        .filter(([key, of]) => of !== null && of !== undefined && !['id', 'revised', 'repeat'].includes(key))
        .map(([key, of]) => [key, bare(of)] as const)
        .sort(([p], [q]) => (p < q ? -1 : 1)),
    );
  };
  const sorted = (list: readonly unknown[]) => list.map((item) => JSON.stringify(bare(item))).sort();
  return {
    lines: survey.lines.map(({ name, hookup, layout, path, profile }) =>
      bare({ name, hookup, layout, path: sorted(path), profile: sorted(profile) }),
    ),
    outings: sorted(survey.outings.map(({ name, remotes }) => ({ name, remotes }))),
    readings: survey.readings.map((reading) =>
      bare({ ...reading, line: lines.get(reading.line), outing: outings.get(reading.outing ?? '') }),
    ),
    stations: sorted(
      survey.references.flatMap(({ stations }) =>
        stations.map(({ line, chainage_m }) => ({ line: lines.get(line), chainage_m })),
      ),
    ),
  };
}

const tableOf = (rows: readonly Readonly<Record<string, string | number>>[]): string =>
  csvText([...new Set(rows.flatMap(Object.keys))], rows, []);

const KNOWN = { elevation_m: 212.5, accuracy_m: 1.5, accuracy_level: 95, source: 'averaged', device: 'hand receiver' };
const METRES = { easting: 500_000.5, northing: 1_900_000, epsg: 32615 };
const DAY = { outing: '2026-03-12', hookup: 'pole_pole', unit: 'ohm_m' };
const TIME = '2026-03-12T08:10:00-05:00';

/** Every way to place a line, to tie a reading to the ground and to say more of it. */
const EVERY_COLUMN = surveyOf({
  'positions.csv': tableOf([
    { line: 'L1', chainage_m: 0, lon: '91° 36\' 0" W', lat: 17.1, ...KNOWN, hdop: 1.2, time: TIME },
    { line: 'L1', chainage_m: 100, lon: -91.6, lat: 17.1009, hookup: 'pole_pole' },
    { line: 'L1', chainage_m: 40, elevation_m: 211 },
    { line: 'L2', chainage_m: 0, ...METRES, step_m: 2, electrodes: 21, hookup: 'wenner_alpha' },
    { line: 'L2', chainage_m: 40, ...METRES, northing: 1_900_040, step_m: 2, electrodes: 21 },
  ]),
  'legs.csv': tableOf([
    {
      ...{ line: 'L1', from_chainage_m: 100, bearing_deg: 90, bearing_ref: 'magnetic', distance_m: 20 },
      ...{ slope_deg: -3.5, time: '2026-03-12' },
    },
  ]),
  'remotes.csv': tableOf([
    { outing: '2026-03-12', role: 'B', ...METRES, ...KNOWN, time: TIME },
    { outing: '2026-03-12', role: 'N', lon: -91.61, lat: 17.2 },
  ]),
  'readings.csv': tableOf([
    {
      ...{ line: 'L1', midpoint_m: 10, spacing_m: 2, value: 345.6, ...DAY, wetting: 'water', time: TIME, note: 'wet' },
      ...{ reference: 'yes', meter_spacing_m: 4, seating_1: 'first', seating_2: 'second', driven_depth_m: 0.15 },
    },
    { line: 'L1', midpoint_m: 10, spacing_m: 2, value: 350, ...DAY, time: '2026-03-12T08:20:00-05:00' },
    {
      line: 'L1',
      a_m: 0,
      b_m: 10,
      m_m: 20,
      n_m: 35,
      value: 12.5,
      unit: 'mV',
      current_ma: 3.5,
      hookup: 'four_electrode',
    },
    { line: 'L1', a_m: 4, m_m: 8, value: 5, unit: 'ohm', hookup: 'pole_pole' },
    {
      ...{ line: 'L1', midpoint_m: 20, spacing_m: 2, unit: 'kohm', hookup: 'dipole_dipole', n_factor: 3 },
      ...{ status: 'over_range', limit: 19.99 },
    },
    { line: 'L2', midpoint_m: 22, spacing_m: 8, inner_spacing_m: 1, value: 7, unit: 'kohm_m', hookup: 'schlumberger' },
    {
      line: 'L2',
      midpoint_m: 22,
      spacing_m: 2,
      value: 7,
      unit: 'ohm',
      status: 'rejected',
      status_reason: 'loose lead',
    },
    { line: 'P', lon: '91° 36\' 0" W', lat: 17.1, value: 55, unit: 'ohm_m', hookup: 'unknown', ...KNOWN },
    { line: 'P', ...METRES, value: 56, unit: 'ohm_m', hookup: 'unknown' },
  ]),
});

describe('a survey as tables', () => {
  it('is the same survey when the demo’s tables are read back', () => {
    const { survey } = readSurveyFile(readFileSync(DEMO_FILE), DEMO_FILE);
    if (!survey) throw new Error('the demo cannot be read');
    const tables = written(survey);
    expect(tables.files.map(({ name }) => name)).toEqual(['positions.csv', 'readings.csv', 'remotes.csv']);
    expect(contentOf(readBack(tables))).toEqual(contentOf(survey));
  });

  it('gives the same texts again when they are read and written', () => {
    const { survey } = readSurveyFile(readFileSync(DEMO_FILE), DEMO_FILE);
    if (!survey) throw new Error('the demo cannot be read');
    const once = written(survey).files;
    expect(written(readBack({ files: once, untold: [] })).files).toEqual(once);
  });

  it('keeps all that tables have a column for', () => {
    const tables = written(EVERY_COLUMN);
    expect(tables.untold).toEqual([]);
    expect(contentOf(readBack(tables))).toEqual(contentOf(EVERY_COLUMN));
  });

  it('says what it has no place for, and leaves nothing out in silence', () => {
    const line = madeLine('L1', [
      { chainageM: 0, lon: -91.6, lat: 17.1 },
      { chainageM: 100, lon: -91.6, lat: 17.1009 },
    ]);
    const outing = madeOuting('day one', { people: ['somebody'], weather: 'dry' });
    const reading = madeReading(line, {
      midpoint_m: 10,
      spacing_m: 2,
      value: 100,
      hookup: 'pole_pole',
      outing: outing.id,
    });
    const { untold, files } = written({
      ...emptySurvey(),
      lines: [{ ...line, path: line.path.map((item) => ({ ...item, corner: true }) as typeof item) }],
      outings: [outing],
      readings: [
        reading,
        madeReading(line, { midpoint_m: 12, spacing_m: 2, value: 100, retired: true }),
        madeReading(line, { value: 100 }),
      ],
      references: [madeReference([{ line, chainageM: 10 }]), madeReference([{ line, chainageM: 77 }])],
      photos: [{ id: 'photo-1', revised: { at: null, by: null, count: 0 }, sha256: '', subject: 'L1' } as never],
    });
    expect(untold).toEqual([
      'Left out: 1 retired reading.',
      'Left out: 1 reading tied to no place.',
      'Left out: 1 reference station without a reading.',
      'Left out: whether the line turns, as said of 2 places.',
      'Left out: people, meter, rods and weather of day one.',
      'Left out: which reference serves which lines; the tables have one reference.',
      'Left out: photos.',
    ]);
    expect(files.find(({ name }) => name === 'readings.csv')?.text.split('\n')).toHaveLength(3);
  });

  it('gives places of a grid of the site’s own as longitude and latitude, and says so', () => {
    const files = { 'p.csv': 'line,chainage_m,easting,northing\nL1,0,0,0\nL1,100,0,0.1\n' };
    const grid = { unit: 'km' as const, origin_lon_lat: [-91.6, 17.1] as [number, number] };
    const survey = surveyOf(files, { columns: { files: { 'p.csv': { table: 'positions', grid } } } });
    const tables = written(survey);
    expect(tables.untold).toEqual(['Given as longitude and latitude: 2 places of the grid p.']);
    const [first, last] = readBack(tables).lines[0]?.path ?? [];
    expect(first).toMatchObject({ position: { x: -91.6, y: 17.1, crs: 'EPSG:4326' } });
    expect(last).toMatchObject({ chainage_m: 100, position: { x: -91.6 } });
  });
});

describe('the dictionary of tables', () => {
  const { survey: demo } = readSurveyFile(readFileSync(DEMO_FILE), DEMO_FILE);
  if (!demo) throw new Error('the demo cannot be read');
  const rowsOf = (text: string) => Papa.parse<Record<string, string>>(text, { header: true, skipEmptyLines: true });
  const columnsIn = ({ files }: WrittenTables) =>
    files.map(({ name, text }): [string, string[]] => [name, rowsOf(text).meta.fields ?? []]);
  const explained = DICTIONARY_TABLES.map(({ name, columns }) => [name, columns.map((column) => column.name)] as const);

  it('has each column of a survey that uses all of them, in order, and no other', () => {
    expect(columnsIn(written(EVERY_COLUMN))).toEqual(explained);
  });

  it('has each column of the demo', () => {
    const known = new Map(explained);
    const unknown = columnsIn(written(demo)).flatMap(([table, columns]) =>
      columns.filter((column) => !known.get(table)?.includes(column)),
    );
    expect(unknown).toEqual([]);
  });

  it('keeps its word on numbers, codes and empty cells', () => {
    const wrong = new Set<string>();
    for (const { name: table, text } of [demo, EVERY_COLUMN].flatMap((survey) => written(survey).files)) {
      const { data, meta } = rowsOf(text);
      for (const { name, type, allowed, nullMeans } of DICTIONARY_TABLES.find((each) => each.name === table)?.columns ??
        []) {
        if (!meta.fields?.includes(name)) continue;
        for (const row of data) {
          const cell = row[name] ?? '';
          if (cell === '') {
            if (nullMeans === null) wrong.add(`${table}: ${name} is empty`);
          } else if (type !== 'text' && !(type === 'integer' ? /^-?\d+$/ : /^-?\d+(\.\d+)?$/).test(cell)) {
            wrong.add(`${table}: ${name} is ${cell}`);
          } else if (allowed && !allowed.includes(cell)) wrong.add(`${table}: ${name} says ${cell}`);
        }
      }
    }
    expect([...wrong]).toEqual([]);
  });

  it('says of each column what it means, and of each number in which unit', () => {
    const columns = DICTIONARY_TABLES.flatMap((table) => table.columns);
    expect(columns.filter(({ meaning }) => !/^\p{Lu}.*\.$/u.test(meaning)).map(({ name }) => name)).toEqual([]);
    expect(columns.filter(({ type, unit }) => type !== 'text' && !unit).map(({ name }) => name)).toEqual([]);
    const named = columns.flatMap(({ name, unit }) => {
      const suffix = /_(m|deg|ma)$/.exec(name)?.[1];
      return suffix && suffix !== unit?.toLowerCase() ? [name] : [];
    });
    expect(named).toEqual([]);
  });

  it('stands with that of the layers where there are tables, and is not spoken of where there are none', () => {
    const { data } = rowsOf(dictionaryCsv(['lines'], DICTIONARY_TABLES));
    const ofTables = data.filter(({ layer }) => layer !== 'lines');
    expect(ofTables.map(({ layer, property }) => [layer, property])).toEqual(
      explained.flatMap(([table, columns]) => columns.map((column) => [table, column])),
    );
    expect(new Set(ofTables.map(({ geometry }) => geometry))).toEqual(new Set(['none']));
    expect(dictionaryDocument(['lines'], DICTIONARY_TABLES)).toMatchObject({
      tables: explained.map(([name, columns]) => ({ name, columns: columns.map((column) => ({ name: column })) })),
    });
    expect(rowsOf(dictionaryCsv(['lines'])).data.filter(({ layer }) => layer !== 'lines')).toEqual([]);
    expect(dictionaryDocument(['lines'])).not.toHaveProperty('tables');
  });
});

describe('cells', () => {
  it('never start as a formula, and come back as they were', () => {
    const text = fc
      .tuple(fc.constantFrom('', '=', '+', '-', '@', "'", '"', '#', '-2', "'=", "'12", '<', '#1'), fc.string())
      .map(([start, rest]) => (start + rest).replace(/\r\n?/g, '\n').trim())
      // The decoder takes a text with other control characters for no text.
      // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is left out
      .filter((note) => note !== '' && !/[\u0000-\u0008\u000b-\u001f]/.test(note));
    const line = madeLine('L1', [
      { chainageM: 0, lon: -91.6, lat: 17.1 },
      { chainageM: 100, lon: -91.6, lat: 17.1009 },
    ]);
    fc.assert(
      fc.property(text, text, (note, name) => {
        const made = { ...emptySurvey(), lines: [{ ...line, name }], readings: [] as Survey['readings'] };
        const reading = madeReading(line, { midpoint_m: 10, spacing_m: 2, value: 1, hookup: 'pole_pole', note });
        const survey = { ...made, readings: [reading] };
        const back = readBack(written(survey));
        expect([back.lines[0]?.name, back.readings[0]?.note]).toEqual([name, note]);
        const cell = csvText(['note'], [{ note }], ['note']).slice('note\n'.length);
        expect(cell.replace(/^"/, '')).not.toMatch(/^\s*[=+\-@\t\r]/);
      }),
    );
  });

  it('write numbers without an exponent, to the last bit', () => {
    fc.assert(
      // Cells of more than a hundred characters are no numbers to the reader: nothing in the field is that small.
      fc.property(fc.double({ noNaN: true, min: -1e15, max: 1e15 }), (value) => {
        fc.pre(value === 0 || Math.abs(value) > 1e-60);
        const text = plainDecimal(value);
        expect(text).not.toMatch(/[eE]/);
        expect(readNumber(text, '.')).toBe(value === 0 ? 0 : value);
      }),
    );
  });
});

it('a survey’s text is read as the same survey', () => {
  const { survey } = readSurveyFile(readFileSync(DEMO_FILE), DEMO_FILE);
  if (!survey) throw new Error('the demo cannot be read');
  const text = surveyText(shown(survey));
  expect(readSurveyFile(utf8(text), 'again.survey.json').survey).toEqual(survey);
});
