import { beforeAll, describe, expect, it } from 'vitest';
import { factorOfPlacesM, type Place, type SurfaceElectrodes } from '../../src/ground/small-void';
import type { VoidReading } from '../../src/ground/void-question';
import type { VoidModel } from '../../src/ground/void-response';
import { roundChamber, roundPassage, type VoidShape } from '../../src/ground/void-shape';
import { ENDLESS_PASSAGE, modelOf, polePole } from './over-a-void';
import { createVoidModelCache } from './void-model-cache';

const HOST_OHM_M = 500;

const collinear = (a: number, b: number, m: number, n: number): SurfaceElectrodes => ({
  a: [a, 0, 0],
  b: [b, 0, 0],
  m: [m, 0, 0],
  n: [n, 0, 0],
});

interface Buried {
  readonly of: VoidModel;
  readonly depthM: number;
  readonly bearingDeg?: number;
  readonly fillOhmM?: number;
}

function readings({ of, depthM, bearingDeg = 0, fillOhmM = Infinity }: Buried, electrodes: SurfaceElectrodes[]) {
  const place = { xM: 0, yM: 0, depthM, bearingDeg };
  const answered = of.answer({ place, hostOhmM: HOST_OHM_M, fillOhmM, electrodes });
  if (!answered.ok) throw new Error(answered.sentence);
  return answered.value;
}

const reading = (buried: Buried, electrodes: SurfaceElectrodes): VoidReading =>
  readings(buried, [electrodes])[0] as VoidReading;

/** The lowest of a profile of pole-pole readings at half-metre steps, as a change in percent. */
function lowestPercent(buried: Buried, spacingM: number): number {
  const offsets = Array.from({ length: Math.ceil(1.2 * spacingM) + 1 }, (_, i) => i / 2);
  const profile = offsets.map((x) => polePole(spacingM, x));
  return 100 * (Math.min(...readings(buried, profile).map(({ ratio }) => ratio)) - 1);
}

describe('a round chamber', () => {
  /*
   * a, offset, depth, fill over host, exact ρa/ρ₁ for a radius of 1 m: multipole collocation with the mirror sphere,
   * converged to 1e-6 (computed for this project by a method that shares nothing with this one). What was asked for is
   * 2 % of the change or 0.0003.
   */
  const EXACT = [
    [2, 0, 2, Infinity, 1.047858],
    [4, 0, 2, Infinity, 0.995011],
    [8, 0, 2, Infinity, 0.987983],
    [20, 0, 2, Infinity, 0.998298],
    [4, 2, 2, Infinity, 1.020866],
    [4, 4, 2, Infinity, 1.011991],
    [4, 0, 1.5, Infinity, 0.96354],
    [4, 0, 3, Infinity, 1.008399],
    [4, 0, 2, 0.1, 1.006401],
    [4, 0, 2, 0.01, 1.008137],
  ] as const;
  const cache = createVoidModelCache();

  it.each(EXACT)(
    'at a %d m, offset %d m, depth %d m, fill %d × host, gives the exact %d',
    (a, x, depth, fill, exact) => {
      const of = cache.modelOf(roundChamber(1), depth);
      if (!of.ok) throw new Error(of.sentence);
      const { ratio, ratioError } = reading(
        { of: of.value, depthM: depth, fillOhmM: fill * HOST_OHM_M },
        polePole(a, x),
      );
      expect(Math.abs(ratio - exact)).toBeLessThan(5e-5);
      expect(Math.abs(ratio - exact)).toBeLessThan((ratioError as number) + 2e-6);
      expect(ratioError).toBeLessThan(3e-4);
    },
  );

  it('comes within 2 % of the exact change, or 0.0003, without refinement as well', () => {
    for (const [a, x, depth, fill, exact] of EXACT) {
      const of = modelOf(roundChamber(1), depth, { quarterTurn: 8, refine: false });
      const { ratio, ratioError } = reading({ of, depthM: depth, fillOhmM: fill * HOST_OHM_M }, polePole(a, x));
      expect(Math.abs(ratio - exact)).toBeLessThan(Math.max(0.02 * Math.abs(exact - 1), 3e-4));
      expect(ratioError).toBeNull();
    }
  });

  it('converges as its panels shrink, by a quarter for half the size', () => {
    const error = (quarterTurn: number): number => {
      const of = modelOf(roundChamber(1), 2, { quarterTurn, refine: false });
      return reading({ of, depthM: 2 }, polePole(8, 0)).ratio - 0.987983;
    };
    expect(error(4) / error(8)).toBeGreaterThan(3.5);
    expect(error(4) / error(8)).toBeLessThan(4.8);
  });

  it('changes an even field over it by (R/z)³ for air, to first order (closed form of a sphere and its mirror image)', () => {
    const far = collinear(-1e4, 1e4, -0.01, 0.01);
    expect(reading({ of: modelOf(roundChamber(1), 5), depthM: 5 }, far).ratio).toBeCloseTo(1 + 1 / 125, 3);
    expect(reading({ of: modelOf(roundChamber(1), 5), depthM: 5, fillOhmM: 0 }, far).ratio).toBeCloseTo(1 - 2 / 125, 3);
  });

  it('is silent without a contrast', () => {
    expect(reading({ of: modelOf(roundChamber(1), 2), depthM: 2, fillOhmM: HOST_OHM_M }, polePole(2, 0)).ratio).toBe(1);
  });

  it('is the limit of chambers that are nearly round', () => {
    const nearly: VoidShape = { kind: 'chamber', halfAxesM: [1.001, 1, 0.999] };
    const { ratio } = reading({ of: modelOf(nearly, 2), depthM: 2 }, polePole(2, 0));
    expect(Math.abs(ratio - 1.047858)).toBeLessThan(3e-4);
  });
});

