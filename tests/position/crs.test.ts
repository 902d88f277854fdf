import { readFileSync } from 'node:fs';
import proj4 from 'proj4';
import { describe, expect, it } from 'vitest';
import { EPSG_TABLE_PATH, epsgTableText } from '../../src/cli/build/epsg-table';
import { crsOf, datumUncertaintyOf, localPlane, toLonLat } from '../../src/position/crs';
import { azimuthDeg, geodesicDestination, geodesicDistanceM } from '../../src/position/geodesic';
import { EPSG_GN7_2_TM, GEODESIC_INVERSE, GEODESIC_SHORT, UTM } from '../reference/geodesy';

describe('the ellipsoid', () => {
  it.each(GEODESIC_INVERSE)('measures the line of the $what', (row) => {
    const from = { lat: row.from[0], lon: row.from[1] };
    const to = { lat: row.to[0], lon: row.to[1] };
    expect(Math.abs(geodesicDistanceM(from, to) - row.distanceM)).toBeLessThan(row.toleranceM);
    if ('azimuthDeg' in row) expect(azimuthDeg(from, to)).toBeCloseTo(row.azimuthDeg, 7);
  });

  it.each(GEODESIC_SHORT)(
    'walks $distanceM m at $azimuthDeg° from $from',
    ({ from, azimuthDeg: azimuth, distanceM, to }) => {
      const end = geodesicDestination({ lat: from[0], lon: from[1] }, azimuth, distanceM);
      expect(end.lat).toBeCloseTo(to[0], 9);
      expect(end.lon).toBeCloseTo(to[1], 9);
    },
  );
});

describe('coordinate systems', () => {
  it.each(UTM)('brings $lat, $lon to EPSG:$epsg and back', ({ lat, lon, epsg, easting, northing, digits }) => {
    const crs = crsOf(`EPSG:${epsg}`);
    if (!crs.ok) throw new Error(crs.sentence);
    const [x, y] = crs.value.fromLonLat(lon, lat);
    expect(x).toBeCloseTo(easting, digits);
    expect(y).toBeCloseTo(northing, digits);
    const back = crs.value.toLonLat(x, y);
    expect(back.lon).toBeCloseTo(lon, 9);
    expect(back.lat).toBeCloseTo(lat, 9);
  });

  it('rest on an engine that meets the worked example of EPSG Guidance Note 7-2', () => {
    const { definition, lat, lon, easting, northing } = EPSG_GN7_2_TM;
    const [x = 0, y = 0] = proj4('+proj=longlat +a=6377563.396 +rf=299.32496', definition, [lon, lat]);
    // The note prints centimetres; PROJ and proj4js give 577274.98883, 69740.49707 with the note's own k0.
    expect(Math.abs(x - easting)).toBeLessThan(0.006);
    expect(Math.abs(y - northing)).toBeLessThan(0.006);
  });

  it('are refused by name when they need a datum grid that is not here', () => {
    const crs = crsOf('EPSG:27700');
    expect(crs).toMatchObject({ ok: false, code: 'crs_needs_grid' });
    expect(crs.ok || crs.sentence).toContain('British National Grid');
  });

  it('are refused when nobody knows them', () => {
    expect(crsOf('EPSG:999999')).toMatchObject({ ok: false, code: 'unknown_crs' });
    expect(crsOf('UTM 15N')).toMatchObject({ ok: false, code: 'unknown_crs' });
  });

  it('add the metre or two of a datum that is not WGS 84', () => {
    expect(datumUncertaintyOf('EPSG:4326')).toBe(0);
    expect(datumUncertaintyOf('EPSG:32615')).toBe(0);
    expect(datumUncertaintyOf('EPSG:26915')).toBe(2);
    expect(datumUncertaintyOf('EPSG:31254')).toBe(5);
  });

  it('stand in a table that the EPSG register still gives', () => {
    expect(epsgTableText() === readFileSync(EPSG_TABLE_PATH, 'utf8')).toBe(true);
  });
});

describe('a local grid', () => {
  const grid = { name: 'field', unit: 'ft' as const, origin_lon: -91.9, origin_lat: 37.4, bearing_deg: 30 };

  it('turns its axes clockwise by its bearing and counts in its unit', () => {
    const place = toLonLat({ x: 0, y: 1000, crs: 'grid:field' }, [grid]);
    if (!place.ok) throw new Error(place.sentence);
    const origin = { lon: -91.9, lat: 37.4 };
    expect(geodesicDistanceM(origin, place.value)).toBeCloseTo(304.8, 4);
    expect(azimuthDeg(origin, place.value)).toBeCloseTo(30, 5);
  });

  it('is refused when the site does not have it', () => {
    expect(toLonLat({ x: 0, y: 0, crs: 'grid:other' }, [grid])).toMatchObject({ ok: false, code: 'unknown_grid' });
  });
});

describe('the plane of a line', () => {
  it('keeps ellipsoid lengths to a tenth of a millimetre within 2.5 km, at any latitude and across 180°', () => {
    for (const [lon, lat] of [
      [14.5, 46.05],
      [-91.9, 37.4],
      [179.9995, -16.5],
      [10, 71],
      [0, 0],
    ] as const) {
      const plane = localPlane(lon, lat);
      for (const azimuth of [0, 37, 90, 200, 311]) {
        const end = geodesicDestination({ lon, lat }, azimuth, 2500);
        const [x, y] = plane.toPlane(end.lon, end.lat);
        expect(Math.abs(Math.hypot(x, y) - 2500)).toBeLessThan(1e-4);
      }
    }
  });

  it('refuses what is not on the Earth', () => {
    expect(toLonLat({ x: 37.4, y: -91.9, crs: 'EPSG:4326' }, [])).toMatchObject({ ok: false, code: 'outside_crs' });
  });
});
