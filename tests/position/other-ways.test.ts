import { describe, expect, it } from 'vitest';
import { trueBearing } from '../../src/position/bearings';
import { placeByBearing } from '../../src/position/by-bearing';
import { gridConvergenceDeg, planeConvergenceDeg } from '../../src/position/convergence';
import { type Covariance, circular, type UncertainPlace, varianceTowards } from '../../src/position/covariance';
import { localPlane } from '../../src/position/crs';
import { azimuthDeg, geodesicDestination, geodesicDistanceM } from '../../src/position/geodesic';
import { placeByOffset } from '../../src/position/offset';
import { placeByTwoTapes } from '../../src/position/two-tapes';
import { uncertainPlaceOf } from '../../src/position/uncertain-place';
import { seeded } from '../helpers/made-survey';
import { CONVERGENCE } from '../reference/projections';

const here = { lon: -91.9, lat: 37.4, covariance: circular(0) };

function value<T>(outcome: { ok: true; value: T } | { ok: false; sentence: string }): T {
  if (!outcome.ok) throw new Error(outcome.sentence);
  return outcome.value;
}

describe('grid convergence', () => {
  it.each(CONVERGENCE)('of EPSG:$epsg at $lat, $lon is $deg° ($source)', ({ epsg, lat, lon, deg, tolerance }) => {
    const found = value(gridConvergenceDeg(`EPSG:${epsg}`, { lon, lat }, []));
    expect(Math.abs(found - deg)).toBeLessThan(tolerance);
  });

  it('of a conical grid is the cone constant times the longitude from its middle', () => {
    // Lambert-93: sin of the cone = (sin of its standard parallels between), n = 0.7256077650 (IGN, value from memory).
    const east = value(gridConvergenceDeg('EPSG:2154', { lon: 6, lat: 45 }, []));
    expect(Math.abs(east - 3 * 0.725607765)).toBeLessThan(1e-5);
    expect(value(gridConvergenceDeg('EPSG:2154', { lon: 3, lat: 48 }, []))).toBeCloseTo(0, 7);
  });

  it('of a local grid is its bearing', () => {
    const grid = { name: 'field', unit: 'ft' as const, origin_lon: -91.9, origin_lat: 37.4, bearing_deg: 330 };
    expect(value(gridConvergenceDeg('grid:field', here, [grid]))).toBeCloseTo(-30, 6);
    expect(gridConvergenceDeg('grid:other', here, [grid])).toMatchObject({ ok: false, code: 'unknown_grid' });
  });

  it('is refused for degrees and for a place that the projection does not reach', () => {
    expect(gridConvergenceDeg('EPSG:4326', here, [])).toMatchObject({ ok: false, code: 'not_a_grid' });
    expect(gridConvergenceDeg('EPSG:3857', { lon: 0, lat: 90 }, [])).toMatchObject({ ok: false, code: 'outside_crs' });
  });

  it('of the plane of a line is nothing in its middle', () => {
    const plane = localPlane(14.5, 46.05);
    expect(planeConvergenceDeg(plane, 0, 0)).toBeCloseTo(0, 8);
    // One kilometre east at 46.05° N: Δλ sin φ = 0.0129210° · 0.719946 = 0.0093024°.
    expect(planeConvergenceDeg(plane, 1000, 0)).toBeCloseTo(0.0093024, 6);
  });
});

describe('a bearing', () => {
  it('true by itself stays, and is as sure as its reading', () => {
    const found = value(trueBearing({ bearingDeg: 33, reference: 'true' }, here));
    expect(found).toMatchObject({ azimuthDeg: 33, correctionDeg: 0, sharedSigmaDeg: 0, sigmaDeg: 1 });
  });

  it('magnetic turns by the declination of the day and place', () => {
    // 46.05 N 14.5 E, 2026.5, 0.5 km: 4.74676° by the published coefficients, computed for this project elsewhere.
    const given = { bearingDeg: 358, reference: 'magnetic' as const, date: '2026-07-02' };
    const found = value(trueBearing(given, { lon: 14.5, lat: 46.05 }, { heightM: 500 }));
    expect(found.azimuthDeg).toBeCloseTo(2.747, 2);
    expect(found.sigmaDeg).toBeCloseTo(Math.hypot(1, found.sharedSigmaDeg), 9);
    expect(found.sharedSigmaDeg).toBeGreaterThan(0.3);
  });

  it('of a grid turns by its convergence', () => {
    const given = { bearingDeg: 0, reference: 'grid' as const, crs: 'EPSG:32616' };
    expect(value(trueBearing(given, { lon: -86.1, lat: 37.2 })).azimuthDeg).toBeCloseTo(0.544168, 5);
    const west = value(trueBearing({ ...given, bearingDeg: 0.1 }, { lon: -87.9, lat: 37.2 }));
    expect(west.azimuthDeg).toBeCloseTo(360.1 - 0.544168, 5);
  });

  it.each([
    [{ bearingDeg: 10, reference: 'magnetic' as const }, 'bearing_needs_date'],
    [{ bearingDeg: 10, reference: 'magnetic' as const, date: 'in spring' }, 'bearing_needs_date'],
    [{ bearingDeg: 10, reference: 'magnetic' as const, date: '2019-05-01' }, 'declination_years'],
    [{ bearingDeg: 10, reference: 'grid' as const }, 'bearing_needs_grid'],
    [{ bearingDeg: 400, reference: 'true' as const }, 'not_a_bearing'],
    [{ bearingDeg: Number.NaN, reference: 'true' as const }, 'not_a_bearing'],
  ])('%o is refused: %s', (given, code) => {
    expect(trueBearing(given, here)).toMatchObject({ ok: false, code });
  });
});

