import { describe, expect, it } from 'vitest';
import { drawnWithoutVoid, Maxima, rangeOf } from '../../src/ground/line-search';
import { uniformFrom } from '../helpers/blind-line';
import { clopperPearson, incompleteBeta } from '../helpers/clopper-pearson';

describe('the limits of a share', () => {
  // 682 of 925: the example of R's binom.test (after Conover 1971, p. 97); its limits from memory, and the same from
  // scipy.stats.beta.ppf of SciPy, as are the other rows, computed for this test.
  it.each([
    [682, 925, 0.7076683, 0.7654066],
    [3, 60, 0.01043233, 0.13924325],
    [28, 30, 0.7792646, 0.9918218],
    [8, 20, 0.1911901, 0.6394574],
  ])('are exact for %d of %d', (hits, tries, low, high) => {
    const limits = clopperPearson(hits, tries);
    expect(limits.low).toBeCloseTo(low, 6);
    expect(limits.high).toBeCloseTo(high, 6);
  });

  it('of none are those of the closed form 1 − (α/2)^{1/n}', () => {
    expect(clopperPearson(0, 30).low).toBe(0);
    expect(clopperPearson(0, 30).high).toBeCloseTo(1 - 0.025 ** (1 / 30), 10);
    expect(clopperPearson(30, 30).low).toBeCloseTo(0.025 ** (1 / 30), 10);
  });

  it('rest on a beta function that is x^a for b = 1', () => {
    for (const x of [0.01, 0.3, 0.9]) expect(incompleteBeta(x, 2.5, 1)).toBeCloseTo(x ** 2.5, 12);
  });
});

describe('the distribution of the largest of many', () => {
  it('comes out of simulated maxima of exponential numbers as theory has it', () => {
    // The largest of n exponential numbers: P(max ≤ t) = (1 − e^{−t})ⁿ exactly; its limit is Gumbel (Gumbel 1958).
    const uniform = uniformFrom(5);
    const maxima = new Maxima(
      Array.from({ length: 4000 }, () =>
        Array.from({ length: 100 }, () => -Math.log(1 - uniform())).reduce((most, value) => Math.max(most, value)),
      ),
    );
    const due = -Math.log1p(-(0.95 ** (1 / 100)));
    expect(Math.abs(maxima.exceededBy(0.05) - due)).toBeLessThan(0.15);
    expect(maxima.shareAbove(due)).toBeGreaterThan(0.04);
    expect(maxima.shareAbove(due)).toBeLessThan(0.06);
    expect(maxima.shareAbove(maxima.exceededBy(0.01))).toBeCloseTo(0.01, 10);
  });
});

describe('a posterior range', () => {
  it('has the median, and tails of 2.5 % each, of what was put in', () => {
    const values = Array.from({ length: 101 }, (_, i) => i / 10);
    const even = rangeOf(values, new Float64Array(101).fill(1));
    expect(even.best).toBeCloseTo(5, 6);
    expect(even.low95).toBeCloseTo(0.025 * 10.1 - 0.05, 1);
    expect(even.high95).toBeCloseTo(0.975 * 10.1 - 0.05, 1);
    const normal = rangeOf(
      values,
      Float64Array.from(values, (x) => Math.exp(-0.5 * (x - 4) ** 2)),
    );
    // A normal distribution of mean 4 and standard deviation 1.
    expect(normal.low95).toBeCloseTo(4 - 1.96, 1);
    expect(normal.high95).toBeCloseTo(4 + 1.96, 1);
    expect(normal.openLow || normal.openHigh).toBe(false);
  });

  it('says that it is open where the bound itself is likely', () => {
    expect(rangeOf([1, 2, 3], Float64Array.of(0, 1, 4))).toMatchObject({ openLow: false, openHigh: true });
  });
});

describe('readings drawn without a void', () => {
  it('have the covariance that they are drawn from', () => {
    const uniform = uniformFrom(9);
    const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
    // L·Lᵀ = [[4, 2], [2, 5]].
    const errors = { factor: Float64Array.of(2, 0, 1, 2), inverse: new Float64Array(4), logDeterminant: 0 };
    const drawn = Array.from({ length: 20_000 }, () =>
      drawnWithoutVoid({ ...errors, uneven: { lnThickness: 0, lengthM: 1 } }, 2, normal),
    );
    const mean = (of: (y: Float64Array) => number) => drawn.reduce((sum, y) => sum + of(y), 0) / drawn.length;
    expect(mean((y) => (y[0] as number) ** 2)).toBeCloseTo(4, 0);
    expect(mean((y) => (y[0] as number) * (y[1] as number))).toBeCloseTo(2, 0);
    expect(mean((y) => (y[1] as number) ** 2)).toBeCloseTo(5, 0);
  });
});
