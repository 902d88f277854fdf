import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { folderWith, runCli } from '../helpers/run-cli';

/** Over ground that thickens evenly with spacing: one line with a rise about its middle, one without, one of two probes. */
const rows = (line: string, reference: string, factor: (midpoint: number, spacing: number) => number): string[] =>
  [6, 8, 10, 12, 14, 16, 18].flatMap((midpoint) =>
    [1, 2, 3, 5, 8].map((spacing) => {
      const value =
        (150 + 40 * spacing) * factor(midpoint, spacing) * (1 + 0.02 * Math.sin(7 * midpoint + 3 * spacing));
      return `${line},${midpoint},${spacing},${value.toFixed(1)},ohm_m,pole_pole,${reference}`;
    }),
  );

const survey = folderWith({
  'positions.csv': [
    'line,chainage_m,lon,lat',
    ...['S,47', 'R,47.002', 'T,47.001'].flatMap((each) => {
      const [line, lat] = each.split(',');
      return [`${line},0,10,${lat}`, `${line},24,10.0003156,${lat}`];
    }),
  ].join('\n'),
  'readings.csv': [
    'line,midpoint_m,spacing_m,value,unit,hookup,reference',
    ...rows('S', 'no', (midpoint, spacing) => (midpoint === 12 && spacing < 5 ? 1.35 : 1)),
    ...rows('R', 'yes', () => 1),
    ...[6, 8, 10, 12].map((midpoint) => `T,${midpoint},4,900,ohm_m,two_probe,no`),
  ].join('\n'),
});

describe('hollowline map --search', { timeout: 120_000 }, () => {
  it('says what the search of each line found and could have found, and which lines it could not search', async () => {
    const out = folderWith({});
    const ran = await runCli('map', survey, '--out', out, '--search', '--json');
    expect(ran).toMatchObject({ code: 0, stderr: '' });
    const { search } = JSON.parse(ran.stdout).about;
    expect(search.results.map(({ lines }: { lines: string[] }) => lines)).toEqual([['S']]);
    expect(search.left_out).toEqual(
      expect.arrayContaining([
        { lines: ['T'], sentence: expect.stringContaining('two-probe') },
        { lines: ['R'], sentence: expect.stringContaining('reference itself') },
      ]),
    );
    const [found] = search.results.find(({ lines }: { lines: string[] }) => lines[0] === 'S').candidates;
    expect(found).toMatchObject({ line: 'S', verdict: expect.any(String), p_global: expect.any(Number) });
    expect(Math.abs(found.chainage_m - 12)).toBeLessThan(1.5);
    expect(found.depth_low_95_m).toBeLessThanOrEqual(found.depth_m);
    expect(found.depth_high_95_m).toBeGreaterThanOrEqual(found.depth_m);
    const { findable } = search.results[0];
    expect(findable.length).toBeGreaterThan(0);
    for (const place of findable) {
      expect(place.radius_m === null || place.radius_m < place.depth_m).toBe(true);
    }
    expect(JSON.parse(readFileSync(join(out, 'about.json'), 'utf8')).search).toEqual(search);
  });

  it('searches nothing unless it is asked to', async () => {
    const ran = await runCli('map', survey, '--out', folderWith({}), '--json');
    expect(JSON.parse(ran.stdout).about).not.toHaveProperty('search');
  });
});

describe('hollowline sounding --whole-line', { timeout: 120_000 }, () => {
  it('says what the whole line has under the midpoint', async () => {
    const ran = await runCli('sounding', survey, '--line', 'S', '--at', '12', '--whole-line', '--json');
    expect(ran).toMatchObject({ code: 0, stderr: '' });
    const { section, search } = JSON.parse(ran.stdout).whole_line;
    expect(search.verdicts).toContain('void_like');
    expect(section.cells.length).toBeGreaterThan(3);
    for (const [i, cell] of section.cells.entries()) {
      expect(cell.depth_top_m).toBe(section.cells[i - 1]?.depth_bottom_m ?? 0);
      expect(cell.resistivity_ohm_m).toBeGreaterThan(0);
    }
  });

  it('says why two probes have neither', async () => {
    const two = await runCli('sounding', 'demo-data', '--line', 'T', '--at', '18', '--whole-line', '--json');
    expect(JSON.parse(two.stdout).whole_line).toMatchObject({
      section: { reason: expect.stringContaining('wo-probe') },
      search: { reason: expect.stringContaining('wo-probe') },
    });
  });
});
