import { describe, expect, it } from 'vitest';
import { medianDepthM, shareFromAbove } from '../../src/ground/depth';
import { geometricFactorM } from '../../src/ground/geometric-factor';
import { layoutOf, nominalDistances } from '../../src/ground/layout';
import type { Hookup } from '../../src/survey/hookup';
import { toMetres } from '../../src/survey/units';
import {
  ASTM_G57,
  FINITE_REMOTES,
  GEOMETRIC_FACTORS_M,
  MEDIAN_DEPTHS,
  POLE_POLE_SHARES,
  SCATTERED,
} from '../reference/geometric-factors';

function distances(hookup: Hookup, spacingM: number, more: { n?: number | null; innerSpacingM?: number } = {}) {
  const layout = layoutOf({ hookup, midpointM: 7, spacingM, ...more });
  if (!layout.ok) throw new Error(layout.sentence);
  return nominalDistances(layout.value);
}

describe('geometric factors', () => {
  it.each(GEOMETRIC_FACTORS_M)('$hookup at $spacingM m is $form = $factorM m', (row) => {
    const { hookup, spacingM, factorM } = row;
    const factor = geometricFactorM(
      distances(hookup, spacingM, {
        ...('n' in row ? { n: row.n } : {}),
        ...('innerSpacingM' in row ? { innerSpacingM: row.innerSpacingM } : {}),
      }),
    );
    expect(Math.abs(factor)).toBeCloseTo(factorM, 5);
  });

  it('holds for four scattered electrodes', () => {
    const apart = (p: readonly [number, number], q: readonly [number, number]) => Math.hypot(p[0] - q[0], p[1] - q[1]);
    const { a, b, m, n, factorM } = SCATTERED;
    expect(geometricFactorM({ am: apart(a, m), an: apart(a, n), bm: apart(b, m), bn: apart(b, n) })).toBeCloseTo(
      factorM,
      5,
    );
  });

  it('agrees with the constant and the worked value of ASTM G57', () => {
    const spacingM = toMetres(ASTM_G57.spacingFt, 'ft');
    const ohmCm = geometricFactorM(distances('wenner_alpha', spacingM)) * ASTM_G57.resistanceOhm * 100;
    expect(ohmCm / (ASTM_G57.spacingFt * ASTM_G57.resistanceOhm)).toBeCloseTo(ASTM_G57.constant, 1);
    // The standard rounds its constant to four figures.
    expect(ohmCm / ASTM_G57.resistivityOhmCm).toBeCloseTo(1, 3);
  });

  it.each(FINITE_REMOTES)(
    'undoes remotes at $distanceOverSpacing spacings exactly',
    ({ distanceOverSpacing: r, both, currentOnly }) => {
      // In uniform ground R = ρ/K, so reading 2πaR as resistivity is wrong by 2πa/K − 1.
      const twoRemotes = geometricFactorM({ am: 1, an: 1 + r, bm: 1 + r, bn: 1 + 2 * r });
      const oneRemote = geometricFactorM({ am: 1, an: Infinity, bm: 1 + r, bn: Infinity });
      expect(((2 * Math.PI) / twoRemotes - 1) * 100).toBeCloseTo(both, 3);
      expect(((2 * Math.PI) / oneRemote - 1) * 100).toBeCloseTo(currentOnly, 3);
    },
  );
});

describe('depth of investigation', () => {
  it.each(MEDIAN_DEPTHS)(
    'has its median for $hookup, n = $n, at $computed spacings',
    ({ hookup, n, computed, edwards }) => {
      const median = medianDepthM(distances(hookup, 4, { n }));
      expect((median ?? Number.NaN) / 4).toBeCloseTo(computed, 4);
      expect(Math.abs((median ?? Number.NaN) / 4 - edwards)).toBeLessThan(0.0015);
    },
  );

  it.each(POLE_POLE_SHARES)(
    'has $share of the pole-pole response above $depthOverSpacing spacings',
    ({ share, depthOverSpacing }) => {
      expect(shareFromAbove(distances('pole_pole', 3), 3 * depthOverSpacing)).toBeCloseTo(share, 5);
    },
  );

  it('has none for potential electrodes at equal distances from both current electrodes', () => {
    expect(medianDepthM({ am: 2, an: 2, bm: 2, bn: 2 })).toBeNull();
  });
});

describe('layouts', () => {
  it('put every electrode symmetrically about the midpoint where the array is symmetric', () => {
    for (const hookup of [
      'two_probe',
      'wenner_alpha',
      'wenner_beta',
      'wenner_gamma',
      'schlumberger',
      'dipole_dipole',
    ] as const) {
      const layout = layoutOf({ hookup, midpointM: 10, spacingM: 2, n: 3 });
      if (!layout.ok) throw new Error(layout.sentence);
      const { a, b, m, n } = layout.value;
      const all = [a, b, m, n].filter((chainage) => chainage !== null);
      expect((Math.min(...all) + Math.max(...all)) / 2, hookup).toBeCloseTo(10, 9);
    }
  });

  it('ask for the chainages of a four-electrode reading', () => {
    expect(layoutOf({ hookup: 'four_electrode', midpointM: 0, spacingM: 1 })).toMatchObject({
      ok: false,
      code: 'layout_not_given',
    });
  });
});
