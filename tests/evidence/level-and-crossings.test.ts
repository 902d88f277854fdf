import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import { medianOf, medianVariance, moreToHalve } from '../../src/evidence/robust';
import { DEFAULT_SETTINGS } from '../../src/evidence/settings';
import { commit } from '../../src/survey/commit';
import { referToQuietPart } from '../../src/survey/reference-edits';
import type { Line, Reading, Survey } from '../../src/survey/survey';
import { emptySurvey, madeLine, madeReading, madeReference, seeded } from '../helpers/made-survey';

const along = (name: string, lat: number): Line =>
  madeLine(name, [
    { chainageM: 0, lon: -91.9, lat },
    { chainageM: 80, lon: -91.899096, lat },
  ]);
const quiet = along('Q', 37.41);
const line = along('A', 37.4);
const normalOf = (seed: number) => {
  const random = seeded(seed);
  return () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
};

function row(on: Line, chainages: readonly number[], valueAt: (chainageM: number) => number): Reading[] {
  return chainages.flatMap((midpoint) =>
    [2, 4].map((spacing) =>
      madeReading(on, { midpoint_m: midpoint, spacing_m: spacing, value: valueAt(midpoint), hookup: 'pole_pole' }),
    ),
  );
}

const STATIONS = [10, 20, 30, 40, 50, 60, 70];

function surveyOf(valueAt: (chainageM: number) => number, chainages: readonly number[]): Survey {
  const normal = normalOf(5);
  return {
    ...emptySurvey(),
    lines: [quiet, line],
    readings: [...row(quiet, STATIONS, () => 300 * Math.exp(0.03 * normal())), ...row(line, chainages, valueAt)],
    references: [madeReference(STATIONS.map((chainageM) => ({ line: quiet, chainageM })))],
  };
}

const EVERY = Array.from({ length: 36 }, (_, i) => 5 + 2 * i);
const overOtherSoil = (chainageM: number): number => (Math.abs(chainageM - 41) <= 2 ? 1.8 : 1.4) * 300;

describe('the level of a line', () => {
  it('is taken out where stations reach beyond what stands out, and the step stays', () => {
    const survey = surveyOf(overOtherSoil, EVERY);
    const found = appraise(survey).lines.find(({ name }) => name === 'A');
    const [level] = found?.levels ?? [];
    expect(level).toMatchObject({ takenOut: true });
    expect(Math.abs((level?.factor ?? 0) / 1.4 - 1)).toBeLessThan(0.03);
    expect(level?.sentence).toContain('taken out');
    const far = found?.midpoints.find(({ chainageM }) => chainageM === 5);
    expect(Math.abs((far?.ratio ?? 0) - 1)).toBeLessThan(0.03);
    expect(far?.figureOhmM).toBeCloseTo((far?.referenceOhmM ?? 0) * (far?.ratio ?? 0), 6);
    const over = found?.midpoints.find(({ chainageM, spacingM }) => chainageM === 41 && spacingM === 4);
    expect(Math.abs((over?.ratio ?? 0) / (1.8 / 1.4) - 1)).toBeLessThan(0.03);
    expect(over?.stepRatio).toBeCloseTo(
      appraise(survey, { ...DEFAULT_SETTINGS, takeOutLevel: false }).lines[1]?.midpoints.find(
        ({ key }) => key === over?.key,
      )?.stepRatio ?? Number.NaN,
      9,
    );
  });

  it('stays in when that is not wanted, and is told all the same', () => {
    const found = appraise(surveyOf(overOtherSoil, EVERY), { ...DEFAULT_SETTINGS, takeOutLevel: false }).lines[1];
    expect(found?.levels?.[0]).toMatchObject({ takenOut: false });
    expect(found?.midpoints.find(({ chainageM }) => chainageM === 5)?.ratio).toBeGreaterThan(1.3);
  });

  it('is not separable with fewer than five stations beyond', () => {
    const found = appraise(surveyOf(overOtherSoil, [33, 37, 41, 45, 49])).lines[1];
    expect(found?.levels?.[0]).toMatchObject({ factor: null, takenOut: false });
    expect(found?.levels?.[0]?.sentence).toContain('not separable');
    expect(found?.midpoints.find(({ chainageM }) => chainageM === 33)?.ratio).toBeGreaterThan(1.3);
  });
});

