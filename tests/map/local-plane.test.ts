import fc from 'fast-check';
import proj4 from 'proj4';
import { describe, expect, it } from 'vitest';
import { localPlane } from '../../src/map/local-plane';

const place = fc.record({
  lon: fc.double({ min: -179, max: 179, noNaN: true }),
  lat: fc.double({ min: -70, max: 70, noNaN: true }),
  eastM: fc.double({ min: -5000, max: 5000, noNaN: true }),
  northM: fc.double({ min: -5000, max: 5000, noNaN: true }),
});

describe('the drawing plane', () => {
  it('agrees with the transverse Mercator of proj4 within two centimetres, 5 km either way', () => {
    fc.assert(
      fc.property(place, ({ lon, lat, eastM, northM }) => {
        const plane = localPlane(lon, lat);
        const there = plane.toLonLat(eastM, northM);
        const projected = proj4(`+proj=tmerc +lat_0=${lat} +lon_0=${lon} +k=1 +ellps=WGS84 +units=m`, 'EPSG:4326', [
          eastM,
          northM,
        ]);
        const northError = (there.lat - (projected[1] ?? Number.NaN)) * 111_000;
        const eastError = (there.lon - (projected[0] ?? Number.NaN)) * 111_000 * Math.cos((lat * Math.PI) / 180);
        expect(Math.hypot(northError, eastError)).toBeLessThan(0.02);
      }),
      { numRuns: 1000 },
    );
  });

  it('comes back to where it started', () => {
    fc.assert(
      fc.property(place, ({ lon, lat, eastM, northM }) => {
        const plane = localPlane(lon, lat);
        const there = plane.toLonLat(eastM, northM);
        const back = plane.toPlane(there.lon, there.lat);
        expect(Math.hypot(back.eastM - eastM, back.northM - northM)).toBeLessThan(1e-4);
      }),
    );
  });

  it('does not jump where longitudes turn over', () => {
    const plane = localPlane(179.999, -16);
    expect(plane.toPlane(-179.999, -16).eastM).toBeCloseTo(214.1, 0);
    expect(plane.toLonLat(300, 0).lon).toBeLessThan(-179.99);
  });
});
