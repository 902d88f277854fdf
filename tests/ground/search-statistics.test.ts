import { describe, expect, it } from 'vitest';
import { PROFILE_95 } from '../../src/ground/ladder-rivals';
import { lineErrors } from '../../src/ground/line-errors';
import { evenRatios, evenSteps, posteriorNear, prepareLine, rangeOf, searchBounds } from '../../src/ground/line-search';
import { drawnWithoutVoid, Maxima, simulatedWithout } from '../../src/ground/search-threshold';
import { createVoidTable } from '../../src/ground/void-table';
import { voidTemplates } from '../../src/ground/void-templates';
import { uniformFrom } from '../helpers/blind-line';
import { clopperPearson, incompleteBeta } from '../helpers/clopper-pearson';
import { layoutFor } from '../helpers/made-ladder';

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

describe('what the readings leave of a void', () => {
  const SPACINGS_M = [1, 2, 4, 8];
  const NOISE_LN = 0.03;
  const table = createVoidTable();
  const soil = { soilOhmM: 150, rockOhmM: 800, thicknessM: 0.8 };
  const layouts = SPACINGS_M.flatMap((a) => Array.from({ length: 14 }, (_, i) => layoutFor('pole_pole', i, a)));
  const truth = { chainageM: 6.6, depthM: 2.4, radiusM: 1.15 };
  const ofVoids = (chainagesM: number[], depthM: number, radiiM: number[], tried: number[]) =>
    voidTemplates(table, layouts, {
      chainagesM,
      depthsM: [depthM],
      shares: radiiM.map((radius) => radius / depthM).filter((share) => share >= 0.15 && share <= 0.8),
      smallestRadiusM: 0,
      largestRadiusM: 4,
      tried,
    });
  // Readings without noise, of a passage square to the line: the least χ² is 0 then, and the place is known.
  const y = ofVoids([truth.chainageM], truth.depthM, [truth.radiusM], [1]).lnRatio;
  const readings = layouts.map((layout, i) => ({
    layout,
    apparentOhmM: 500 * Math.exp(y[i] as number),
    referenceOhmM: 500,
    noiseLn: NOISE_LN,
    referenceLn: 0.016,
    group: String(SPACINGS_M[Math.floor(i / 14)]),
  }));
  const line = prepareLine(readings, soil, table, searchBounds(SPACINGS_M));
  const errors = line.errors.findIndex(({ uneven }) => uneven.lnThickness === 0.13 && uneven.lengthM === 1.2);
  const near = posteriorNear(line, table, line.lnRatio, { nearM: 6.5, errors });

  it('is for depth and radius all that is within 3.84 of the least χ², everything else fitted anew', () => {
    // Wilks 1938 (Ann. Math. Stat. 9:60), by brute force: the quadratic form itself on a grid of its own.
    const inverse = lineErrors(readings, soil, [{ lnThickness: 0.13, lengthM: 1.2 }], 1)[0]?.inverse as Float64Array;
    const n = readings.length;
    const radiiM = evenRatios(0.3, 4, 75);
    const atRadius = radiiM.map(() => Infinity);
    const within: number[] = [];
    for (const depthM of evenRatios(1.2, 4.8, 60)) {
      const { list, lnRatio } = ofVoids(evenSteps(5.7, 7.5, 10), depthM, radiiM, [0, 1, 2, 3, 4]);
      let least = Infinity;
      for (const [t, { radiusM }] of list.entries()) {
        const rest = Float64Array.from(y, (value, i) => value - (lnRatio[t * n + i] as number));
        let square = 0;
        for (let i = 0; i < n; i += 1) {
          let row = 0;
          for (let j = 0; j < n; j += 1) row += (inverse[i * n + j] as number) * (rest[j] as number);
          square += row * (rest[i] as number);
        }
        least = Math.min(least, square);
        const radius = radiiM.findIndex((own) => Math.abs(own / radiusM - 1) < 1e-9);
        atRadius[radius] = Math.min(atRadius[radius] as number, square);
      }
      if (least <= PROFILE_95) within.push(depthM);
    }
    const sizes = radiiM.filter((_, i) => (atRadius[i] as number) <= PROFILE_95);
    // Steps of 2 and 4 % here, of 12 % there, which adds 2 % for its table of voids.
    for (const [range, due, truly] of [
      [near.depthM, within, truth.depthM],
      [near.radiusM, sizes, truth.radiusM],
    ] as const) {
      expect(range.low95).toBeLessThan(truly);
      expect(range.high95).toBeGreaterThan(truly);
      expect(Math.abs(Math.log(range.low95 / (0.98 * Math.min(...due))))).toBeLessThan(0.06);
      expect(Math.abs(Math.log(range.high95 / (1.02 * Math.max(...due))))).toBeLessThan(0.06);
    }
  });

  it('has a gain that other causes can be held against: that of the search, noise margin and all', () => {
    expect(near.gain).toBeGreaterThan(0.85 * line.scanner.scan(line.lnRatio).statistic);
    expect(near.gain).toBeLessThan(1.15 * line.scanner.scan(line.lnRatio).statistic);
  });

  it('is the same whether sets are held against the voids together or one by one', () => {
    const sets = [1, -1, 0.3, 0.7, 2].map((times) => line.lnRatio.map((value) => times * value));
    const each = sets.map((set) => line.scanner.gains(set));
    expect(line.scanner.gainsOfEach(sets)).toEqual(each);
    for (const [i, set] of sets.entries()) {
      const { statistic, template } = line.scanner.scan(set);
      expect(statistic).toBe(Math.max(...(each[i] as Float64Array)));
      expect(each[i]?.[template]).toBe(statistic);
    }
  });

  describe('a threshold', () => {
    // Without a void of our making: the errors of even soil, drawn.
    const uniform = uniformFrom(11);
    const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
    const quiet = drawnWithoutVoid(
      line.errors[0] as (typeof line.errors)[number],
      line.lnRatio.map(() => normal()),
    );
    const { without, errorsWithout, errorsOpen } = line.scanner.scan(quiet);
    const of = (open: readonly number[]) => {
      const again = uniformFrom(12);
      const numbers = () => Math.sqrt(-2 * Math.log(1 - again())) * Math.cos(2 * Math.PI * again());
      const { maxima, gains } = simulatedWithout(line, open, { simulations: 60, rate: 0.05, normal: numbers });
      expect(gains).toHaveLength(60);
      return maxima.exceededBy(0.05);
    };

    it('knows every unevenness that the readings leave open, by the likelihood itself', () => {
      const n = readings.length;
      const twice = line.errors.map(({ inverse, logDeterminant }) => {
        let square = 0;
        for (let i = 0; i < n; i += 1) {
          for (let j = 0; j < n; j += 1) {
            square += (quiet[i] as number) * (inverse[i * n + j] as number) * (quiet[j] as number);
          }
        }
        return -logDeterminant - square;
      });
      const most = Math.max(...twice);
      expect(without).toBeCloseTo(most, 6);
      expect(errorsOpen).toContain(errorsWithout);
      expect(errorsOpen).toEqual(twice.flatMap((value, e) => (most - value <= 3.84 ? [e] : [])));
      expect(errorsOpen.length).toBeGreaterThan(1);
      expect(errorsOpen.length).toBeLessThan(line.errors.length);
    });

    it('is that of the strictest of them', () => {
      const each = line.errors.map((_, e) => of([e]));
      const strictest = each.indexOf(Math.max(...each));
      const least = each.indexOf(Math.min(...each));
      expect(of([least, strictest])).toBeCloseTo(each[strictest] as number, 10);
      expect(of([strictest, least])).toBeCloseTo(each[strictest] as number, 10);
      expect(each[strictest]).toBeGreaterThan((each[least] as number) + 1);
    });
  });
});

describe('readings drawn without a void', () => {
  it('have the covariance that they are drawn from', () => {
    const uniform = uniformFrom(9);
    const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
    // L·Lᵀ = [[4, 2], [2, 5]].
    const errors = { factor: Float64Array.of(2, 0, 1, 2), inverse: new Float64Array(4), logDeterminant: 0 };
    const drawn = Array.from({ length: 20_000 }, () =>
      drawnWithoutVoid({ ...errors, uneven: { lnThickness: 0, lengthM: 1 } }, Float64Array.of(normal(), normal())),
    );
    const mean = (of: (y: Float64Array) => number) => drawn.reduce((sum, y) => sum + of(y), 0) / drawn.length;
    expect(mean((y) => (y[0] as number) ** 2)).toBeCloseTo(4, 0);
    expect(mean((y) => (y[0] as number) * (y[1] as number))).toBeCloseTo(2, 0);
    expect(mean((y) => (y[1] as number) ** 2)).toBeCloseTo(5, 0);
  });
});