describe('a reference', () => {
  it('knows its level as well as a plain simulation says, and how many more stations halve the error', () => {
    const normal = normalOf(6);
    for (const count of [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 15, 40]) {
      let sum = 0;
      const rounds = 20000;
      for (let i = 0; i < rounds; i += 1) sum += medianOf(Array.from({ length: count }, normal)) ** 2;
      expect(Math.abs(medianVariance(count) / (sum / rounds) - 1), `${count} stations`).toBeLessThan(0.06);
    }
    const more = moreToHalve(5) as number;
    expect(medianVariance(5 + more) * 4).toBeLessThanOrEqual(medianVariance(5));
    expect(medianVariance(5 + more - 1) * 4).toBeGreaterThan(medianVariance(5));
    const [point] = appraise(surveyOf(overOtherSoil, EVERY)).references[0]?.points ?? [];
    expect(point?.standardErrorLn).toBeCloseTo((point?.scatterLn ?? 0) * Math.sqrt(medianVariance(7)), 12);
    expect(point?.moreStationsToHalve).toBe(moreToHalve(7));
  });

  it('can be made of the quiet part of a line', () => {
    const survey = { ...surveyOf(() => 300, EVERY), references: [] };
    const author = { by: 'Ada', at: '2026-05-12T10:00:00Z' };
    const outcome = referToQuietPart(survey, { line, fromM: 20, toM: 5 }, author);
    if (!outcome.ok) throw new Error(outcome.sentence);
    const after = commit(survey, outcome.value).survey;
    expect(after.references[0]?.stations.map(({ chainage_m }) => chainage_m)).toEqual([5, 7, 9, 11, 13, 15, 17, 19]);
    expect(appraise(after).lines[1]?.midpoints[0]).toMatchObject({ referenceStations: 8 });
    expect(referToQuietPart(survey, { line, fromM: 100, toM: 120 }, author)).toMatchObject({
      ok: false,
      code: 'no_quiet_readings',
    });
  });
});

describe('a place that was only read over range', () => {
  const over = (limit: number) => {
    const survey = surveyOf(() => 300, []);
    const reading = madeReading(line, {
      midpoint_m: 41,
      spacing_m: 2,
      hookup: 'pole_pole',
      status: 'over_range',
      limit,
    });
    return appraise({ ...survey, readings: [...survey.readings, reading] }).lines[1]?.midpoints[0];
  };

  it('is graded by its limit where the limit itself stands out, and has no ratio', () => {
    expect(over(600)).toMatchObject({ ratio: null, zScore: null, grade: 'strong', sign: 'above_reference' });
    expect(Math.abs((over(600)?.ratioAbove ?? 0) / 2 - 1)).toBeLessThan(0.03);
  });

  it('is not graded where the limit says nothing', () => {
    expect(over(310)).toMatchObject({ ratio: null, grade: null, sign: null });
    expect(over(150)).toMatchObject({ ratio: null, grade: null, sign: null });
  });
});

describe('lines that cross', () => {
  const across = madeLine('X', [
    { chainageM: 0, lon: -91.899548, lat: 37.39982 },
    { chainageM: 40, lon: -91.899548, lat: 37.40018 },
  ]);
  const crossing = (value: number) => {
    const survey = surveyOf(() => 300, EVERY);
    return appraise({
      ...survey,
      lines: [...survey.lines, across],
      readings: [...survey.readings, ...row(across, [16, 18, 20, 22, 24], () => value)],
    }).crossings;
  };

  it('are compared at the crossing, spacing by spacing', () => {
    const found = crossing(303);
    expect(found?.map(({ spacingM }) => spacingM)).toEqual([2, 4]);
    for (const one of found ?? []) {
      expect(one.agree).toBe(true);
      // The lines cross at 40.0 m of A (half its length) and half-way along X.
      const [atA, atX] = one.lines[0] === line.id ? one.chainagesM : [one.chainagesM[1], one.chainagesM[0]];
      expect(Math.abs(atA - 40)).toBeLessThan(0.1);
      expect(Math.abs(atX - 20)).toBeLessThan(0.1);
    }
  });

  it('do not agree when their figures differ by more than their errors', () => {
    expect(crossing(450)?.every(({ agree }) => !agree)).toBe(true);
  });

  it('are none when the readings end before the crossing', () => {
    const survey = surveyOf(() => 300, [5, 7, 9]);
    const readings = [...survey.readings, ...row(across, [20], () => 300)];
    expect(appraise({ ...survey, lines: [...survey.lines, across], readings }).crossings).toEqual([]);
  });
});
