import { Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import type { TrueBearing } from '../../src/position/bearings';
import { type Covariance, circular } from '../../src/position/covariance';
import { localPlane } from '../../src/position/crs';
import { geodesicDestination, geodesicDistanceM } from '../../src/position/geodesic';
import { closedTraverse, openTraverse, type TraverseLeg } from '../../src/position/traverse';
import { seeded } from '../helpers/made-survey';
import { TRAVERSES } from '../reference/traverses';

const sure = { lon: 0, lat: 0, covariance: circular(0) };
const bearing = (azimuthDeg: number, readingSigmaDeg = 1, sharedSigmaDeg = 0): TrueBearing => ({
  azimuthDeg,
  readingSigmaDeg,
  sharedSigmaDeg,
  sigmaDeg: Math.hypot(readingSigmaDeg, sharedSigmaDeg),
  correctionDeg: 0,
});
const leg = (azimuthDeg: number, distanceM: number, slopeDeg: number | null = null): TraverseLeg => ({
  bearing: bearing(azimuthDeg),
  distanceM,
  slopeDeg,
});

function value<T>(outcome: { ok: true; value: T } | { ok: false; sentence: string }): T {
  if (!outcome.ok) throw new Error(outcome.sentence);
  return outcome.value;
}

describe('a closed traverse', () => {
  // On the equator a plane's north is true north everywhere, as on the paper of the text.
  const plane = localPlane(0, 0);

  it.each(TRAVERSES)('meets the text: $what', ({ legs, end, misclosure, length, ratio }) => {
    const known = { ...plane.toLonLat(end[1], end[0]), covariance: circular(0) };
    const walked = value(
      closedTraverse(
        sure,
        legs.map(({ azimuth: [deg, min, sec], length: distance }) => leg(deg + min / 60 + sec / 3600, distance)),
        end[0] === 0 && end[1] === 0 ? 'start' : known,
      ),
    );
    const at = (vertex: { lon: number; lat: number }) => plane.toPlane(vertex.lon, vertex.lat);
    const steps = (vertices: readonly { lon: number; lat: number }[]) =>
      vertices.slice(1).map((vertex, i) => {
        const [[x, y], [px, py]] = [at(vertex), at(vertices[i] as { lon: number; lat: number })];
        return { east: x - px, north: y - py };
      });
    const raw = steps(walked.vertices);
    const adjusted = steps(walked.adjusted);
    // The text rounds every line to 0.001, so sums and their shares may be a last digit off.
    legs.forEach((row, i) => {
      expect(Math.abs((raw[i]?.north ?? Number.NaN) - row.latitude)).toBeLessThan(0.00061);
      expect(Math.abs((raw[i]?.east ?? Number.NaN) - row.departure)).toBeLessThan(0.00061);
      if (row.adjustedLatitude === null || row.adjustedDeparture === null) return;
      expect(Math.abs((adjusted[i]?.north ?? Number.NaN) - row.adjustedLatitude)).toBeLessThan(0.0016);
      expect(Math.abs((adjusted[i]?.east ?? Number.NaN) - row.adjustedDeparture)).toBeLessThan(0.0016);
    });
    expect(Math.abs(walked.closure.northM - misclosure[0])).toBeLessThan(0.0016);
    expect(Math.abs(walked.closure.eastM - misclosure[1])).toBeLessThan(0.0016);
    expect(walked.closure.perimeterM).toBeCloseTo(length, 6);
    // The text divides by its misclosure rounded to 0.001, so its n is good to a hundredth of itself.
    if (ratio !== null) expect(Math.abs((walked.closure.ratio ?? 0) / ratio - 1)).toBeLessThan(0.01);
    const last = at(walked.adjusted.at(-1) as { lon: number; lat: number });
    expect(last[0]).toBeCloseTo(end[1], 6);
    expect(last[1]).toBeCloseTo(end[0], 6);
  });

  it('is adjusted as least squares do where the variance of a leg grows with its length alike in all directions', () => {
    const next = seeded(7);
    for (let round = 0; round < 20; round += 1) {
      const legs = Array.from({ length: 3 + Math.floor(5 * next()) }, () => leg(360 * next(), 5 + 40 * next()));
      const known = { ...plane.toLonLat(30 * next(), 30 * next()), covariance: circular(0) };
      const walked = value(closedTraverse(sure, legs, known));
      const [knownX, knownY] = plane.toPlane(known.lon, known.lat);
      // Minimise Σ (d_i - l_i)² / L_i under Σ d_i = known, by the normal equations with a multiplier.
      const size = legs.length;
      const normal = Matrix.zeros(size + 1, size + 1);
      const rightX = Matrix.zeros(size + 1, 1);
      const rightY = Matrix.zeros(size + 1, 1);
      legs.forEach(({ distanceM, bearing: { azimuthDeg } }, i) => {
        normal.set(i, i, 1 / distanceM);
        normal.set(i, size, 1);
        normal.set(size, i, 1);
        rightX.set(i, 0, Math.sin((azimuthDeg * Math.PI) / 180));
        rightY.set(i, 0, Math.cos((azimuthDeg * Math.PI) / 180));
      });
      rightX.set(size, 0, knownX);
      rightY.set(size, 0, knownY);
      const [solvedX, solvedY] = [solve(normal, rightX), solve(normal, rightY)];
      let [x, y] = [0, 0];
      legs.forEach((_, i) => {
        x += solvedX.get(i, 0);
        y += solvedY.get(i, 0);
        const vertex = walked.adjusted[i + 1] as { lon: number; lat: number };
        const [vx, vy] = plane.toPlane(vertex.lon, vertex.lat);
        expect(Math.abs(vx - x)).toBeLessThan(1e-6);
        expect(Math.abs(vy - y)).toBeLessThan(1e-6);
      });
    }
  });

  it('that closes exactly has no ratio, and its vertices stay', () => {
    const square = [0, 90, 180, 270].map((azimuth) => leg(azimuth, 25));
    const walked = value(closedTraverse(sure, square, 'start'));
    expect(walked.closure.misclosureM).toBeLessThan(1e-6);
    walked.adjusted.forEach((vertex, i) => {
      const same = walked.vertices[i] as { lon: number; lat: number };
      expect(geodesicDistanceM(vertex, same)).toBeLessThan(1e-6);
    });
  });

  it('distributes the heights too, and says how far they miss', () => {
    const legs = [leg(0, 20, 10), leg(120, 20, -2), leg(240, 20, -6)];
    const { closure, adjusted } = value(closedTraverse(sure, legs, 'start'));
    const rise = 20 * (Math.sin(Math.PI / 18) - Math.sin(Math.PI / 90) - Math.sin(Math.PI / 30));
    expect(closure.riseM).toBeCloseTo(rise, 9);
    expect(adjusted.at(-1)?.riseM).toBeCloseTo(0, 9);
    expect(closure.perimeterM).toBeCloseTo(
      20 * (Math.cos(Math.PI / 18) + Math.cos(Math.PI / 90) + Math.cos(Math.PI / 30)),
      9,
    );
  });

  it('tells a mistake from a common misclosure', () => {
    const square = [0, 90, 180, 270].map((azimuth) => leg(azimuth, 25));
    const slip = [leg(0, 25), leg(90, 25), leg(180, 25), leg(240, 25)];
    expect(value(closedTraverse(sure, square, 'start')).closure.sigmas).toBeLessThan(1);
    expect(value(closedTraverse(sure, slip, 'start')).closure.sigmas).toBeGreaterThan(5);
  });
});

describe('an open traverse', () => {
  it('follows true bearings on the ellipsoid, wherever it begins', () => {
    for (const start of [
      { lon: 14.5, lat: 46.05 },
      { lon: 179.999, lat: -16.5 },
      { lon: 20, lat: 71 },
    ]) {
      let at = start;
      const legs = [leg(33, 200), leg(100, 400), leg(350, 300)];
      for (const {
        bearing: { azimuthDeg },
        distanceM,
      } of legs)
        at = geodesicDestination(at, azimuthDeg, distanceM);
      const { vertices } = value(openTraverse({ ...start, covariance: circular(0) }, legs));
      expect(geodesicDistanceM(vertices.at(-1) as { lon: number; lat: number }, at)).toBeLessThan(0.01);
    }
  });

  it('lays slope distances level (20 m on 10°, 20°, 30° are 19.696, 18.794, 17.321 m)', () => {
    for (const [slope, level] of [
      [10, 19.696],
      [20, 18.794],
      [30, 17.321],
    ] as const) {
      const { vertices } = value(openTraverse(sure, [leg(0, 20, slope)]));
      expect(vertices[1]?.walkedM).toBeCloseTo(level, 3);
      expect(vertices[1]?.riseM).toBeCloseTo(20 * Math.sin((slope * Math.PI) / 180), 9);
    }
  });

  it('refuses a leg of no length and a slope in per cent', () => {
    expect(openTraverse(sure, [leg(0, 0)])).toMatchObject({ ok: false, code: 'distance_not_positive' });
    expect(openTraverse(sure, [leg(0, 20, 100)])).toMatchObject({ ok: false, code: 'slope_too_steep' });
  });
});

/** Scatter of many traverses with errors drawn at random, by which the stated covariances are judged. */
describe('the covariance of a traverse', () => {
  const plane = localPlane(0, 0);
  const azimuths = [20, 75, 140, 260];
  const next = seeded(99);
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
  const legsOf = (noisy: boolean): TraverseLeg[] => {
    const turn = noisy ? 0.5 * normal() : 0;
    return azimuths.map((azimuth) => {
      const distance = 30 + (noisy ? Math.hypot(0.01, 0.003 * 30) * normal() : 0);
      return { bearing: bearing(azimuth + turn + (noisy ? normal() : 0), 1, 0.5), distanceM: distance, slopeDeg: null };
    });
  };
  const end = plane.toLonLat(11, -3);

  function scatter(of: () => { lon: number; lat: number }): Covariance {
    const points = Array.from({ length: 4000 }, () => {
      const { lon, lat } = of();
      return plane.toPlane(lon, lat);
    });
    const mean = (k: 0 | 1) => points.reduce((total, point) => total + point[k], 0) / points.length;
    const [mx, my] = [mean(0), mean(1)];
    const product = (f: (x: number, y: number) => number) =>
      points.reduce((total, [x, y]) => total + f(x - mx, y - my), 0) / points.length;
    return { xx: product((x) => x * x), xy: product((x, y) => x * y), yy: product((_, y) => y * y) };
  }

  it.each([2, 4])('is that of repeated walks, open and closed, at vertex %i', (vertex) => {
    const open = value(openTraverse(sure, legsOf(false))).vertices[vertex]?.covariance as Covariance;
    const seen = scatter(
      () => value(openTraverse(sure, legsOf(true))).vertices[vertex] as { lon: number; lat: number },
    );
    for (const key of ['xx', 'yy'] as const) expect(seen[key] / open[key]).toBeGreaterThan(0.9);
    for (const key of ['xx', 'yy'] as const) expect(seen[key] / open[key]).toBeLessThan(1.1);
    expect(Math.abs(seen.xy - open.xy)).toBeLessThan(0.1 * Math.sqrt(open.xx * open.yy));

    const known = { ...end, covariance: circular(0.2) };
    const closed = value(closedTraverse(sure, legsOf(false), known)).adjusted[vertex]?.covariance as Covariance;
    const closedSeen = scatter(() => {
      const [x, y] = plane.toPlane(end.lon, end.lat);
      const off = { ...plane.toLonLat(x + 0.2 * normal(), y + 0.2 * normal()), covariance: circular(0.2) };
      return value(closedTraverse(sure, legsOf(true), off)).adjusted[vertex] as { lon: number; lat: number };
    });
    for (const key of ['xx', 'yy'] as const) expect(closedSeen[key] / closed[key]).toBeGreaterThan(0.9);
    for (const key of ['xx', 'yy'] as const) expect(closedSeen[key] / closed[key]).toBeLessThan(1.1);
  });
});
