import { describe, expect, it } from 'vitest';
import { soilEffect } from '../../src/ground/ladder-errors';
import { soilKernel, soilOverRock } from '../../src/ground/soil-kernel';
import { layoutFor } from '../helpers/made-ladder';
import { reliefWeights } from '../helpers/relief-weights';

const GROUNDS = [
  ['soil of 180 Ω·m on rock of 600', 180, 600, 0.7],
  ['soil of 100 Ω·m on rock of 1000', 100, 1000, 1],
  ['dry soil on damp rock', 500, 120, 0.6],
] as const;
const LAYOUTS = [
  ...[1, 2, 3, 5, 8, 12].map((a) => layoutFor('pole_pole', 10, a)),
  ...[1, 3, 8].map((a) => layoutFor('wenner_alpha', 10, a)),
];
const PLACES = { fromM: -30, stepM: 0.25, count: 320 };

describe.each(GROUNDS)('what %s does to readings where it is thicker', (_, soilOhmM, rockOhmM, thicknessM) => {
  const kernel = soilKernel({ soilOhmM, rockOhmM, thicknessM }, LAYOUTS, PLACES);
  const ground = { resistivitiesOhmM: [soilOhmM, rockOhmM], thicknessesM: [thicknessM] };

  it('comes out the same from a kernel that was written apart from it, place by place', () => {
    const other = reliefWeights(ground, LAYOUTS, PLACES);
    for (const [i] of LAYOUTS.entries()) {
      const [own, apart] = [kernel, other].map((each) => each.subarray(i * PLACES.count, (i + 1) * PLACES.count));
      const largest = (own as Float64Array).reduce((most, value) => Math.max(most, Math.abs(value)), 0);
      for (let k = 0; k < PLACES.count; k += 1) {
        expect(Math.abs(((own as Float64Array)[k] as number) - ((apart as Float64Array)[k] as number))).toBeLessThan(
          0.02 * largest,
        );
      }
    }
  });

  it('sums along the line to what thicker soil everywhere does', () => {
    // By the layered forward, which knows nothing of it. What lies beyond 200 m is left out.
    const far = { fromM: -190, stepM: 0.25, count: 1600 };
    const wide = soilKernel({ soilOhmM, rockOhmM, thicknessM }, LAYOUTS, far);
    const due = soilEffect(ground, LAYOUTS);
    for (const [i] of LAYOUTS.entries()) {
      const sum = wide.subarray(i * far.count, (i + 1) * far.count).reduce((all, one) => all + one, 0);
      expect(Math.abs(sum - (due[i] as number))).toBeLessThan(0.02 * Math.max(0.1, Math.abs(due[i] as number)));
    }
  });

  it('is the same with current and potential exchanged, and from both ends', () => {
    const layout = layoutFor('pole_pole', 10, 3);
    const exchanged = { a: layout.m, b: null, m: layout.a, n: null };
    const [own, other] = [layout, exchanged].map((each) =>
      soilKernel({ soilOhmM, rockOhmM, thicknessM }, [each], PLACES),
    );
    for (let k = 0; k < PLACES.count; k += 1) {
      expect((other as Float64Array)[k]).toBeCloseTo((own as Float64Array)[k] as number, 12);
      // 10 m is place 160: mirrored about it.
      const mirrored = 320 - k;
      if (mirrored < PLACES.count) {
        expect((own as Float64Array)[mirrored]).toBeCloseTo((own as Float64Array)[k] as number, 10);
      }
    }
  });
});

describe('soil over rock', () => {
  it('is there where the reference shows two layers, and only there', () => {
    expect(soilOverRock({ resistivitiesOhmM: [100, 900], thicknessesM: [1.2] })).toEqual({
      soilOhmM: 100,
      rockOhmM: 900,
      thicknessM: 1.2,
    });
    expect(soilOverRock({ resistivitiesOhmM: [100], thicknessesM: [] })).toBeNull();
  });
});
