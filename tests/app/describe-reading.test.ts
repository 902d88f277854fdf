import { describe, expect, it } from 'vitest';
import { describeReading } from '../../src/app/words/describe-reading';
import type { MidpointFinding } from '../../src/findings';
import type { LineId } from '../../src/survey/ids';

const polePole: MidpointFinding = {
  key: 'k',
  lineId: 'line-x' as LineId,
  chainageM: 14,
  spacingM: 2,
  hookup: 'pole_pole',
  readings: [],
  readingCount: 1,
  figureKind: 'apparent_resistivity',
  figureOhmM: 526.4,
  figureAboveOhmM: null,
  referenceOhmM: 417,
  referenceBasis: 'same_day_and_wetting',
  referenceStations: 5,
  ratio: 1.262,
  ratioStandardError: 0.07,
  zScore: 4.41,
  stepRatio: 1.2,
  grade: 'clear',
  sign: 'above_reference',
  depthM: 1.73,
  depthRule: 'median',
  aM: 13,
  bM: null,
  mM: 15,
  nM: null,
  lon: -91.9136,
  lat: 37.4085,
  uncertainty95M: 0.84,
  measuredAt: '2026-05-12',
  fromM: 13.5,
  toM: 14.5,
  doubts: [],
};

const twoProbe: MidpointFinding = {
  ...polePole,
  hookup: 'two_probe',
  figureKind: 'two_probe',
  depthM: null,
  depthRule: 'none',
  bM: 15,
  mM: 13,
  aM: 13,
  nM: 15,
};

const told = (finding: MidpointFinding, shown: readonly string[] = ['522 Ω·m']) => {
  const { rows, ...rest } = describeReading(finding, 'C', shown);
  return { ...rest, rows: Object.fromEntries(rows.map(({ term, words }) => [term, words])) };
};

describe('a reading in words', () => {
  it('has its place in the title and its grade in the verdict', () => {
    expect(told(polePole)).toMatchObject({
      title: 'Line C, 14\u00a0m, spacing 2\u00a0m',
      verdict: 'Clearly above the reference: ×1.26',
      warning: null,
    });
  });

  it('tells every number with its unit, and what it was compared with', () => {
    expect(told(polePole).rows).toEqual({
      'Meter showed': '522 Ω·m (read once)',
      'Apparent resistivity': '526 Ω·m',
      Reference: '417 Ω·m, from reference stations of the same day, wetted alike',
      Ratio: '1.26 ± 0.07 times the reference',
      'How unusual': '4.4 standard errors above (z 4.4)',
      Step: 'from the next narrower spacing it steps 1.20 times as much as the reference does',
      Depth: '1.73 m (half of what uniform ground answers lies above it)',
      Hookup: 'pole-pole',
      Probes: 'A at 13 m, M at 15 m; B and N remote',
      'Speaks for': '13.5 m to 14.5 m along the line',
      Position: '37.408500° N, 91.913600° W, within 0.8 m (95 % sure)',
      'Read on': '2026-05-12',
    });
  });

  it('never calls a two-probe figure a resistivity or gives it a depth, and says that it is contact', () => {
    const { rows, warning, verdict } = told(twoProbe);
    expect(rows).not.toHaveProperty('Apparent resistivity');
    expect(rows['Two-probe figure']).toBe('526 Ω·m');
    expect(rows.Depth).toContain('none');
    expect(rows.Probes).toBe('rods at 13 m and 15 m');
    expect(verdict).toBe('Hint: clearly above the reference: ×1.26');
    expect(warning).toContain('mostly the contact of the rods');
  });

  it('tells repeats apart from a reading taken once', () => {
    const { rows } = told({ ...polePole, readingCount: 2 }, ['522 Ω·m', '530 Ω·m', '90 Ω·m, rejected: lead off']);
    expect(rows['Meter showed']).toBe(
      '522 Ω·m; 530 Ω·m; 90 Ω·m, rejected: lead off (3 readings, 2 of them in the figure)',
    );
  });

  it('gives a bound and no number for a place that was only read over range', () => {
    const overRange: MidpointFinding = {
      ...polePole,
      figureOhmM: null,
      figureAboveOhmM: 19990,
      ratio: null,
      ratioStandardError: null,
      zScore: null,
      stepRatio: null,
      grade: null,
      sign: null,
    };
    const { rows, verdict } = told(overRange, ['over range']);
    expect(rows['Apparent resistivity']).toBe('above 20000 Ω·m');
    expect(rows).not.toHaveProperty('Ratio');
    expect(verdict).toBe('Over range: no figure, so no grade');
  });

  it('names the common practice where half the spacing is the depth', () => {
    expect(told({ ...polePole, depthRule: 'half_spacing', depthM: 1 }).rows.Depth).toBe(
      '1 m (half the spacing, as is common practice)',
    );
  });

  it('says so where there was nothing to compare with', () => {
    const alone: MidpointFinding = {
      ...polePole,
      referenceOhmM: null,
      referenceBasis: 'none',
      ratio: null,
      ratioStandardError: null,
      grade: null,
      sign: null,
    };
    expect(told(alone).verdict).toBe('Not graded: nothing to compare with');
    expect(told(alone).rows.Reference).toContain('none');
  });
});
