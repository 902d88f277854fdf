import { median, medianAbsoluteDeviation, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import { medianOf, robustSigma, sampleSigma } from '../../src/evidence/robust';
import { DEFAULT_SETTINGS } from '../../src/evidence/settings';
import { emptySurvey, madeLine, madeReading, madeReference, seeded } from '../helpers/made-survey';

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

describe('the error of a place that was read three times', () => {
  it('is that of the median, which its figure is', () => {
    const line = madeLine('A', [
      { chainageM: 0, lon: 14.5, lat: 46 },
      { chainageM: 60, lon: 14.500775, lat: 46 },
    ]);
    const at = (midpoint_m: number, value: number) =>
      madeReading(line, { midpoint_m, spacing_m: 2, hookup: 'pole_pole', value });
    const quiet = [2, 4, 6, 8, 10];
    const references = [madeReference(quiet.map((chainageM) => ({ line, chainageM })))];
    const errorOf = (values: readonly number[]): number => {
      const readings = [...quiet.map((chainageM) => at(chainageM, 100)), ...values.map((value) => at(40, value))];
      const findings = appraise({ ...emptySurvey(), lines: [line], readings, references });
      const place = findings.lines[0]?.midpoints.find(({ chainageM }) => chainageM === 40);
      return (place?.ratioStandardError as number) / (place?.ratio as number);
    };
    const factors = [0.8, 1, 1.3];
    // Variance of the median of three normal values: 0.4487 of their own (David & Nagaraja, Order Statistics; measured in
    // level-and-crossings.test.ts). What the reference adds is the same for one reading, whose own error is the floor.
    const due = 0.4487 * sampleSigma(factors.map(Math.log)) ** 2;
    const floor = DEFAULT_SETTINGS.standardErrorFloor ** 2;
    expect(errorOf(factors.map((factor) => 100 * factor)) ** 2 - errorOf([100]) ** 2).toBeCloseTo(due - floor, 6);
  });
});
