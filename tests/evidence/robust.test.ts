import { median, medianAbsoluteDeviation, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { medianOf, robustSigma, sampleSigma } from '../../src/evidence/robust';
import { seeded } from '../helpers/made-survey';

describe('robust statistics', () => {
  it('agree with simple-statistics 7.12 on samples of every size', () => {
    const random = seeded(1);
    for (let size = 2; size < 60; size += 1) {
      const values = Array.from({ length: size }, () => Math.round(random() * 40) / 8 - 2);
      const before = [...values];
      expect(medianOf(values)).toBe(median(values));
      if (size >= 10) {
        const corrected = (1.4826 * medianAbsoluteDeviation(values) * size) / (size - 0.8);
        expect(robustSigma(values)).toBeCloseTo(corrected, 4);
      }
      expect(sampleSigma(values)).toBeCloseTo(sampleStandardDeviation(values), 12);
      expect(values).toEqual(before);
    }
  });

  it('estimate the standard deviation of normal numbers', () => {
    const random = seeded(2);
    // Box–Muller.
    const normal = Array.from(
      { length: 20000 },
      () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random()),
    );
    expect(Math.abs(robustSigma(normal) - 1)).toBeLessThan(0.03);
  });

  it('are right on average for few values too', () => {
    const random = seeded(3);
    const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    for (const size of [2, 3, 4, 5, 6, 7, 8, 9, 12, 20]) {
      let sum = 0;
      const rounds = 20000;
      for (let i = 0; i < rounds; i += 1) sum += robustSigma(Array.from({ length: size }, normal));
      expect(Math.abs(sum / rounds - 1), `${size} values`).toBeLessThan(0.025);
    }
  });

  it('have no scatter for a single value', () => {
    expect(robustSigma([3])).toBe(0);
    expect(sampleSigma([3])).toBe(0);
  });
});
