import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { FeatureCollection } from 'geojson';
import { describe, expect, it } from 'vitest';
import { seeded } from '../helpers/made-survey';
import { folderWith, runCli, runProgram } from '../helpers/run-cli';

const DEMO = resolve(import.meta.dirname, '../../demo-data');
const LAYERS = ['controls', 'corridors', 'electrodes', 'lines', 'midpoints', 'next_readings', 'segments', 'zones'];

const KARST_LAYERS = ['feature_areas', 'feature_lines', 'feature_points', 'setbacks'];

interface Truth {
  readonly crossings: readonly { readonly line: string; readonly chainage_m: number }[];
  readonly faults: readonly {
    readonly kind: string;
    readonly line: string;
    readonly midpoint_m: number;
    readonly spacing_m: number;
  }[];
}
const truth = JSON.parse(readFileSync(join(DEMO, 'truth.json'), 'utf8')) as Truth;
const layer = (folder: string, name: string): FeatureCollection =>
  JSON.parse(readFileSync(join(folder, `${name}.geojson`), 'utf8'));

describe('hollowline map on the demo', async () => {
  const out = join(folderWith({}), 'out');
  const ran = await runCli('map', 'demo-data', '--out', out);

  it('writes every layer, those of karst features, and about.json, and nothing else', () => {
    expect(ran).toMatchObject({ code: 0, stderr: '' });
    const written = [...LAYERS, ...KARST_LAYERS].map((name) => `${name}.geojson`);
    expect(readdirSync(out).sort()).toEqual(['about.json', ...written].sort());
  });

  it('tells a person what stands out, with place, error and doubts', () => {
    expect(ran.stdout).toMatch(/9 lines, \d+ readings/);
    expect(ran.stdout).toMatch(/line C at 1\d m, spacing 2 m: 1\.2\d ± 0\.\d\d of the reference, (clear|slight)/);
    expect(ran.stdout).toContain('Elsewhere is not surveyed, never safe.');
    expect(ran.stdout).toContain('no void size can be excluded');
  });

  it('shows the planted passage as graded segments where it is, on each pole-pole line that it crosses', () => {
    const segments = layer(out, 'segments').features;
    const crossed = truth.crossings.filter(({ line }) => line !== 'T');
    expect(crossed).toHaveLength(3);
    for (const { line, chainage_m: at } of crossed) {
      const near = segments.filter(
        ({ properties }) =>
          properties?.line === line && properties.spacing_m === 2 && Math.abs(properties.chainage_m - at) <= 1.5,
      );
      expect(near.length).toBeGreaterThanOrEqual(3);
      for (const { properties } of near) {
        expect(['slight', 'clear', 'strong'], `${line} at ${properties?.chainage_m}`).toContain(properties?.grade);
        expect(properties?.sign).toBe('above_reference');
      }
    }
  });

  it('leaves the line over no passage almost without grades', () => {
    const quiet = layer(out, 'segments').features.filter(({ properties }) => properties?.line === 'D');
    const graded = quiet.filter(({ properties }) => properties?.grade !== 'none');
    expect(quiet.length).toBeGreaterThan(150);
    expect(graded.length / quiet.length).toBeLessThan(0.05);
  });

  it('gives the same bytes from the survey form as from the tables', async () => {
    const other = join(folderWith({}), 'out');
    expect((await runCli('map', 'demo-data/survey-form', '--out', other)).code).toBe(0);
    for (const name of LAYERS) {
      const same = readFileSync(join(other, `${name}.geojson`)).equals(readFileSync(join(out, `${name}.geojson`)));
      expect(same, name).toBe(true);
    }
  });

  it('names program, settings and the hash of the survey in about.json', () => {
    const about = JSON.parse(readFileSync(join(out, 'about.json'), 'utf8'));
    expect(about).toMatchObject({
      program_version: expect.any(String),
      settings: { depth_rule: 'median', z_threshold: 2 },
    });
    expect(about.survey_sha256).toMatch(/^[0-9a-f]{64}$/);
  });

  it('takes its options with hyphens or underscores, and prints one JSON document when asked', async () => {
    for (const rule of ['half-spacing', 'half_spacing']) {
      const folder = join(folderWith({}), 'out');
      const asked = await runCli(
        'map',
        'demo-data',
        '--out',
        folder,
        '--depth-rule',
        rule,
        '--drape',
        'probes',
        '--crs',
        'EPSG:32615',
        '--json',
      );
      expect(asked.code).toBe(0);
      expect(JSON.parse(asked.stdout)).toMatchObject({
        summary: { lines: 9 },
        about: { settings: { depth_rule: 'half_spacing' }, drape: 'probes' },
      });
      const [first] = layer(folder, 'midpoints').features;
      expect(first?.properties).toMatchObject({
        depth_rule: 'half_spacing',
        epsg: 32615,
        easting_m: expect.any(Number),
      });
    }
  });
});

