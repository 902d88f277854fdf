import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  polePoleOhmM,
  potentialPerAmpere,
  type TwoLayerGround,
  twoLayerResistanceOhm,
  wennerAlphaOhmM,
} from './two-layer';

/** Cover of 1 Ω·m and 1 m with reflection coefficient k. */
const unitGround = (k: number): TwoLayerGround => ({ topOhmM: 1, baseOhmM: (1 + k) / (1 - k), topThicknessM: 1 });

/*
 * k, a/h, pole-pole ρa/ρ₁, Wenner alpha ρa/ρ₁. Image series of Van Nostrand & Cook 1966, USGS Professional Paper 499,
 * computed for this project twice: by summing images and by the Hankel integral to 10 digits.
 */
const TABLE = [
  [0.5, 0.5, 1.338534, 1.041171],
  [0.5, 1, 1.635897, 1.210343],
  [0.5, 2, 2.061451, 1.639508],
  [0.5, 5, 2.594684, 2.351618],
  [0.5, 10, 2.837751, 2.72752],
  [-0.5, 0.5, 0.804309, 0.964558],
  [-0.5, 1, 0.64406, 0.829017],
  [-0.5, 2, 0.459102, 0.558163],
  [-0.5, 5, 0.348585, 0.360706],
  [-0.5, 10, 0.336464, 0.338844],
  [0.9, 0.5, 2.135539, 1.081562],
  [0.9, 1, 3.189517, 1.432248],
  [0.9, 2, 4.946786, 2.462725],
  [0.9, 5, 8.363259, 5.224935],
  [0.9, 10, 11.501583, 8.44946],
  [-0.9, 0.5, 0.691254, 0.93901],
  [-0.9, 1, 0.443498, 0.710827],
  [-0.9, 2, 0.176169, 0.288053],
  [-0.9, 5, 0.057104, 0.061013],
  [-0.9, 10, 0.053195, 0.053625],
] as const;

/* Karst-like ladders at 2, 4, 8 and 20 m, Ω·m; the same series, computed for this project once. */
const LADDERS = [
  {
    ground: { topOhmM: 50, baseOhmM: 1000, topThicknessM: 3 },
    polePole: [126.554914, 194.514198, 300.792317, 494.88533],
    wenner: [58.59563, 88.23608, 158.484743, 327.403996],
  },
  {
    ground: { topOhmM: 500, baseOhmM: 50, topThicknessM: 2 },
    polePole: [240.207591, 113.462951, 57.589534, 50.530325],
    wenner: [366.952232, 169.336368, 64.301694, 50.935004],
  },
] as const;
const LADDER_SPACINGS_M = [2, 4, 8, 20] as const;

const anyGround = fc.record({
  topOhmM: fc.double({ min: 5, max: 5000, noNaN: true }),
  contrast: fc.double({ min: -0.95, max: 0.95, noNaN: true }),
  topThicknessM: fc.double({ min: 0.1, max: 30, noNaN: true }),
});
const groundOf = ({
  topOhmM,
  contrast,
  topThicknessM,
}: {
  topOhmM: number;
  contrast: number;
  topThicknessM: number;
}) => ({
  topOhmM,
  baseOhmM: (topOhmM * (1 + contrast)) / (1 - contrast),
  topThicknessM,
});

describe('two layers by images', () => {
  it.each(TABLE)('k %f at a/h %f gives the published series', (k, a, polePole, wenner) => {
    expect(Math.abs(polePoleOhmM(unitGround(k), a) - polePole)).toBeLessThan(6e-7);
    expect(Math.abs(wennerAlphaOhmM(unitGround(k), a) - wenner)).toBeLessThan(6e-7);
  });

  it('climbs manyfold over thin soil on limestone, and falls over rock on clay', () => {
    for (const { ground, polePole, wenner } of LADDERS) {
      for (const [i, a] of LADDER_SPACINGS_M.entries()) {
        expect(Math.abs(polePoleOhmM(ground, a) - (polePole[i] ?? Number.NaN))).toBeLessThan(6e-7);
        expect(Math.abs(wennerAlphaOhmM(ground, a) - (wenner[i] ?? Number.NaN))).toBeLessThan(6e-7);
      }
    }
  });

  it('sums to 1e-9 of what a million images give, at contrasts up to 0.95', () => {
    for (const k of [-0.95, -0.9, 0.9, 0.95]) {
      for (const a of [0.1, 1, 10, 100]) {
        let sum = 1;
        for (let n = 1_000_000; n >= 1; n -= 1) sum += (2 * k ** n) / Math.sqrt(1 + ((2 * n) / a) ** 2);
        expect(Math.abs(polePoleOhmM(unitGround(k), a) / sum - 1)).toBeLessThan(1e-9);
      }
    }
  });

  it('is the resistivity itself over uniform ground', () => {
    const uniform = { topOhmM: 320, baseOhmM: 320, topThicknessM: 2 };
    expect(polePoleOhmM(uniform, 5)).toBeCloseTo(320, 10);
    expect(wennerAlphaOhmM(uniform, 5)).toBeCloseTo(320, 10);
    expect(potentialPerAmpere(uniform, Infinity)).toBe(0);
  });

  it('keeps Wenner at a as twice pole-pole at a less pole-pole at 2a (superposition)', () => {
    fc.assert(
      fc.property(anyGround, fc.double({ min: 0.5, max: 40, noNaN: true }), (shape, a) => {
        const ground = groundOf(shape);
        const expected = 2 * polePoleOhmM(ground, a) - polePoleOhmM(ground, 2 * a);
        expect(Math.abs(wennerAlphaOhmM(ground, a) - expected)).toBeLessThan(1e-9 * polePoleOhmM(ground, a));
      }),
    );
  });

  it('lies between the two resistivities for pole-pole', () => {
    fc.assert(
      fc.property(anyGround, fc.double({ min: 0.5, max: 100, noNaN: true }), (shape, a) => {
        const ground = groundOf(shape);
        const figure = polePoleOhmM(ground, a);
        expect(figure).toBeGreaterThanOrEqual(Math.min(ground.topOhmM, ground.baseOhmM) * (1 - 1e-9));
        expect(figure).toBeLessThanOrEqual(Math.max(ground.topOhmM, ground.baseOhmM) * (1 + 1e-9));
      }),
    );
  });

  it('gives R of any four electrodes by adding potentials', () => {
    const ground = { topOhmM: 50, baseOhmM: 1000, topThicknessM: 3 };
    const wenner = twoLayerResistanceOhm(ground, { am: 4, an: 8, bm: 8, bn: 4 });
    expect(2 * Math.PI * 4 * wenner).toBeCloseTo(88.23608, 5);
    const polePole = twoLayerResistanceOhm(ground, { am: 4, an: Infinity, bm: Infinity, bn: Infinity });
    expect(2 * Math.PI * 4 * polePole).toBeCloseTo(194.514198, 5);
  });
});
