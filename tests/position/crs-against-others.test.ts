import geodesic from 'geographiclib-geodesic';
import { describe, expect, it } from 'vitest';
import { type Crs, crsOf, localPlane } from '../../src/position/crs';
import { projectByGdal } from '../helpers/gdal-transform';
import { seeded } from '../helpers/made-survey';
import { COMPARED, PROJ_ACROSS, PROJ_VECTORS } from '../reference/projections';

function crs(epsg: number): Crs {
  const found = crsOf(`EPSG:${epsg}`);
  if (!found.ok) throw new Error(found.sentence);
  return found.value;
}

const apart = (p: readonly [number, number], q: readonly [number, number]): number =>
  Math.hypot(p[0] - q[0], p[1] - q[1]);

describe('coordinate systems, against what PROJ is tested by', () => {
  it.each(PROJ_VECTORS)('EPSG:$epsg has $lon, $lat at $x, $y ($source)', ({ epsg, lon, lat, x, y, toleranceM }) => {
    expect(apart(crs(epsg).fromLonLat(lon, lat), [x, y])).toBeLessThan(toleranceM);
    const back = crs(epsg).toLonLat(x, y);
    const metresPerDegree = 111_320;
    expect(Math.abs(back.lat - lat) * metresPerDegree).toBeLessThan(toleranceM);
    expect(Math.abs(back.lon - lon) * metresPerDegree * Math.cos((lat * Math.PI) / 180)).toBeLessThan(toleranceM);
  });

  it('bring one projected system to another', () => {
    const { from, to, toleranceM } = PROJ_ACROSS;
    const { lon, lat } = crs(from.epsg).toLonLat(from.x, from.y);
    expect(apart(crs(to.epsg).fromLonLat(lon, lat), [to.x, to.y])).toBeLessThan(toleranceM);
  });

  it('shift an older datum as PROJ does', () => {
    const { epsg, x, y, lon, lat, toleranceDeg } = PROJ_ACROSS.ggrs87;
    const found = crs(epsg).toLonLat(x, y);
    expect(Math.abs(found.lon - lon)).toBeLessThan(toleranceDeg);
    expect(Math.abs(found.lat - lat)).toBeLessThan(toleranceDeg);
  });
});

describe('coordinate systems, against PROJ itself at random places', () => {
  it.each(COMPARED)('EPSG:$epsg agrees to a millimetre', async ({ epsg, area: [west, east, south, north] }) => {
    const next = seeded(epsg);
    const places = Array.from(
      { length: 40 },
      () => [west + (east - west) * next(), south + (north - south) * next()] as const,
    );
    const { fromLonLat, unit } = crs(epsg);
    const theirs = await projectByGdal(places, `EPSG:${epsg}`);
    // A thousandth of a foot is less than a millimetre too.
    expect(unit).not.toBe('degree');
    places.forEach(([lon, lat], i) => {
      expect(apart(fromLonLat(lon, lat), theirs[i] as readonly [number, number])).toBeLessThan(0.001);
    });
  });
});

describe('the plane of a line, against geodesics', () => {
  const { WGS84 } = geodesic.Geodesic;
  const planeError = (lat: number, lon: number, spread: number, next: () => number): number => {
    const plane = localPlane(lon, lat);
    const ends = [0, 1].map(() => WGS84.Direct(lat, lon, 360 * next(), spread * next()));
    const [from, to] = ends as [(typeof ends)[number], (typeof ends)[number]];
    const [x, y] = plane.toPlane(from.lon2 as number, from.lat2 as number);
    const [u, v] = plane.toPlane(to.lon2 as number, to.lat2 as number);
    const length = WGS84.Inverse(from.lat2 as number, from.lon2 as number, to.lat2 as number, to.lon2 as number).s12;
    return Math.abs(Math.hypot(x - u, y - v) - (length as number));
  };

  it('keeps every length within 2.5 km of its middle to a millimetre, the world over', () => {
    const next = seeded(1);
    for (let i = 0; i < 1500; i += 1) {
      expect(planeError((Math.asin(2 * next() - 1) * 180) / Math.PI, 360 * next() - 180, 2500, next)).toBeLessThan(
        0.001,
      );
    }
  });

  it('keeps them at the poles, at 180° and at the equator', () => {
    const next = seeded(2);
    for (const [lat, lon] of [
      [90, 0],
      [-90, 0],
      [89.99, 120],
      [-89.99, -45],
      [0, 180],
      [0, -180],
      [-16.5, 179.999],
      [65, -179.9999],
      [0, 0],
    ] as const) {
      for (let i = 0; i < 60; i += 1) expect(planeError(lat, lon, 2500, next)).toBeLessThan(0.001);
    }
  });

  it('stretches lengths 5 km from its middle by no more than theory says', () => {
    // Scale 1 + x² / 2R² at x = 5 km: 3.1e-7, so up to 1.6 mm for a line of 5 km along the edge.
    const next = seeded(3);
    for (let i = 0; i < 500; i += 1) {
      const error = planeError(160 * next() - 80, 360 * next() - 180, 5000, next);
      expect(error).toBeLessThan(0.0035);
    }
  });

  it('brings back what it took, to a thousandth of a millimetre', () => {
    const next = seeded(4);
    for (let i = 0; i < 500; i += 1) {
      const plane = localPlane(360 * next() - 180, 170 * next() - 85);
      const [x, y] = [10_000 * next() - 5000, 10_000 * next() - 5000];
      const { lon, lat } = plane.toLonLat(x, y);
      expect(apart(plane.toPlane(lon, lat), [x, y])).toBeLessThan(1e-6);
    }
  });
});