describe('hollowline check on the demo', async () => {
  const document = JSON.parse((await runCli('check', 'demo-data', '--json')).stdout);
  const doubtsAt = (code: string, line: string) =>
    document.doubts.filter((doubt: { code: string; line: string }) => doubt.code === code && doubt.line === line);

  it.each(['meter_spacing_differs', 'repeats_disagree', 'over_range'])('finds the planted %s where it is', (code) => {
    const planted = truth.faults.filter(({ kind }) => kind === code);
    expect(planted.length).toBeGreaterThan(0);
    for (const { line, midpoint_m: chainage, spacing_m: spacing } of planted) {
      expect(doubtsAt(code, line)).toContainEqual(
        expect.objectContaining({ chainage_m: chainage, spacing_m: spacing }),
      );
    }
  });

  it('finds the contact line', () => {
    expect(doubtsAt('contact_suspected', 'T')[0]).toMatchObject({ severity: 'warning', chainage_m: null });
    for (const line of ['A', 'B', 'C', 'D'])
      expect(
        doubtsAt('contact_suspected', line).filter(({ severity }: { severity: string }) => severity === 'warning'),
      ).toEqual([]);
  });

  it('has the shape of its contract', () => {
    // Levels, graded and crossings came to it later.
    expect(Object.keys(document)).toEqual(['summary', 'lines', 'crossings', 'notes', 'doubts']);
    expect(Object.keys(document.lines[0])).toEqual([
      'line',
      'tape_gps_scale',
      'tape_gps_scale_error_95',
      'controls',
      'levels',
      'graded',
    ]);
    expect(Object.keys(document.lines[0].controls[0])).toEqual(['chainage_m', 'residual_m', 'residual_sigma']);
    expect(Object.keys(document.doubts[0])).toEqual([
      'id',
      'code',
      'severity',
      'line',
      'chainage_m',
      'spacing_m',
      'sentence',
      'remedy',
    ]);
  });

  it('exits 1 under --strict, and 0 without', async () => {
    expect((await runCli('check', 'demo-data', '--strict')).code).toBe(1);
    expect((await runCli('check', 'demo-data')).code).toBe(0);
  });
});

const POSITIONS = 'line,chainage_m,lon,lat\nA,0,-91.9,37.4\nA,40,-91.8995483,37.4\n';
const READINGS =
  'line,midpoint_m,spacing_m,value,unit,hookup\nA,10,2,300,ohm_m,pole_pole\nA,12,2,310,ohm_m,pole_pole\n';

function noise(bytes: number): Uint8Array {
  const random = seeded(5);
  return Uint8Array.from({ length: bytes }, () => Math.floor(random() * 256));
}

