import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import proj4 from 'proj4';
import { describe, expect, it } from 'vitest';
import { placesIn } from '../../src/cli/build/compare-datums';
import { withDatumShiftSetRight } from '../../src/cli/build/datum-shifts';
import { projectByGdal } from '../helpers/gdal-transform';

interface Entry {
  readonly proj4: string;
  readonly bbox: readonly [number, number, number, number];
}

const index = JSON.parse(readFileSync(createRequire(import.meta.url).resolve('epsg-index/all.json'), 'utf8')) as Record<
  string,
  Entry
>;
const entryOf = (code: number): Entry => index[String(code)] as Entry;

/** One system of each datum whose shift is set right, and how closely PROJ agrees then, metres. */
const SET_RIGHT: readonly (readonly [name: string, code: number, withinM: number])[] = [
  ['Amersfoort / RD New', 28992, 0.01],
  ['BD72 / Belgian Lambert 72', 31370, 0.01],
  ['KKJ / Finland zone 1', 2391, 0.01],
  ['RT90 2.5 gon V', 3021, 0.02],
  ['S-JTSK/05', 5228, 0.01],
  ['DB_REF / Gauss-Kruger zone 2', 5682, 0.01],
  ['HD1909', 3819, 0.01],
  ['Albanian 1987', 2462, 0.01],
  ['Israel 1993 / Israeli TM', 2039, 0.01],
  ['Hong Kong 1980', 2326, 0.01],
  ['ED87', 4231, 0.01],
  ['Lisbon', 4207, 0.01],
  ['Jamaica 1969', 4242, 0.02],
  ['Pulkovo 1942', 2494, 5],
  ['Pulkovo 1942(58)', 2172, 5],
  ['AGD66', 3110, 5],
];

describe('datum shifts of the packaged register', () => {
  it.each(SET_RIGHT)(
    'set right, %s (EPSG:%i) agrees with PROJ to %f m; as packaged it is far off',
    async (_, code, withinM) => {
      const { proj4: packaged, bbox } = entryOf(code);
      const places = placesIn(bbox);
      const theirs = await projectByGdal(places, `EPSG:${code}`);
      const worst = (definition: string): number =>
        Math.max(
          ...places.map(([lon, lat], i) => {
            const [x, y] = theirs[i] as readonly [number, number];
            const [backLon, backLat] = proj4(definition, '+proj=longlat +datum=WGS84', [x, y]) as [number, number];
            return 111_195 * Math.hypot((backLon - lon) * Math.cos((lat * Math.PI) / 180), backLat - lat);
          }),
        );
      expect(worst(withDatumShiftSetRight(packaged))).toBeLessThan(withinM);
      expect(worst(packaged)).toBeGreaterThan(Math.max(4, withinM));
    },
  );

  it('put the tower of Amersfoort where the Dutch grid begins', () => {
    // RD 155000, 463000 is 52.15517440° N 5.38720621° E (Schreutelkamp & Strang van Hees 2001; value from memory).
    const found = proj4(
      '+proj=longlat +datum=WGS84',
      withDatumShiftSetRight(entryOf(28992).proj4),
      [5.38720621, 52.1551744],
    );
    expect(Math.hypot((found[0] as number) - 155_000, (found[1] as number) - 463_000)).toBeLessThan(0.5);
  });

  it('that are right stay as they are', () => {
    for (const code of [31254, 3003, 2056, 32633]) {
      expect(withDatumShiftSetRight(entryOf(code).proj4)).toBe(entryOf(code).proj4);
    }
  });
});