describe('a place by bearing and tape', () => {
  const bearing = value(trueBearing({ bearingDeg: 33, reference: 'true' }, here));

  it('lies where the ellipsoid says', () => {
    const start = { lon: -86.1, lat: 37.2, covariance: circular(0) };
    const found = value(placeByBearing(start, bearing, { distanceM: 100, slopeDeg: null }));
    expect(found.lat).toBeCloseTo(37.2007556841, 9);
    expect(found.lon).toBeCloseTo(-86.0993865096, 9);
  });

  it('is unsure across by the bearing and along by the tape', () => {
    const found = value(placeByBearing(here, bearing, { distanceM: 50, slopeDeg: null }));
    // 1° across 50 m = 0.8727 m; tape √(0.01² + 0.15²) = 0.15033 m.
    expect(Math.sqrt(varianceTowards(found.covariance, 33 + 90))).toBeCloseTo(0.8727, 4);
    expect(Math.sqrt(varianceTowards(found.covariance, 33))).toBeCloseTo(0.15033, 4);
  });
});

describe('a position of the record', () => {
  it('starts a tape with the scatter that it claims', () => {
    const position = { x: -91.9, y: 37.4, crs: 'EPSG:4326', accuracy_m: 5, accuracy_level: 95 as const };
    const found = value(uncertainPlaceOf(position, []));
    expect(found).toMatchObject({ lon: -91.9, lat: 37.4 });
    // 95 % of a round scatter lie within 2.4477 standard deviations.
    expect(Math.sqrt(found.covariance.xx)).toBeCloseTo(5 / 2.4477, 3);
    expect(found.covariance.xy).toBe(0);
    expect(uncertainPlaceOf({ ...position, crs: 'EPSG:27700' }, [])).toMatchObject({
      ok: false,
      code: 'crs_needs_grid',
    });
  });
});

describe('a place by an offset', () => {
  const baseAt = (chainageM: number) => ({
    ...geodesicDestination(here, 60, chainageM),
    covariance: circular(0.5),
    azimuthDeg: 60,
  });

  it('lies at right angles to the base line, to the right when positive', () => {
    for (const [offsetM, direction] of [
      [12, 150],
      [-12, 330],
    ] as const) {
      const found = placeByOffset(baseAt, 40, offsetM);
      expect(geodesicDistanceM(baseAt(40), found)).toBeCloseTo(12, 6);
      expect(azimuthDeg(baseAt(40), found)).toBeCloseTo(direction, 3);
    }
  });

  it('is unsure along the base by the angle and across it by the tape, over what the base is', () => {
    const { covariance } = placeByOffset(baseAt, 40, 12);
    // 2° of 12 m = 0.41888 m; tape √(0.01² + 0.036²) = 0.03736 m; base 0.5 m.
    expect(Math.sqrt(varianceTowards(covariance, 60))).toBeCloseTo(Math.hypot(0.5, 0.41888), 4);
    expect(Math.sqrt(varianceTowards(covariance, 150))).toBeCloseTo(Math.hypot(0.5, 0.03736), 4);
    expect(placeByOffset(baseAt, 40, 0).covariance).toEqual(circular(0.5));
  });
});