describe('bad input', () => {
  const swapped = POSITIONS.replace('A,40,-91.8995483,37.4', 'A,40,37.4,-91.8995483');
  const cases: readonly (readonly [string, Record<string, string | Uint8Array>, RegExp])[] = [
    [
      'a missing column',
      {
        'positions.csv': POSITIONS,
        'readings.csv': 'line,midpoint_m,spacing_m,unit,hookup\nA,10,2,ohm_m,pole_pole\n',
      },
      /readings\.csv:1:value: read "[^"]*"; expected /,
    ],
    [
      'text in a number',
      { 'positions.csv': POSITIONS, 'readings.csv': READINGS.replace('300', 'about 300') },
      /readings\.csv:2:value: read "about 300"; expected /,
    ],
    [
      'NaN',
      { 'positions.csv': POSITIONS, 'readings.csv': READINGS.replace('300', 'NaN') },
      /readings\.csv:2:value: read "NaN"; expected /,
    ],
    [
      'an unknown unit',
      { 'positions.csv': POSITIONS, 'readings.csv': READINGS.replace('310,ohm_m', '310,furlong') },
      /readings\.csv:3:unit: read "furlong"; expected .*ohm_m/,
    ],
    [
      'an unknown hookup',
      { 'positions.csv': POSITIONS, 'readings.csv': READINGS.replace('310,ohm_m,pole_pole', '310,ohm_m,telepathy') },
      /readings\.csv:3:hookup: read "telepathy"; expected /,
    ],
    [
      'longitude and latitude swapped',
      { 'positions.csv': swapped, 'readings.csv': READINGS },
      /positions\.csv:3:\w+: read "[^"]*"; expected .*swapped/,
    ],
    [
      'an empty file',
      { 'positions.csv': POSITIONS, 'readings.csv': '' },
      /readings\.csv:1:1: read "nothing"; expected /,
    ],
    [
      'a line of one point',
      { 'positions.csv': 'line,chainage_m,lon,lat\nA,0,-91.9,37.4\n', 'readings.csv': READINGS },
      /positions\.csv:2:\w+: read "[^"]*"; expected .*(two|second)/,
    ],
    [
      '5 MB of noise',
      { 'positions.csv': POSITIONS, 'readings.csv': noise(5 * 1024 * 1024) },
      /readings\.csv:1:1: read "[^"]*"; expected /,
    ],
    [
      'a damaged survey',
      { 'x.survey.json': '{"format":"hollowline-survey","version":1}' },
      /x\.survey\.json:\d+:\S+: read "[^"]*"; expected /,
    ],
    [
      'a survey of a newer program',
      { 'x.survey.json': '{"format":"hollowline-survey","version":99}' },
      /x\.survey\.json:\d+:\S+: read "[^"]*"; expected /,
    ],
    ['an empty folder', {}, /: read "?[^"]*"?; expected positions\.csv/],
  ];

  it.each(cases)('%s: one line a fault, exit 2, nothing left behind', async (_what, files, line) => {
    const folder = folderWith(files);
    const out = join(folder, 'out');
    const ran = await runCli('map', folder, '--out', out);
    expect(ran.code).toBe(2);
    expect(ran.stdout).toBe('');
    const lines = ran.stderr.trim().split('\n');
    expect(lines).toHaveLength(1);
    expect(lines[0]).toMatch(line);
    expect(existsSync(out)).toBe(false);
    expect(readdirSync(folder).sort()).toEqual(Object.keys(files).sort());
  });

  it('two faults are two lines', async () => {
    const folder = folderWith({
      'positions.csv': POSITIONS,
      'readings.csv': READINGS.replace('300', 'x').replace('310', 'y'),
    });
    expect((await runCli('check', folder)).stderr.trim().split('\n')).toHaveLength(2);
  });

  it('does not touch what an earlier run wrote', async () => {
    const folder = folderWith({ 'positions.csv': POSITIONS, 'readings.csv': READINGS, 'out/lines.geojson': 'kept' });
    writeFileSync(join(folder, 'readings.csv'), READINGS.replace('300', '?'));
    expect((await runCli('map', folder, '--out', join(folder, 'out'))).code).toBe(2);
    expect(readFileSync(join(folder, 'out/lines.geojson'), 'utf8')).toBe('kept');
  });

  it('never writes over an input', async () => {
    const survey = readFileSync(join(DEMO, 'survey-form/brackamore-slade.survey.json'));
    const folder = folderWith({ 'about.json': survey });
    const ran = await runCli('map', join(folder, 'about.json'), '--out', folder);
    expect(ran.code).toBe(2);
    expect(ran.stderr).toContain('write over an input');
    expect(readFileSync(join(folder, 'about.json')).equals(survey)).toBe(true);
    expect(readdirSync(folder)).toEqual(['about.json']);
  });

  it.each([
    [['map', 'demo-data'], '--out'],
    [['map', 'demo-data', '--out', '/tmp/x', '--crs', 'EPSG:27700'], 'British National Grid'],
    [['map', 'demo-data', '--out', '/tmp/x', '--drape', 'sideways'], 'midpoint, probes'],
    [['map', '/no/such/place', '--out', '/tmp/x'], '/no/such/place'],
    [['conjure'], 'one of check, map,'],
    [['check', 'demo-data', '--wat'], '--wat'],
  ])('%j is refused with one line', async (args, words) => {
    const ran = await runCli(...args);
    expect(ran.code).toBe(2);
    expect(ran.stderr.trim().split('\n')).toHaveLength(1);
    expect(ran.stderr).toContain(words);
  });
});

describe('the program in its own process', () => {
  it('prints what it prints here, with the same exit codes, on the right streams', async () => {
    for (const args of [['check', 'demo-data', '--strict'], ['--help'], ['map', '/no/such/place', '--out', '/tmp/x']]) {
      expect(runProgram(...args)).toEqual(await runCli(...args));
    }
  });
});

