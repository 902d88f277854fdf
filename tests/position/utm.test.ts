import * as mgrs from 'mgrs';
import { describe, expect, it } from 'vitest';
import { crsOf } from '../../src/position/crs';
import { geodesicDistanceM } from '../../src/position/geodesic';
import { looksLikeMgrs, mgrsText, readMgrs } from '../../src/position/mgrs';
import { bandEnds, utmZoneOf, zoneEnds } from '../../src/position/utm';
import { seeded } from '../helpers/made-survey';
import { MGRS, UTM_ZONES } from '../reference/projections';

function value<T>(outcome: { ok: true; value: T } | { ok: false; sentence: string }): T {
  if (!outcome.ok) throw new Error(outcome.sentence);
  return outcome.value;
}

describe('the UTM zone', () => {
  it.each(UTM_ZONES)('of $lat, $lon ($what) is $zone$band', ({ lat, lon, zone, band, epsg }) => {
    expect(value(utmZoneOf({ lon, lat }))).toMatchObject({ zone, band, epsg: `EPSG:${epsg}` });
  });

  it('is refused near the poles', () => {
    for (const lat of [84.001, -80.001, 90, Number.NaN]) {
      expect(utmZoneOf({ lon: 0, lat })).toMatchObject({ ok: false, code: 'outside_utm' });
    }
  });

  it('holds the place, and its neighbours take the place where it ends', () => {
    const next = seeded(3);
    for (let i = 0; i < 2000; i += 1) {
      const place = { lon: 360 * next() - 180, lat: 164 * next() - 80 };
      const { zone, band, epsg } = value(utmZoneOf(place));
      const [west, east] = zoneEnds(zone, band) as readonly [number, number];
      const [south, north] = bandEnds(band) as readonly [number, number];
      expect(place.lon >= west && place.lon < east && place.lat >= south && place.lat < north).toBe(true);
      // The register's own definition knows the code, in the table, with the hemisphere of the place.
      expect(value(crsOf(epsg)).name).toBe(`WGS 84 / UTM zone ${zone}${place.lat >= 0 ? 'N' : 'S'}`);
    }
  });
});

describe('MGRS', () => {
  it.each(MGRS)('$text is the cell of $easting, $northing in EPSG:$epsg ($source)', (row) => {
    const cell = value(readMgrs(row.text));
    expect(cell).toEqual({ epsg: `EPSG:${row.epsg}`, easting: row.easting, northing: row.northing, sideM: row.sideM });
  });

  it('is read as another program reads it, and written as it writes, the world over', () => {
    const next = seeded(8);
    let differing = 0;
    for (let i = 0; i < 3000; i += 1) {
      const place = { lon: 360 * next() - 180, lat: 164 * next() - 80 };
      const text = value(mgrsText(place, 5));
      // That program works in an approximation and cuts off, so one metre in thousands is the neighbour.
      if (text.replaceAll(' ', '') !== mgrs.forward([place.lon, place.lat], 5)) differing += 1;
      const cell = value(readMgrs(text));
      const middle = value(crsOf(cell.epsg)).toLonLat(cell.easting + 0.5, cell.northing + 0.5);
      expect(geodesicDistanceM(middle, place)).toBeLessThan(0.72);
      const [lon, lat] = mgrs.toPoint(text.replaceAll(' ', '')) as [number, number];
      expect(geodesicDistanceM(middle, { lon, lat })).toBeLessThan(0.5);
    }
    expect(differing).toBeLessThan(6);
  });

  it('cuts off, so that a coarser reference holds every finer one', () => {
    const place = { lon: 10.25, lat: 47.5 };
    const finest = value(mgrsText(place, 5)).split(' ');
    for (const digits of [1, 2, 3, 4]) {
      const coarser = value(mgrsText(place, digits)).split(' ');
      expect(coarser.slice(0, 2)).toEqual(finest.slice(0, 2));
      expect(finest[2]?.startsWith(coarser[2] as string)).toBe(true);
      expect(finest[3]?.startsWith(coarser[3] as string)).toBe(true);
    }
    expect(value(mgrsText(place, 0))).toBe(finest.slice(0, 2).join(' '));
  });

  it.each([
    ['32TNT941416148', 'mgrs_digits'],
    ['32TNT 94141 6148', 'mgrs_digits'],
    ['32TNT941411614861', 'mgrs_digits'],
    ['32TAT9414161486', 'mgrs_square'],
    ['32INT9414161486', 'mgrs_square'],
    ['32UNT9414161486', 'mgrs_square'],
    ['61TNT9414161486', 'mgrs_square'],
    ['34XNT9414161486', 'mgrs_square'],
    ['ZAH0000000000', 'mgrs_polar'],
    ['hello', 'mgrs_square'],
  ])('%s is refused: %s', (text, code) => {
    expect(readMgrs(text)).toMatchObject({ ok: false, code });
  });

  it('is not seen in other spellings of places', () => {
    for (const text of ['32N 500000 5200000', '47 30 N 10 15 E', '47.5N 10E', 'N47 E10']) {
      expect(looksLikeMgrs(text)).toBe(false);
    }
  });
});
