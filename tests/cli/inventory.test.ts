import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { rfc7946Breaches } from '../helpers/assert-rfc7946';
import { folderWith, runCli } from '../helpers/run-cli';

const folder = folderWith({
  'one.csv': [
    'id,type,name,lon,lat,source,accuracy_m,long_axis_deg',
    ...Array.from(
      { length: 12 },
      (_, i) => `${i},doline,Pit ${i},${10 + (i % 4) / 100},${45 + Math.floor(i / 4) / 100},County,5,${30 + i}`,
    ),
    '99,spring,Blue Spring,10.005,45.005,County,10,',
    '100,spring,Nowhere,190,45,County,10,',
  ].join('\n'),
  'two.geojson': JSON.stringify({
    type: 'FeatureCollection',
    features: [
      {
        type: 'Feature',
        geometry: { type: 'Point', coordinates: [10.00502, 45.00501] },
        properties: { type: 'spring', name: 'Spring, blue' },
      },
      { type: 'Feature', geometry: { type: 'Point', coordinates: [10.5, 45] }, properties: { type: 'depression' } },
    ],
  }),
  'rules.json': JSON.stringify([
    { type: 'sinkhole', distance_m: 20, from: 'edge', with_uncertainty: true, cites: 'test' },
  ]),
});
const at = (name: string): string => join(folder, name);
const json = async (...args: string[]) => {
  const ran = await runCli('inventory', ...args, '--json');
  expect(ran.stderr).toBe('');
  expect(ran.code).toBe(0);
  return JSON.parse(ran.stdout);
};

describe('hollowline inventory', { timeout: 120_000 }, () => {
  it('merges files into a survey that is read again, the same whatever their order', async () => {
    const [first, second] = [at('m1.survey.json'), at('m2.survey.json')];
    const merged = await json('merge', at('one.csv'), at('two.geojson'), '--out', first);
    await json('merge', at('two.geojson'), at('one.csv'), '--out', second);
    expect(merged.features).toBe(15);
    expect(merged.files[0]).toMatchObject({ rows: 14, features: 13, left_out: 1 });
    expect(merged.files[0].faults[0]).toMatchObject({ code: 'impossible_coordinates', row: 15, left_out: true });
    expect(readFileSync(second, 'utf8')).toBe(readFileSync(first, 'utf8'));
    expect((await json('merge', first, at('one.csv'))).features).toBe(15);
    expect((await runCli('check', first)).code).toBe(0);
  });

  it('finds the spring that two keepers have, and nothing else', async () => {
    const { pairs } = await json('match', at('one.csv'), at('two.geojson'));
    expect(pairs).toHaveLength(1);
    expect(pairs[0]).toMatchObject({ grade: 'likely', types: 'same', name_similarity: 1 });
  });

  it('counts cells and writes them as valid GeoJSON', async () => {
    const out = at('density.geojson');
    const result = await json(
      'density',
      at('one.csv'),
      at('two.geojson'),
      '--cell',
      '500',
      '--bandwidth',
      '1500',
      '--out',
      out,
    );
    expect(result.features).toBe(14);
    expect(result.left_out).toMatchObject({ unverified: 1 });
    expect(result.cells.reduce((sum: number, { count }: { count: number }) => sum + count, 0)).toBe(14);
    expect(rfc7946Breaches(readFileSync(out, 'utf8'))).toEqual([]);
  });

  it('reports what was read, neighbours and axes, and says by which lengths and areas', async () => {
    const report = await json('report', at('one.csv'), at('two.geojson'));
    expect(report.types).toMatchObject({ sinkhole_unknown: 12, spring: 2, depression_unverified: 1 });
    expect(report.nearest_neighbour.count).toBe(14);
    expect(report.long_axes).toMatchObject({ count: 12 });
    expect(report.long_axes.mean_deg).toBeCloseTo(35.5, 1);
    expect(report.distances).toContain('geodesics');
    expect(report.areas).toContain('equal-area');
  });

  it('sets back by the user’s rules only', async () => {
    const out = at('setbacks.geojson');
    const result = await json('setbacks', at('one.csv'), '--rules', at('rules.json'), '--out', out);
    expect(result.setbacks).toHaveLength(12);
    expect(result.without_rule).toHaveLength(1);
    expect(rfc7946Breaches(readFileSync(out, 'utf8'))).toEqual([]);
    const without = await runCli('inventory', 'setbacks', at('one.csv'), '--out', out);
    expect(without.code).toBe(2);
    expect(without.stderr).toContain('there are no distances of ours');
  });

  it.each([
    [['inventory', 'dig', 'x']],
    [['inventory', 'match', 'not-there.csv']],
    [['inventory', 'density', at('one.csv'), '--cell', 'wide']],
    [['inventory', 'report', at('one.csv'), '--types', 'castle']],
    [['inventory', 'merge', at('one.csv'), '--out', 'x.json']],
    [['inventory', 'match']],
  ])('answers %j with one line and exit code 2', async (args) => {
    const ran = await runCli(...args);
    expect(ran.code).toBe(2);
    expect(ran.stderr.trim().split('\n')).toHaveLength(1);
    expect(ran.stdout).toBe('');
  });

  it('has a help with its cautions', async () => {
    expect((await runCli('inventory', '--help')).stdout).toContain('no distances of ours');
  });
});
