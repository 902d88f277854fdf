import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { rfc7946Breaches } from '../helpers/assert-rfc7946';
import { openWithGdal } from '../helpers/gdal';
import { folderWith, runCli } from '../helpers/run-cli';

/** One line beside a quiet one; the later survey reads twice as much about 20 m and is a third wetter everywhere. */
function tables(isLater: boolean) {
  const stations = Array.from({ length: 15 }, (_, i) => 6 + 2 * i);
  const rows = ['A', 'Q'].flatMap((line) =>
    stations.flatMap((m) =>
      [2, 4].map((spacing) => {
        const works = isLater && line === 'A' && Math.abs(m - 20) <= 2 ? 2 : 1;
        // Scatter of a per cent or two, by arithmetic.
        const scatter = 1 + 0.01 * (((m * 7 + spacing * 3 + (isLater ? 5 : 0)) % 5) - 2);
        const value = (200 * works * scatter) / (isLater ? 1.33 : 1);
        return `${line},${m},${spacing},${value.toFixed(2)},ohm_m,wenner_alpha,${line === 'Q' ? 'yes' : ''}`;
      }),
    ),
  );
  return folderWith({
    'positions.csv':
      'line,chainage_m,lon,lat,accuracy_m\nA,0,10,47,0.2\nA,40,10.000526,47,0.2\nQ,0,10,47.002,0.2\nQ,40,10.000526,47.002,0.2\n',
    'readings.csv': `line,midpoint_m,spacing_m,value,unit,hookup,reference\n${rows.join('\n')}\n`,
  });
}

describe('map --compare', async () => {
  const out = join(folderWith({}), 'out');
  const ran = await runCli('map', tables(true), '--out', out, '--compare', tables(false), '--json');
  const { about } = JSON.parse(ran.stdout || '{}') as { about: { comparison: { changed: number; tested: number } } };
  const rows = Papa.parse<Record<string, string>>(readFileSync(join(out, 'changes.csv'), 'utf8'), {
    header: true,
    skipEmptyLines: true,
  }).data;

  it('names the stretch that changed and nothing else, whatever the season did', () => {
    expect([ran.code, about.comparison.tested]).toEqual([0, 60]);
    const changed = rows.filter(({ verdict }) => verdict === 'higher_than_before');
    expect(changed.map((row) => `${row.line} ${row.chainage_m}`).sort()).toEqual([
      ...['A 18', 'A 18', 'A 20', 'A 20', 'A 22', 'A 22'],
    ]);
    for (const row of changed) {
      expect(Math.abs(Number(row.change) / 2 - 1)).toBeLessThan(0.06);
      expect(Math.abs((Number(row.figure_change) * 1.33) / 2 - 1)).toBeLessThan(0.06);
    }
    expect(rows.filter(({ verdict }) => verdict === 'lower_than_before')).toEqual([]);
  });

  it('writes a layer that GDAL reads with the table’s values', async () => {
    const text = readFileSync(join(out, 'changes.geojson'), 'utf8');
    expect(rfc7946Breaches(text)).toEqual([]);
    const read = await openWithGdal('changes', text);
    expect([read.featureCount, read.geometryType]).toEqual([rows.length, 'LineString']);
    expect(read.rewritten.features.map(({ properties }) => String(properties?.verdict))).toEqual(
      rows.map(({ verdict }) => verdict),
    );
  });
});
