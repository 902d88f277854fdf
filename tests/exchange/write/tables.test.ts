import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { disclose } from '../../../src/discretion/disclose';
import { readNumber } from '../../../src/exchange/read/number-text';
import { readSurveyFile } from '../../../src/exchange/read/survey-file';
import { readTables } from '../../../src/exchange/read/tables';
import { csvText, plainDecimal } from '../../../src/exchange/write/csv';
import { surveyText } from '../../../src/exchange/write/survey-text';
import { surveyTables, type WrittenTables } from '../../../src/exchange/write/tables';
import type { Findings } from '../../../src/findings';
import type { Survey } from '../../../src/survey/survey';
import { DEMO_FILE } from '../../app/demo-content';
import { emptySurvey, madeLine, madeOuting, madeReading, madeReference } from '../../helpers/made-survey';
import { survey as surveyOf, TWO_POINTS, utf8 } from '../read/helpers';

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

  it('keeps every way in which a reading is tied to the ground', () => {
    const survey = surveyOf({
      'positions.csv': `${TWO_POINTS}L2,0,,\n`
        .replace('lon,lat\n', 'lon,lat,elevation_m\n')
        .replace('L2,0,,\n', 'L1,40,,,212.5\n'),
      'legs.csv':
        'line,from_chainage_m,bearing_deg,bearing_ref,distance_m,slope_deg,date\nL1,100,90,magnetic,20,-3.5,2026-03-12\n',
      'remotes.csv': 'outing,role,easting,northing,epsg\n2026-03-12,B,500000.5,1900000,32615\n',
      'readings.csv': [
        'line,midpoint_m,spacing_m,value,unit,hookup,a_m,b_m,m_m,n_m,lon,lat,n_factor,current_ma,status,status_reason,limit,wetting,outing,time,note',
        'L1,10,2,345.6,ohm_m,pole_pole,,,,,,,,,,,,water,2026-03-12,2026-03-12T08:10:00-05:00,wet',
        'L1,10,2,350,ohm_m,pole_pole,,,,,,,,,,,,,2026-03-12,2026-03-12T08:20:00-05:00,',
        'L1,,,12.5,mV,four_electrode,0,10,20,35,,,,3.5,,,,,,,',
        'L1,,,5,ohm,pole_pole,4,,8,,,,,,,,,,,,',
        'L1,20,2,,kohm,dipole_dipole,,,,,,,3,,over_range,,19.99,,,,',
        'L1,22,2,7,kohm,wenner_alpha,,,,,,,,,rejected,loose lead,,,,,',
        'P,,,55,ohm_m,unknown,,,,,"91° 36\' 0"" W",17.1,,,,,,,,,',
        'P,,,56,ohm_m,unknown,,,,,-91.5999,17.1,,,,,,,,,',
      ].join('\n'),
    });
    expect(survey.readings).toHaveLength(8);
    const tables = written(survey);
    expect(tables.untold).toEqual([]);
    expect(contentOf(readBack(tables))).toEqual(contentOf(survey));
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
      lines: [line],
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