describe('a place by two tapes', () => {
  const plane = localPlane(here.lon, here.lat);
  const at = (x: number, y: number, sigmaM = 0): UncertainPlace => ({
    ...plane.toLonLat(x, y),
    covariance: circular(sigmaM),
  });

  it('closes a triangle of 3, 4 and 5 on either side, seen from the first point', () => {
    for (const [side, east] of [
      ['right', 3],
      ['left', -3],
    ] as const) {
      const found = value(placeByTwoTapes(at(0, 0), 3, at(0, 4), 5, side));
      const [x, y] = plane.toPlane(found.lon, found.lat);
      expect(x).toBeCloseTo(east, 6);
      expect(y).toBeCloseTo(0, 6);
    }
  });

  it('is at both its distances, whatever the geometry, also across 180°', () => {
    const next = seeded(5);
    for (let i = 0; i < 200; i += 1) {
      const first = { lon: i % 2 ? 179.99999 : 14.5, lat: 140 * next() - 70, covariance: circular(0) };
      const base = 5 + 45 * next();
      const second = { ...geodesicDestination(first, 360 * next(), base), covariance: circular(0) };
      const r1 = base * (0.3 + next());
      const r2 = Math.abs(base - r1) + (base + r1 - Math.abs(base - r1)) * (0.02 + 0.96 * next());
      for (const side of ['left', 'right'] as const) {
        const found = value(placeByTwoTapes(first, r1, second, r2, side));
        expect(geodesicDistanceM(first, found)).toBeCloseTo(r1, 5);
        expect(geodesicDistanceM(second, found)).toBeCloseTo(r2, 5);
        const turn = ((azimuthDeg(first, found) - azimuthDeg(first, second) + 540) % 360) - 180;
        expect(Math.sign(turn)).toBe(side === 'right' ? 1 : -1);
      }
    }
  });

  it('says by how many metres tapes do not meet', () => {
    const short = placeByTwoTapes(at(0, 0), 4, at(12, 0), 5.5, 'left');
    expect(short).toMatchObject({ ok: false, code: 'tapes_too_short' });
    expect(short.ok || short.sentence).toContain('2.5 m too short');
    const unequal = placeByTwoTapes(at(0, 0), 4, at(3, 0), 10, 'left');
    expect(unequal).toMatchObject({ ok: false, code: 'tapes_too_unequal' });
    expect(unequal.ok || unequal.sentence).toContain('second tape is 3 m too long');
    expect(placeByTwoTapes(at(0, 0), 4, at(0, 0), 4, 'left')).toMatchObject({ ok: false, code: 'points_too_near' });
    expect(placeByTwoTapes(at(0, 0), 0, at(3, 0), 4, 'left')).toMatchObject({
      ok: false,
      code: 'distance_not_positive',
    });
  });

  it('is as sure as repeated tapings scatter, known points included', () => {
    const next = seeded(11);
    const normal = (): number => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
    const sigma = (distanceM: number) => Math.hypot(0.01, 0.003 * distanceM);
    const cases = [
      { base: [30, 10], r1: 22, r2: 25, known: 0.05 },
      { base: [-20, 15], r1: 30, r2: 12, known: 0 },
      { base: [40, 0], r1: 24, r2: 20, known: 0.02 },
    ] as const;
    for (const { base, r1, r2, known } of cases) {
      const stated = value(placeByTwoTapes(at(0, 0, known), r1, at(base[0], base[1], known), r2, 'left')).covariance;
      const points = Array.from({ length: 5000 }, () => {
        const first = at(known * normal(), known * normal());
        const second = at(base[0] + known * normal(), base[1] + known * normal());
        const found = value(
          placeByTwoTapes(first, r1 + sigma(r1) * normal(), second, r2 + sigma(r2) * normal(), 'left'),
        );
        return plane.toPlane(found.lon, found.lat);
      });
      const seen = scatterOf(points);
      for (const key of ['xx', 'yy'] as const) {
        expect(seen[key] / stated[key]).toBeGreaterThan(0.9);
        expect(seen[key] / stated[key]).toBeLessThan(1.1);
      }
      expect(Math.abs(seen.xy - stated.xy)).toBeLessThan(0.05 * Math.sqrt(stated.xx * stated.yy));
    }
  });

  it('is unsure where the tapes meet at a flat angle, and not without end', () => {
    const worst = ({ xx, xy, yy }: Covariance) => Math.sqrt((xx + yy) / 2 + Math.hypot((xx - yy) / 2, xy));
    const good = value(placeByTwoTapes(at(0, 0), 20, at(28, 0), 20, 'left')).covariance;
    const flat = value(placeByTwoTapes(at(0, 0), 20, at(39.99, 0), 20, 'left')).covariance;
    const touching = value(placeByTwoTapes(at(0, 0), 20, at(39.9999999, 0), 20, 'left')).covariance;
    expect(worst(good)).toBeLessThan(0.1);
    expect(worst(flat)).toBeGreaterThan(10 * worst(good));
    // √(2 r δ): a tape's error of 0.06 m lets the point wander by some 1.3 m across.
    expect(worst(touching)).toBeGreaterThan(1);
    expect(worst(touching)).toBeLessThan(3);
  });

  function scatterOf(points: readonly (readonly [number, number])[]): Covariance {
    const mean = (k: 0 | 1) => points.reduce((total, point) => total + point[k], 0) / points.length;
    const [mx, my] = [mean(0), mean(1)];
    const product = (f: (x: number, y: number) => number) =>
      points.reduce((total, [x, y]) => total + f(x - mx, y - my), 0) / points.length;
    return { xx: product((x) => x * x), xy: product((x, y) => x * y), yy: product((_, y) => y * y) };
  }
});
