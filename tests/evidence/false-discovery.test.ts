import { cumulativeStdNormalProbability } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import { largestThatStands, twoSided } from '../../src/evidence/false-discovery';
import { DEFAULT_SETTINGS } from '../../src/evidence/settings';
import { emptySurvey, madeLine, madeReading, madeReference, seeded } from '../helpers/made-survey';

/** The 15 ordered p-values of the worked example in Benjamini & Hochberg 1995, section 4.1 (values from memory). */
const THROMBOLYSIS = Float64Array.from([
  0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719, 0.6528, 0.759, 1,
]);

describe('false discoveries along a line', () => {
  it('are held down as in the example of Benjamini & Hochberg 1995: four of fifteen hypotheses fall at 5 %', () => {
    expect(largestThatStands(THROMBOLYSIS, 0.05, 'benjamini_hochberg')).toBe(0.0095);
  });

  it('fall to fewer under any dependence: the harmonic sum of 15 is 3.3182, which leaves three', () => {
    // 3 · 0.05 / (15 · 3.3182) = 0.00301 ≥ 0.0019; 4 · 0.05 / (15 · 3.3182) = 0.00402 < 0.0095: worked by hand.
    expect(largestThatStands(THROMBOLYSIS, 0.05, 'benjamini_yekutieli')).toBe(0.0019);
  });

  it('step up: a p-value over its own share stands when a larger one is within its share', () => {
    expect(largestThatStands(Float64Array.from([0.03, 0.04]), 0.05, 'benjamini_hochberg')).toBe(0.04);
    expect(largestThatStands(Float64Array.from([0.5, 0.9]), 0.05, 'benjamini_hochberg')).toBe(-1);
  });

  it('come from two-sided p-values as in the tables of the normal distribution', () => {
    // Standard tables: 1.959964, 2.575829, 3.290527, 3.890592, 4.417173, 4.891638 leave 5 % … 1e-6.
    for (const [z, p] of [
      [1.959964, 0.05],
      [-2.575829, 0.01],
      [3.290527, 1e-3],
      [3.890592, 1e-4],
      [4.417173, 1e-5],
      [-4.891638, 1e-6],
    ] as const) {
      expect(Math.abs(twoSided(z) / p - 1)).toBeLessThan(0.02);
    }
    for (let z = 0; z < 3; z += 0.25) {
      // simple-statistics' table is to 1e-4.
      expect(Math.abs(twoSided(z) - 2 * (1 - cumulativeStdNormalProbability(z)))).toBeLessThan(2e-4);
    }
  });

  it('leave a line of quiet ground with hardly a grade, and a clear one where it is', () => {
    const line = madeLine('A', [
      { chainageM: 0, lon: -91.9, lat: 37.4 },
      { chainageM: 100, lon: -91.89887, lat: 37.4 },
    ]);
    const random = seeded(4);
    const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    const readings = Array.from({ length: 95 }, (_, i) =>
      madeReading(line, {
        midpoint_m: i + 1,
        spacing_m: 2,
        hookup: 'pole_pole',
        value: 300 * Math.exp(0.07 * normal()) * (i === 60 ? 2 : 1),
      }),
    );
    const survey = {
      ...emptySurvey(),
      lines: [line],
      readings,
      references: [madeReference(Array.from({ length: 20 }, (_, i) => ({ line, chainageM: i + 1 })))],
    };
    const gradedBy = (falseDiscoveryRate: number) =>
      appraise(survey, { ...DEFAULT_SETTINGS, falseDiscoveryRate }).lines.flatMap(({ midpoints, discovery }) => {
        const graded = midpoints.filter(({ grade }) => grade !== 'none').map(({ chainageM }) => chainageM);
        expect(discovery).toMatchObject({ tested: 95, kept: graded.length });
        return graded;
      });
    expect(gradedBy(1).length).toBeGreaterThan(1);
    expect(gradedBy(0.1)).toEqual([61]);
  });
});
