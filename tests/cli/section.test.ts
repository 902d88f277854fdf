import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import geojsonValidation from 'geojson-validation';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { rfc7946Breaches } from '../helpers/assert-rfc7946';
import { openWithGdal } from '../helpers/gdal';
import { folderWith, type Ran, runCli } from '../helpers/run-cli';

interface Cell {
  readonly chainage_from_m: number;
  readonly chainage_to_m: number;
  readonly depth_top_m: number;
  readonly depth_bottom_m: number;
  readonly resistivity_ohm_m: number;
  readonly coverage: number;
}

const NUMBERS = [
  'chainage_from_m',
  'chainage_to_m',
  'depth_top_m',
  'depth_bottom_m',
  'resistivity_ohm_m',
  'coverage',
] as const;

/** A line with heights that is read to 4 m of spacing, higher about its middle; and a line of two probes. */
const survey = folderWith({
  'positions.csv': [
    'line,chainage_m,lon,lat,elevation_m',
    'S,0,10,47,500',
    'S,20,10.000263,47,502',
    'T,0,10,47.001,',
    'T,20,10.000263,47.001,',
  ].join('\n'),
  'readings.csv': [
    'line,midpoint_m,spacing_m,value,unit,hookup',
    ...[4, 6, 8, 10, 12, 14, 16].flatMap((midpoint) => [
      ...[2, 4].map((spacing) => `S,${midpoint},${spacing},${midpoint === 10 ? 400 : 300},ohm_m,pole_pole`),
      `T,${midpoint},4,900,ohm_m,two_probe`,
    ]),
  ].join('\n'),
});
const out = folderWith({});

const ran = new Map<string, Ran>();
async function sectionOf(ending: 'csv' | 'geojson'): Promise<{ readonly ran: Ran; readonly file: string }> {
  const file = join(out, `s.${ending}`);
  let once = ran.get(ending);
  if (!once) {
    once = await runCli('section', survey, '--line', 'S', '--out', file, '--json');
    ran.set(ending, once);
  }
  return { ran: once, file };
}

describe('hollowline section', { timeout: 120_000 }, () => {
  it('answers by the contract, in one document, and says nothing on stderr that is no terminal', async () => {
    const { ran } = await sectionOf('geojson');
    expect(ran).toMatchObject({ code: 0, stderr: '' });
    const document = JSON.parse(ran.stdout);
    expect(document).toMatchObject({
      chi_square_per_reading: expect.any(Number),
      iterations: expect.any(Number),
      converged: expect.any(Boolean),
      down_weighted: expect.any(Array),
    });
    const cells: Cell[] = document.cells;
    expect(cells.length).toBeGreaterThan(50);
    for (const cell of cells) {
      expect(Object.keys(cell)).toEqual([...NUMBERS]);
      expect(cell.chainage_to_m).toBeGreaterThan(cell.chainage_from_m);
      expect(cell.depth_bottom_m).toBeGreaterThan(cell.depth_top_m);
      expect(cell.resistivity_ohm_m).toBeGreaterThan(0);
      expect(cell.coverage).toBeGreaterThanOrEqual(0);
      expect(cell.coverage).toBeLessThanOrEqual(1);
    }
    const ids = new Set(document.readings.map(({ id }: { id: string }) => id));
    for (const id of document.down_weighted) expect(ids.has(id)).toBe(true);
  });

  it('writes the cells as a layer that other readers open, with the numbers of the document', async () => {
    const { ran, file } = await sectionOf('geojson');
    const text = readFileSync(file, 'utf8');
    expect(rfc7946Breaches(text)).toEqual([]);
    expect(geojsonValidation.valid(JSON.parse(text))).toBe(true);
    const opened = await openWithGdal('section', text);
    const cells: Cell[] = JSON.parse(ran.stdout).cells;
    expect(opened.featureCount).toBe(cells.length);
    expect(opened.geometryType).toBe('LineString');
    for (const name of NUMBERS) expect(opened.fields[name]).toBe('Real');
    const first = opened.rewritten.features[0]?.properties ?? {};
    for (const name of NUMBERS) expect(first[name]).toBe(cells[0]?.[name]);
  });

  it('writes the cells as a table that other readers open', async () => {
    const { ran, file } = await sectionOf('csv');
    const parsed = Papa.parse<Cell>(readFileSync(file, 'utf8'), {
      header: true,
      dynamicTyping: true,
      skipEmptyLines: true,
    });
    expect(parsed.errors).toEqual([]);
    const cells: Cell[] = JSON.parse(ran.stdout).cells;
    expect(parsed.data.map((row) => NUMBERS.map((name) => row[name]))).toEqual(
      cells.map((cell) => NUMBERS.map((name) => cell[name])),
    );
    // Nothing is left lying beside it.
    expect(readdirSync(out).filter((name) => name.startsWith('.'))).toEqual([]);
  });

  it('says it in plain sentences too', async () => {
    const { code, stdout } = await runCli('section', survey, '--line', 'S');
    expect(code).toBe(0);
    expect(stdout).toMatch(/^Line S, pole-pole: a section of \d+ × \d+ cells\./);
    expect(stdout).toContain('Ω·m where the readings say enough');
    expect(stdout).toContain('Assumptions');
  });

  it.each([
    [['--line', 'T', '--json'], 'two-probe'],
    [['--line', 'Q', '--json'], 'a line of this survey: S, T'],
    [['--line', 'S', '--out', 'a.png'], 'ends in .csv or .geojson'],
    [['--json'], '--line'],
    [['--line', 'S', '--hookup', 'dipoles'], '--hookup'],
    [['--line', 'S', '--hookup', 'two-probe'], 'two-probe'],
    [['--line', 'S', '--hookup', 'wenner-alpha'], 'at 3 midpoints or more'],
  ])('refuses %j with one line and exit code 2', async (args, words) => {
    const { code, stdout, stderr } = await runCli('section', survey, ...args);
    expect(code).toBe(2);
    expect(stdout).toBe('');
    expect(stderr.trim().split('\n')).toHaveLength(1);
    expect(stderr).toMatch(/^arguments:1:--/);
    expect(stderr).toContain(words);
  });

  it('writes nothing where a line has no section, and never over what it reads', async () => {
    const file = join(out, 't.geojson');
    expect((await runCli('section', survey, '--line', 'T', '--out', file)).code).toBe(2);
    expect(existsSync(file)).toBe(false);
    const input = join(survey, 'readings.csv');
    const before = readFileSync(input, 'utf8');
    const over = await runCli('section', survey, '--line', 'S', '--out', input);
    expect(over.code).toBe(2);
    expect(over.stderr).toContain('this would write over an input');
    expect(readFileSync(input, 'utf8')).toBe(before);
  });
});