describe('a chamber that is not round', () => {
  /*
   * Deep down it answers like the dipole of an ellipsoid in an even field: Λ = (1 − q)/(1 + N(q − 1)), N the
   * depolarising factor of each axis. Spheroids: oblate of 2 : 1, N = 0.527200 down and 0.236400 level; prolate of 2 : 1,
   * N = 0.173564 along and 0.413218 across (Osborn 1945, Phys. Rev. 67:351, closed forms evaluated for this project).
   */
  it.each([
    ['flat', [1, 1, 0.5], [0.2364, 0.2364, 0.5272]],
    ['long', [1, 0.5, 0.5], [0.173564, 0.413218, 0.413218]],
  ] as const)('and %s answers as a dipole when it is deep', (_, halfAxesM, factors) => {
    const depthM = 8;
    const of = modelOf({ kind: 'chamber', halfAxesM }, depthM);
    const volumeM3 = (4 / 3) * Math.PI * halfAxesM[0] * halfAxesM[1] * halfAxesM[2];
    const pull = ([x, y]: Place): Place => {
      const cube = Math.hypot(x, y, depthM) ** 3;
      return [-x / cube, -y / cube, depthM / cube];
    };
    for (const fillOhmM of [Infinity, HOST_OHM_M / 5]) {
      const q = HOST_OHM_M / fillOhmM;
      for (const [a, m] of [
        [
          [-1, 1, 0],
          [2, -1, 0],
        ],
        [
          [-9, 0, 0],
          [9, 0, 0],
        ],
        [
          [0, 9, 0],
          [0.5, -9, 0],
        ],
      ] as [Place, Place][]) {
        const electrodes = { a, b: null, m, n: null };
        const [c, p] = [pull(a), pull(m)];
        const sum = factors.reduce((s, n, k) => s + ((1 - q) / (1 + n * (q - 1))) * (c[k] ?? 0) * (p[k] ?? 0), 0);
        const expected = (factorOfPlacesM(electrodes) * volumeM3 * sum) / (4 * Math.PI ** 2);
        const found = reading({ of, depthM, fillOhmM }, electrodes).ratio - 1;
        expect(Math.abs(found / expected - 1)).toBeLessThan(0.02);
      }
    }
  });
});

describe('a long round passage square to the line', () => {
  let long: VoidModel;
  beforeAll(() => {
    long = modelOf(roundPassage(1, 100), 2);
  });

  it.each(ENDLESS_PASSAGE)('and empty, a %d m, offset %d m, reads the exact %d', (a, offset, exact) => {
    const { ratio, ratioError } = reading({ of: long, depthM: 2, bearingDeg: 90 }, polePole(a, offset));
    expect(Math.abs(ratio - exact)).toBeLessThan(1.5e-4);
    expect(Math.abs(ratio - exact)).toBeLessThan((ratioError as number) + 1e-4);
  });

  /* Wenner and dipole-dipole over the same cylinder, largest at half-metre steps: the same computation, to 0.1 %. */
  it.each([
    ['Wenner, a = 2 m', (x: number) => collinear(x - 3, x + 3, x - 1, x + 1), 19.2],
    ['Wenner, a = 4 m', (x: number) => collinear(x - 6, x + 6, x - 2, x + 2), 16.7],
    ['dipole-dipole, a = 2 m, n = 1', (x: number) => collinear(x - 1, x - 3, x + 1, x + 3), 34.7],
    ['dipole-dipole, a = 2 m, n = 3', (x: number) => collinear(x - 3, x - 5, x + 3, x + 5), 36.4],
  ] as const)('and empty reads %s as computed by the other method', (_, array, percent) => {
    const profile = Array.from({ length: 17 }, (__, i) => array(i / 2));
    const ratios = readings({ of: long, depthM: 2, bearingDeg: 90 }, profile).map(({ ratio }) => ratio);
    expect(Math.abs(100 * (Math.max(...ratios) - 1) - percent)).toBeLessThan(0.1);
  });

  /* Lowest change along the profile of endless cylinders, percent: the same computation, to 0.1. */
  it.each([
    ['water of 30 Ω·m', 30, [-33.2, -24.3, -14.7, -6.1]],
    ['clay of 50 Ω·m', 50, [-26.9, -18.5, -10.7, -4.3]],
  ] as const)('and full of %s reads the lows of the endless one', (_, fillOhmM, lows) => {
    for (const [i, spacingM] of [2, 4, 8, 20].entries()) {
      const low = lowestPercent({ of: long, depthM: 2, bearingDeg: 90, fillOhmM }, spacingM);
      expect(Math.abs(low - (lows[i] as number))).toBeLessThan(0.15);
    }
  });

  it('leads the more current along the longer it is, and no more than the endless one', () => {
    const low = (lengthM: number): number => {
      const of = modelOf(roundPassage(1, lengthM), 2, { refine: false });
      return reading({ of, depthM: 2, bearingDeg: 90, fillOhmM: 30 }, polePole(20, 0)).ratio;
    };
    const lows = [10, 20, 40].map(low);
    expect([...lows].sort((p, q) => q - p)).toEqual(lows);
    expect(lows[2]).toBeGreaterThan(0.939);
  });
});
