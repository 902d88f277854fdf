import geodesic from 'geographiclib-geodesic';
import { describe, expect, it } from 'vitest';
import { countedFeatures } from '../../src/karst/counted';
import { density, kernelDensityAt, quarticKernel } from '../../src/karst/density';
import { convexHull, equalAreaPlane, ringArea } from '../../src/karst/equal-area';
import { testAxes } from '../../src/karst/long-axes';
import { neighbourIndex, neighbourTest, twoSided } from '../../src/karst/nearest-neighbour';
import { SpatialTree } from '../../src/karst/spatial-tree';
import { madeFeature, placed } from './made-features';

const { WGS84 } = geodesic.Geodesic;

/** The generator of Park & Miller (1988), doi 10.1145/63039.63042, so that others can make the same points. */
function parkMiller(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 16807) % 2147483647;
    return state / 2147483647;
  };
}

const nearestInPlane = (points: readonly (readonly [number, number])[]): number[] =>
  points.map(([x, y], i) => Math.min(...points.map(([u, v], j) => (i === j ? Infinity : Math.hypot(u - x, v - y)))));

describe('the nearest-neighbour index', () => {
  /*
   * Computed for this test with scipy 1.17.1 (cKDTree, stats.norm) on 40 points of a rectangle of 100 × 60 from
   * Park & Miller's generator, seed 12345, by the formulae of Clark & Evans (1954) and of Donnelly (1978) as they stand
   * in the documentation of general statistics libraries.
   */
  it('is what an independent library makes of the same points', () => {
    const next = parkMiller(12345);
    const points = Array.from({ length: 40 }, () => [next() * 100, next() * 60] as const);
    const test = neighbourTest(nearestInPlane(points), 6000, 320);
    expect(test.meanDistanceM).toBeCloseTo(5.426200801977262, 12);
    expect(test.clarkEvans.index).toBeCloseTo(0.886094880448344, 12);
    expect(test.clarkEvans.z).toBeCloseTo(-1.378174223052535, 10);
    expect(test.clarkEvans.p).toBeCloseTo(0.16814950376775872, 10);
    expect(test.donnelly.index).toBeCloseTo(0.8238010222888488, 12);
    expect(test.donnelly.z).toBeCloseTo(-1.9499264837529817, 10);
    expect(test.donnelly.p).toBeCloseTo(0.051184882029635316, 10);
  });

  it('of a triangular lattice without an edge is 2.149, the most there is (Clark & Evans 1954)', () => {
    const spacing = 10;
    const area = (n: number): number => n * spacing * spacing * (Math.sqrt(3) / 2);
    expect(neighbourTest(Array(500).fill(spacing), area(500), 0).clarkEvans.index).toBeCloseTo(2.1491, 4);
  });

  it('with its edge corrected is 1 on the mean for places at random, and its z is spread as it says', () => {
    const next = parkMiller(7);
    const runs = Array.from({ length: 400 }, () =>
      neighbourTest(nearestInPlane(Array.from({ length: 60 }, () => [next() * 50, next() * 50] as const)), 2500, 200),
    );
    const mean = (values: number[]): number => values.reduce((sum, each) => sum + each, 0) / values.length;
    const z = runs.map(({ donnelly }) => donnelly.z);
    // 400 runs: the mean of z is known to 0.05, its spread to 3.5 %.
    expect(Math.abs(mean(z))).toBeLessThan(0.2);
    expect(Math.sqrt(mean(z.map((each) => each * each)))).toBeGreaterThan(0.87);
    expect(Math.sqrt(mean(z.map((each) => each * each)))).toBeLessThan(1.13);
    // Without the correction, the same places look spaced out.
    expect(mean(runs.map(({ clarkEvans }) => clarkEvans.z))).toBeGreaterThan(0.5);
  });

  it('has a two-sided chance as the normal distribution gives it', () => {
    // scipy.stats.norm.sf, scipy 1.17.1.
    expect(twoSided(0.5)).toBeCloseTo(0.6170750774519738, 13);
    expect(twoSided(1.96)).toBeCloseTo(0.04999579029644087, 13);
    expect(twoSided(-2.5758293035489)).toBeCloseTo(0.01, 13);
    expect(twoSided(5) / 5.733031437583866e-7).toBeCloseTo(1, 9);
    expect(twoSided(10) / 1.523970604832094e-23).toBeCloseTo(1, 9);
  });

  it('measures geodesics, and the area of its region on the ellipsoid', () => {
    const next = parkMiller(3);
    const places = Array.from({ length: 60 }, () => ({ lon: 14 + next() * 0.3, lat: 45.5 + next() * 0.2 }));
    const ring = [
      { lon: 14, lat: 45.5 },
      { lon: 14.3, lat: 45.5 },
      { lon: 14.3, lat: 45.7 },
      { lon: 14, lat: 45.7 },
    ];
    const index = neighbourIndex(places, { ring });
    const brute = places.map((p) =>
      Math.min(...places.map((q) => (p === q ? Infinity : (WGS84.Inverse(p.lat, p.lon, q.lat, q.lon).s12 as number)))),
    );
    expect(index?.meanDistanceM).toBeCloseTo(brute.reduce((sum, each) => sum + each, 0) / 60, 6);
    const polygon = WGS84.Polygon(false);
    for (const { lon, lat } of ring) polygon.AddPoint(lat, lon);
    // Straight edges of the plane are not geodesics: of a rectangle of 23 km they differ by some square metres in a million.
    expect((index?.areaM2 ?? 0) / (polygon.Compute(false, true).area as number)).toBeCloseTo(1, 5);
  });

  it('is not given for fewer than eight places, or for places in a row', () => {
    const row = Array.from({ length: 9 }, () => ({ lon: 10, lat: 45 }));
    expect(neighbourIndex(row.slice(0, 7))).toBeNull();
    expect(neighbourIndex(row)).toBeNull();
  });
});

