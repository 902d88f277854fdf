import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import type { MidpointFinding } from '../../src/findings';
import { emptySurvey, madeLine, madeReading, madeReference } from '../helpers/made-survey';

/*
 * Common practice, no source (ratios only): what a two-probe ladder does over ordinary ground and over a suspect place.
 */
const ORDINARY_STEPS = [2.3, 2.25, 3.0];
const SPACINGS_M = [2, 4, 8, 20];
const SUSPECT_STEPS = [4.4, 1.12];

const line = madeLine('walk', [
  { chainageM: 0, lon: -91.9, lat: 37.4 },
  { chainageM: 100, lon: -91.8988708, lat: 37.4 },
]);

function ladder(midpointM: number, level: number, steps: readonly number[], firstSpacing = 0) {
  let value = level;
  return [1, ...steps].map((step, i) => {
    value *= step;
    return madeReading(line, {
      midpoint_m: midpointM,
      spacing_m: SPACINGS_M[firstSpacing + i] as number,
      value: Number(value.toPrecision(4)),
      hookup: 'two_probe',
    });
  });
}

describe('a two-probe ladder', () => {
  const quiet = [10, 13, 16, 19, 22].flatMap((chainage, i) =>
    ladder(chainage, 100 * (1 + 0.03 * (i - 2)), ORDINARY_STEPS),
  );

  it('over ordinary ground climbs steadily and is suspected of being contact', () => {
    const findings = appraise({ ...emptySurvey(), lines: [line], readings: quiet });
    const doubt = findings.doubts.find(({ code }) => code === 'contact_suspected');
    expect(doubt?.severity).toBe('warning');
    expect(doubt?.readings).toHaveLength(quiet.length);
  });

  it.each([8, 16])(
    'over a suspect place, %i times the reference, is a hint with its steps, contact suspected, never a void',
    (level) => {
      const suspect = ladder(60, 100 * level, SUSPECT_STEPS);
      const findings = appraise({
        ...emptySurvey(),
        lines: [line],
        readings: [...quiet, ...suspect],
        references: [madeReference([10, 13, 16, 19, 22].map((chainageM) => ({ line, chainageM })))],
      });
      const rungs = findings.lines[0]?.midpoints.filter(({ chainageM }) => chainageM === 60) ?? [];
      const at = (spacingM: number): MidpointFinding | undefined => rungs.find((rung) => rung.spacingM === spacingM);
      expect(at(2)?.ratio).toBeCloseTo(level, 1);
      expect(at(4)?.stepRatio).toBeCloseTo(4.4 / 2.3, 2);
      expect(at(8)?.stepRatio).toBeCloseTo(1.12 / 2.25, 2);
      for (const rung of rungs) {
        expect(rung.figureKind).toBe('two_probe');
        expect(rung.grade).toBe('strong');
        expect(rung.depthM).toBeNull();
        expect(rung.depthRule).toBe('none');
        expect(rung.doubts).toContain('contact_suspected');
      }
      expect(findings.lines[0]?.corridors).toEqual([]);
    },
  );

  it('moved off by a metre at a time falls as the figures of before say', () => {
    const moves = [0.56, 0.65, 0.93];
    let value = 1600;
    const readings = [
      ...quiet,
      ...[1, ...moves].map((share, i) => {
        value *= share;
        return madeReading(line, { midpoint_m: 60 + i, spacing_m: 2, value, hookup: 'two_probe' });
      }),
    ];
    const findings = appraise({
      ...emptySurvey(),
      lines: [line],
      readings,
      references: [madeReference([10, 13, 16, 19, 22].map((chainageM) => ({ line, chainageM })))],
    });
    const ratios = (findings.lines[0]?.midpoints ?? [])
      .filter(({ chainageM }) => chainageM >= 60)
      .map(({ ratio }) => ratio ?? 0);
    ratios.slice(1).forEach((ratio, i) => {
      expect(ratio / (ratios[i] ?? 1)).toBeCloseTo(moves[i] ?? 0, 6);
    });
  });
});

describe('a declared pole-pole ladder', () => {
  it('whose resistance does not fall with spacing is doubted as pole-pole', () => {
    const readings = SPACINGS_M.map((spacing) =>
      madeReading(line, { midpoint_m: 30, spacing_m: spacing, value: 470, unit: 'ohm', hookup: 'pole_pole' }),
    );
    const codes = appraise({ ...emptySurvey(), lines: [line], readings }).doubts.map(({ code }) => code);
    expect(codes).toContain('not_pole_pole');
    expect(codes).toContain('contact_suspected');
  });

  it('whose resistance falls as 1/a is not', () => {
    const readings = SPACINGS_M.map((spacing) =>
      madeReading(line, {
        midpoint_m: 30,
        spacing_m: spacing,
        value: 100 / (2 * Math.PI * spacing),
        unit: 'ohm',
        hookup: 'pole_pole',
      }),
    );
    const codes = appraise({ ...emptySurvey(), lines: [line], readings }).doubts.map(({ code }) => code);
    expect(codes).not.toContain('not_pole_pole');
    expect(codes).not.toContain('contact_suspected');
  });
});

describe('two rods in uniform ground', () => {
  it('read the two-terminal series of Dwight rods, and are called contact', () => {
    // REFERENCE: R = 2·Rc − ρ/(πa) with Rc = 237.705278 Ω (Dwight 1936; ρ 100 Ω·m, rods 0.3 m × 10 mm); 2πaR computed
    // for this project: 5774.19, 11748.37, 23696.74, 59541.85.
    const expected = [5774.19, 11748.37, 23696.74, 59541.85];
    const readings = SPACINGS_M.map((spacing) =>
      madeReading(line, {
        midpoint_m: 30,
        spacing_m: spacing,
        value: 2 * 237.705278 - 100 / (Math.PI * spacing),
        unit: 'ohm',
        hookup: 'two_probe',
      }),
    );
    const findings = appraise({ ...emptySurvey(), lines: [line], readings });
    const figures = findings.lines[0]?.midpoints.map(({ figureOhmM }) => figureOhmM ?? 0) ?? [];
    figures.forEach((figure, i) => {
      expect(figure).toBeCloseTo(expected[i] ?? 0, 2);
    });
    expect(findings.doubts.map(({ code }) => code)).toContain('contact_suspected');
  });
});
