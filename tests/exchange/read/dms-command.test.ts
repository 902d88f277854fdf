import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { folderWith, runProgram } from '../../helpers/run-cli';
import { ONE_READING } from './helpers';

// The library's names are visible under the test runner and were not under Node, so this has to be its own process.
test('the command line reads degrees, minutes and seconds as it reads decimals', () => {
  const midpoints = (positions: string) => {
    const folder = folderWith({ 'positions.csv': positions, 'readings.csv': ONE_READING });
    const out = join(folder, 'out');
    const { code, stderr } = runProgram('map', folder, '--out', out);
    expect(stderr).not.toContain('expected');
    expect(code).toBeLessThan(2);
    const { features } = JSON.parse(readFileSync(join(out, 'midpoints.geojson'), 'utf8')) as {
      features: { geometry: { coordinates: number[] } }[];
    };
    return features.map(({ geometry }) => geometry.coordinates.map((degrees) => degrees.toFixed(7)));
  };
  const decimal = 'line,chainage_m,lon,lat\nL1,0,-91.6125,17.1\nL1,100,-91.6125,17.1009\n';
  const dms = `line;chainage_m;lon;lat\nL1;0;91° 36' 45" W;17° 6' N\nL1;100;W 91:36:45;17 6 3.24 N\n`;
  const found = midpoints(dms);
  expect(found).toHaveLength(1);
  expect(found).toEqual(midpoints(decimal));
});