describe('the equal-area plane', () => {
  it.each([
    [0, 0],
    [56, 54.7],
    [-91, 37],
    [179.99, -45],
    [20, 80],
  ])('gives areas of the ellipsoid about %d°, %d° as geographiclib does', (lon, lat) => {
    const plane = equalAreaPlane({ lon, lat });
    const polygon = WGS84.Polygon(false);
    const ring = Array.from({ length: 360 }, (_, k) => {
      const { lat2, lon2 } = WGS84.Direct(lat, lon, -k, 40_000 + 10_000 * Math.sin(k / 20));
      polygon.AddPoint(lat2 as number, lon2 as number);
      return plane.toPlane(lon2 as number, lat2 as number);
    });
    const area = polygon.Compute(false, true).area as number;
    expect(Math.abs(ringArea(ring) / area - 1)).toBeLessThan(1e-7);
  });

  it('has a hull that every point is in', () => {
    const next = parkMiller(5);
    const points = Array.from({ length: 200 }, () => [next(), next()] as const);
    const hull = convexHull(points);
    expect(ringArea(hull)).toBeGreaterThan(0);
    for (const [x, y] of points) {
      hull.forEach(([px, py], i) => {
        const [qx, qy] = hull[(i + 1) % hull.length] as readonly [number, number];
        expect((qx - px) * (y - py) - (qy - py) * (x - px)).toBeGreaterThanOrEqual(-1e-12);
      });
    }
  });
});

describe('density', () => {
  it('counts every feature in one cell, and its kernel holds every feature once', () => {
    const next = parkMiller(11);
    const places = Array.from({ length: 300 }, () => ({ lon: 20 + next() * 0.2, lat: 44 + next() * 0.1 }));
    const result = density(places, 250, 1500);
    if (!result) throw new Error('no density');
    const squareKm = 0.0625;
    expect(result.cells.reduce((sum, { count }) => sum + count, 0)).toBe(300);
    expect(result.cells.reduce((sum, { perKm2 }) => sum + perKm2 * squareKm, 0)).toBeCloseTo(300, 9);
    // The middle-point sum of the kernel over cells of a sixth of the bandwidth.
    expect(result.cells.reduce((sum, { kernelPerKm2 }) => sum + (kernelPerKm2 ?? 0) * squareKm, 0)).toBeCloseTo(300, 0);
  });

  it('has cells of the area that they say, on the ellipsoid', () => {
    const result = density(
      [
        { lon: 56, lat: 54.7 },
        { lon: 56.5, lat: 55 },
      ],
      1000,
      null,
    );
    for (const { corners } of result?.cells ?? []) {
      const polygon = WGS84.Polygon(false);
      for (const { lon, lat } of corners) polygon.AddPoint(lat, lon);
      expect((polygon.Compute(false, true).area as number) / 1e6).toBeCloseTo(1, 5);
    }
  });

  it('has the quartic kernel of the textbooks (Silverman 1986, 4.5)', () => {
    // (3/π)(1 − x²)², x the distance in bandwidths: by hand at 0, a half, and the edge.
    expect(quarticKernel(0, 1)).toBeCloseTo(0.954929658551372, 12);
    expect(quarticKernel(0.5, 1)).toBeCloseTo(0.954929658551372 * 0.5625, 12);
    expect(quarticKernel(1, 1)).toBe(0);
    expect(
      kernelDensityAt(
        [0, 0],
        [
          [3, 4],
          [0, 0],
          [300, 0],
        ],
        10,
      ),
    ).toBeCloseTo((0.954929658551372 / 100) * (1 + 0.5625), 14);
  });

  it('refuses a bandwidth that would fill the map with cells', () => {
    expect(density([{ lon: 0, lat: 0 }], 1, 1000)).toBeNull();
  });
});

