import { median, medianAbsoluteDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { medianOf, robustSigma } from '../../src/evidence/robust';
import { evenNumbers, normalNumbers } from '../helpers/chance';

/**
 * Copper in wholemeal flour, ppm, 24 determinations, the last one a blunder (Analytical Methods Committee 1989, The
 * Analyst 114:1693). Median 3.385 and 1.4826·MAD 0.52632 as by Venables & Ripley 2002, Modern Applied Statistics with S,
 * §5.5, which the tests of statsmodels cite for them.
 */
const COPPER_PPM = [
  2.2, 2.2, 2.4, 2.4, 2.5, 2.7, 2.8, 2.9, 3.03, 3.03, 3.1, 3.37, 3.4, 3.4, 3.4, 3.5, 3.6, 3.7, 3.7, 3.7, 3.7, 3.77,
  5.28, 28.95,
];
const COPPER = { median: 3.385, scaledMad: 0.52632, mean: 4.2804 } as const;
/** n/(n − 0.8), what makes the scaled deviation right on average for n > 9 (Croux & Rousseeuw 1992, value from memory). */
const forFew = (count: number): number => count / (count - 0.8);

/** The same values in another order, by lot. */
function shuffled(values: readonly number[], seed: number): number[] {
  const even = evenNumbers(seed);
  return values
    .map((value) => ({ value, at: even() }))
    .sort((p, q) => p.at - q.at)
    .map(({ value }) => value);
}

describe('median and scaled median absolute deviation of published data', () => {
  it('stand here with their numbers copied right, by the mean that is published too', () => {
    expect(COPPER_PPM.reduce((sum, value) => sum + value, 0) / COPPER_PPM.length).toBeCloseTo(COPPER.mean, 4);
  });

  it.each([1, 2, 3, 4, 5])('are those of copper in flour, in whatever order (%i)', (seed) => {
    const values = shuffled(COPPER_PPM, seed);
    expect(medianOf(values)).toBeCloseTo(COPPER.median, 12);
    expect(robustSigma(values) / forFew(values.length)).toBeCloseTo(COPPER.scaledMad, 5);
  });

  it('do not mind how wild the blunder is', () => {
    const wilder = COPPER_PPM.map((value) => (value === 28.95 ? 28950 : value));
    expect(medianOf(wilder)).toBe(medianOf(COPPER_PPM));
    expect(robustSigma(wilder)).toBe(robustSigma(COPPER_PPM));
  });
});

describe('median and median absolute deviation against simple-statistics 7.12', () => {
  const normal = normalNumbers(11);
  const even = evenNumbers(12);
  /** Normal values, a tenth of them a thousand times as wide; or whole numbers, with ties. */
  const drawn = (count: number, ties: boolean): number[] =>
    Array.from({ length: count }, () =>
      ties ? Math.floor(7 * even()) - 3 : normal() * (even() < 0.1 ? 1000 : 1) - 50 * even(),
    );
  /** 1/Φ⁻¹(0.75) to 12 digits: Φ⁻¹(0.75) = 0.674489750196 (Abramowitz & Stegun 1964, table 26.5; last digits from memory). */
  const SCALE = 1 / 0.674489750196;

  it.each([
    ['values of every kind', false],
    ['values with ties', true],
  ])('agree on 500 samples of %s, of 1 to 200 values', (_, ties) => {
    for (let i = 0; i < 500; i += 1) {
      const values = drawn(1 + Math.floor(200 * even()), ties);
      const before = [...values];
      expect(medianOf(values)).toBe(median(values));
      if (values.length > 9) {
        const theirs = SCALE * medianAbsoluteDeviation(values) * forFew(values.length);
        expect(Math.abs(robustSigma(values) - theirs)).toBeLessThanOrEqual(1e-11 * theirs);
      }
      expect(values).toEqual(before);
    }
  });
});