describe('the file system', () => {
  const tables = { 'positions.csv': POSITIONS, 'readings.csv': READINGS };
  const fault = async (...args: readonly string[]) => {
    const ran = await runCli(...args);
    expect(ran.code, ran.stderr).toBe(2);
    const lines = ran.stderr.trim().split('\n');
    expect(lines).toHaveLength(1);
    expect(lines[0]).toMatch(/^.+:\d+:.+: read ".*"; expected /);
    return lines[0] ?? '';
  };

  it('with a file where the folder should be is a fault', async () => {
    const folder = folderWith({ ...tables, out: 'a file' });
    expect(await fault('map', folder, '--out', join(folder, 'out'))).toContain('a folder there, not a file');
    expect(await fault('map', folder, '--out', join(folder, 'out', 'deeper'))).toContain('folder');
  });

  it('with a folder in the place of one layer leaves the other layers unwritten', async () => {
    const folder = folderWith({ ...tables, 'out/segments.geojson/x': '' });
    expect(await fault('map', folder, '--out', join(folder, 'out'))).toContain('a file there, not a folder');
    expect(readdirSync(join(folder, 'out'))).toEqual(['segments.geojson']);
  });

  it('with a folder that is named like a table is a fault', async () => {
    const folder = folderWith({ 'positions.csv': POSITIONS, 'readings.csv/x': '' });
    expect(await fault('check', folder)).toContain('a file, not a folder');
  });

  it('is not asked for an output without a name', async () => {
    expect(await fault('map', folderWith(tables), '--out', '')).toContain('a folder to write into');
  });
});

describe('check', () => {
  it('never says that nothing is doubtful when readings or lines could not be used', async () => {
    const negative = READINGS.replace('300', '-7').replace('310', '-7');
    const folder = folderWith({ 'positions.csv': POSITIONS, 'readings.csv': negative });
    const ran = await runCli('check', folder, '--strict');
    expect(ran.code).toBe(1);
    expect(ran.stdout).toContain('Not usable (2 readings): Line A: it showed -7');
    expect(ran.stdout).not.toContain('No doubts found');
  });

  it('names a workbook that lies beside the tables', async () => {
    const folder = folderWith({ 'positions.csv': POSITIONS, 'readings.csv': READINGS, 'more.xlsx': 'PK' });
    expect((await runCli('check', folder)).stdout).toContain('Save its sheets as CSV first.');
  });

  it('lets no name from a survey steer the terminal', async () => {
    const survey = JSON.parse(readFileSync(join(DEMO, 'survey-form/brackamore-slade.survey.json'), 'utf8'));
    survey.site.name = 'evil \u001b[2J\nNo doubts found.';
    const folder = folderWith({ 'x.survey.json': JSON.stringify(survey) });
    const ran = await runCli('check', folder);
    expect(ran.code).toBe(0);
    expect(ran.stdout).not.toContain('\u001b');
    expect(ran.stdout.split('\n')[0]).toMatch(/^evil .*No doubts found\..*9 lines/);
  });
});

describe('help', () => {
  it.each([
    [''],
    ...['check', 'map', 'sounding', 'section', 'plan', 'inventory', 'share', 'serve', 'schema'].map((verb) => [verb]),
  ])('%s --help explains every option that it names, and gives an example and the cautions', async (verb) => {
    const ran = await runCli(...[verb, '--help'].filter(Boolean));
    expect(ran.code).toBe(0);
    expect(ran.stdout).toContain('Nobody touches a probe or a lead while the meter is on.');
    expect(ran.stdout).toContain(`Example: hollowline ${verb}`);
    const [usage = '', ...rest] = ran.stdout.split('\n\n');
    const named = usage.match(/--[a-z-]+/g) ?? [];
    expect(named.filter((option) => !rest.join('\n').includes(option))).toEqual([]);
  });
});

describe('hollowline schema', () => {
  it('prints a JSON Schema that names the format and every collection', async () => {
    const schema = JSON.parse((await runCli('schema')).stdout);
    expect(schema.$schema).toContain('2020-12');
    expect(schema.properties.format).toMatchObject({ const: 'hollowline-survey' });
    expect(schema.required).toEqual(
      expect.arrayContaining([
        'site',
        'outings',
        'lines',
        'readings',
        'references',
        'surroundings',
        'features',
        'photos',
        'settlements',
      ]),
    );
  });
});