describe('long axes', () => {
  it('agree with a worked example of directions, halved into axes', () => {
    // Zar, Biostatistical Analysis, the example of eight trees’ leaning directions: mean 99°, r 0.825, z 5.448
    // (value from memory; the sums were made again with numpy 2.4.6).
    const result = testAxes([45, 55, 81, 96, 110, 117, 132, 154].map((deg) => deg / 2));
    expect(result?.resultant).toBeCloseTo(0.82522, 5);
    expect(result?.rayleighZ).toBeCloseTo(5.448, 3);
    expect(2 * (result?.meanDeg ?? 0)).toBeCloseTo(99, 0);
    // 400 000 simulated samples of eight even directions (numpy, seed 1) exceed this z 1.68 times in a thousand.
    expect(result?.p).toBeCloseTo(0.0017, 3);
  });

  it('agree with the example in the documentation of a general statistics library', () => {
    // pingouin.circ_rayleigh, documentation, example 1: z 1.236, p 0.304844.
    // biome-ignore lint/suspicious/noApproximativeNumericConstant: the example has these digits.
    const halved = [0.785, 1.57, 3.141, 0.839, 5.934].map((radians) => (radians * 90) / Math.PI);
    const result = testAxes(halved);
    expect(result?.rayleighZ).toBeCloseTo(1.236, 3);
    expect(result?.p).toBeCloseTo(0.304844, 6);
  });

  it('are the same whichever end is read, and are counted in a rose', () => {
    const [one, other] = [testAxes([10, 40, 170, 90]), testAxes([190, 220, 350, 270])];
    expect(other?.rayleighZ).toBeCloseTo(one?.rayleighZ ?? Number.NaN, 10);
    expect(other?.rose).toEqual(one?.rose);
    expect(one?.rose.reduce((sum, { count }) => sum + count, 0)).toBe(4);
    expect(testAxes([])).toBeNull();
  });

  it('cancel at right angles, and then have no mean', () => {
    expect(testAxes([0, 90])?.meanDeg).toBeNull();
    expect(testAxes([0, 90])?.p).toBeCloseTo(1, 6);
  });
});

describe('the spatial tree', () => {
  it('finds what looking at every place finds, over poles and the 180° meridian', () => {
    const next = parkMiller(2);
    const places = Array.from({ length: 400 }, (_, i) =>
      i % 2 === 0
        ? { lon: (next() - 0.5) * 360, lat: 89 + next() }
        : { lon: 179.5 + next() - (next() > 0.5 ? 360 : 0) * 0, lat: next() - 0.5 },
    ).map(({ lon, lat }) => ({ lon: lon > 180 ? lon - 360 : lon, lat }));
    const tree = new SpatialTree(places);
    for (let i = 0; i < places.length; i += 17) {
      const from = places[i] as (typeof places)[number];
      const brute = places
        .map(({ lon, lat }, index) => ({ index, s: WGS84.Inverse(from.lat, from.lon, lat, lon).s12 as number }))
        .filter(({ index }) => index !== i)
        .sort((p, q) => p.s - q.s)
        .slice(0, 5);
      expect(tree.nearest(i, 5).map(({ index }) => index)).toEqual(brute.map(({ index }) => index));
    }
  });

  it('is not slowed by a heap of entries on one place', () => {
    const tree = new SpatialTree(Array.from({ length: 20_000 }, () => ({ lon: 10, lat: 50 })));
    const start = performance.now();
    for (let i = 0; i < 20_000; i += 1) expect(tree.nearest(i, 3, 10).length).toBe(3);
    expect(performance.now() - start).toBeLessThan(10_000);
  });
});

describe('what is counted', () => {
  it('leaves out what nobody verified unless asked, and the rejected always', () => {
    const all = [
      madeFeature('a', 10, 45),
      madeFeature('b', 10, 45, { type: 'depression_unverified' }),
      madeFeature('c', 10, 45, { type: 'geophysical_anomaly' }),
      madeFeature('d', 10, 45, { status: 'rejected' }),
      madeFeature('e', 10, 45, { type: 'Church' }),
    ].map(placed);
    const counted = countedFeatures(all);
    expect(counted.features.map(({ feature }) => feature.id)).toEqual([all[0]?.feature.id]);
    expect(counted.leftOut).toEqual({ unverified: 2, rejected: 1, other_type: 0, unknown_type: 1, generalised: 0 });
    expect(countedFeatures(all, { withUnverified: true }).features.length).toBe(3);
  });
});
