import { describe, expect, it } from 'vitest';
import { mostOfAVoid } from '../../src/ground/most-of-a-void';
import { roundChamber, roundPassage } from '../../src/ground/void-shape';
import { createVoidTable, TRIED_VOIDS } from '../../src/ground/void-table';
import { evenSteps, walkVoids } from '../../src/ground/void-walk';
import type { Hookup } from '../../src/survey/hookup';
import { layoutFor, voidRatios } from '../helpers/made-ladder';

const table = createVoidTable();
const LARGEST_RADIUS_M = 5;
const most = (hookup: Hookup, spacingM: number) => {
  const found = mostOfAVoid(layoutFor(hookup, 0, spacingM));
  if (!found) throw new Error(`nothing known of ${hookup}`);
  return found;
};

/** The extreme ratio among the voids that the table can make, the void that makes it computed anew with refined panels. */
function searched(hookup: Hookup, spacingM: number, sign: 1 | -1): number {
  const layouts = [layoutFor(hookup, 0, spacingM)];
  const bounds = { shallowestM: 0, deepestM: 1e9, smallestRadiusM: 0, largestRadiusM: LARGEST_RADIUS_M, farthestM: 0 };
  const steps = {
    depthsM: [...evenSteps(60, Math.log(0.04 * spacingM), Math.log(2.5 * spacingM)).map(Math.exp), 6.2499],
    shares: evenSteps(8, 0.15, 0.8),
    offsetsM: evenSteps(37, 0, 1.8 * spacingM),
  };
  let [extreme, at] = [0, [0, 0, 0, 0]];
  walkVoids(table, 'air', layouts, 0, bounds, steps, (tried, depth, share, offset, [ln = 0]) => {
    if (sign * ln > sign * extreme) [extreme, at] = [ln, [tried, depth, share, offset]];
  });
  const [tried, depth, share, offset] = at as [number, number, number, number];
  const depthM = steps.depthsM[depth] as number;
  const radiusM = (steps.shares[share] as number) * depthM;
  const bearingDeg = TRIED_VOIDS[tried]?.bearingDeg ?? null;
  const shape = bearingDeg === null ? roundChamber(radiusM) : roundPassage(radiusM, 16 * depthM);
  const place = { depthM, atM: steps.offsetsM[offset] as number, bearingDeg: bearingDeg ?? 0 };
  return voidRatios(shape, place, layouts, true)[0] as number;
}

describe('the most of a void', () => {
  it.each([
    ['pole_pole', 2],
    ['pole_pole', 12],
    ['pole_pole', 47],
    ['wenner_alpha', 3],
    ['wenner_alpha', 12],
  ] as const)(
    'at %s of %d m is what a search among voids finds, within a twentieth of the change',
    (hookup, spacingM) => {
      const { lowestRatio, highestRatio } = most(hookup, spacingM);
      expect(Math.abs((searched(hookup, spacingM, 1) - 1) / (highestRatio - 1) - 1)).toBeLessThan(0.05);
      expect(Math.abs((searched(hookup, spacingM, -1) - 1) / (lowestRatio - 1) - 1)).toBeLessThan(0.05);
    },
  );

  /*
   * Highest and lowest changes in percent along profiles over exact cylinders and spheres (Fourier along strike, Bessel
   * multipoles, mirror cylinder; multipole collocation with the mirror sphere; computed for this project): all of these
   * are within the bounds, so none may go beyond. Lengths as in the table and five times, where the radius is 5 m.
   */
  it.each([
    ['pole_pole', 2, 27.7, -5],
    ['pole_pole', 4, 17.6, -6.2],
    ['pole_pole', 8, 10.7, -7.8],
    ['pole_pole', 20, 5.1, -4.4],
    ['wenner_alpha', 2, 19.2, 0],
    ['wenner_alpha', 4, 16.7, 0],
  ] as const)('is more than the exact ones: %s of %d m, +%d and %d percent', (hookup, spacingM, high, low) => {
    for (const times of [1, 0.1]) {
      const { lowestRatio, highestRatio } = most(hookup, times * spacingM);
      expect(highestRatio).toBeGreaterThan(1 + high / 100);
      expect(lowestRatio).toBeLessThan(1 + low / 100);
    }
  });

  it('grows tighter with the spacing, and is 1 in the end', () => {
    const found = [1, 4, 6, 9, 14, 22, 35, 70, 110, 130, 500].map((a) => most('pole_pole', a));
    for (const [i, { lowestRatio, highestRatio }] of found.entries()) {
      expect(highestRatio).toBeLessThanOrEqual(found[i - 1]?.highestRatio ?? 3);
      expect(lowestRatio).toBeGreaterThanOrEqual(found[i - 1]?.lowestRatio ?? 0);
    }
    expect(most('pole_pole', 1e6).highestRatio).toBeCloseTo(1, 3);
  });

  it('says nothing of two probes and of arrays that it does not know', () => {
    for (const hookup of ['two_probe', 'dipole_dipole', 'pole_dipole'] as const) {
      expect(mostOfAVoid(layoutFor(hookup, 0, 4))).toBeNull();
    }
  });
});
