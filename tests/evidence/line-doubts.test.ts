import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import { geodesicDestination } from '../../src/position/geodesic';
import type { Doubt, DoubtCode } from '../../src/survey/doubt';
import { makeId } from '../../src/survey/ids';
import type { Line } from '../../src/survey/survey';
import { emptySurvey, type FixAt, madeLine } from '../helpers/made-survey';

const START = { lon: -91.9, lat: 37.4 };

/** Fixes on a straight line to the east; `shifts`: metres north that single ones are off. */
function straight(
  chainages: readonly number[],
  accuracyM: number,
  shifts: Record<number, number> = {},
  step = 1,
): Line {
  const fixes = chainages.map((chainageM): FixAt => {
    const at = geodesicDestination(START, 90, chainageM);
    return { chainageM: chainageM * step, ...geodesicDestination(at, 0, shifts[chainageM] ?? 0), accuracyM };
  });
  return madeLine('A', fixes);
}

const doubtsOf = (line: Line, code: DoubtCode): readonly Doubt[] =>
  appraise({ ...emptySurvey('line doubts'), lines: [line] }).doubts.filter((doubt) => doubt.code === code);

describe('a control that lies off', () => {
  it('is named with its chainage and its metres', () => {
    const [doubt, ...others] = doubtsOf(straight([0, 25, 50, 75, 100], 2, { 50: 12 }), 'control_residual');
    expect(others).toEqual([]);
    expect(doubt).toMatchObject({ chainageM: 50, severity: 'warning' });
    expect(doubt?.sentence).toMatch(/lies 12 m from where the others and the tape put it/);
  });

  it('is not named within its accuracy', () => {
    expect(doubtsOf(straight([0, 25, 50, 75, 100], 4, { 50: 3 }), 'control_residual')).toEqual([]);
  });

  it('shows in the findings, with what is left over of the others', () => {
    const findings = appraise({ ...emptySurvey('x'), lines: [straight([0, 25, 50, 75, 100], 2, { 50: 12 })] });
    const controls = findings.lines[0]?.controls ?? [];
    expect(controls.map(({ gross }) => gross)).toEqual([false, false, true, false, false]);
    expect(controls[2]?.residualM).toBeCloseTo(12, 0);
    for (const i of [0, 1, 3, 4]) expect(controls[i]?.residualSigma).toBeLessThan(1);
  });
});

describe('a tape that is not as long as it says', () => {
  it('is told with its per cent', () => {
    const [doubt] = doubtsOf(straight([0, 100, 200], 2, {}, 0.9), 'tape_gps_scale');
    expect(doubt?.severity).toBe('warning');
    expect(doubt?.sentence).toContain('11.1 % longer');
  });

  it('is told once on a line of two points, which is as unsure as they differ from the tape', () => {
    const line = straight([0, 200], 2, {}, 0.5);
    const [doubt] = doubtsOf(line, 'tape_gps_scale');
    expect(doubt?.sentence).toContain('100 % longer');
    expect(doubtsOf(line, 'control_residual')).toEqual([]);
    expect(doubtsOf(line, 'position_poor')[0]?.severity).toBe('warning');
  });

  it('is not told within the error of the fixes, nor under one per cent', () => {
    expect(doubtsOf(straight([0, 40], 4, {}, 0.95), 'tape_gps_scale')).toEqual([]);
    expect(doubtsOf(straight([0, 200], 0.05, {}, 0.994), 'tape_gps_scale')).toEqual([]);
  });
});

describe('a leg that says nothing', () => {
  it('is named: a magnetic bearing without its day', () => {
    const line = straight([0, 40], 2);
    const leg = {
      id: makeId('path', 'test', 'leg'),
      kind: 'leg' as const,
      from_chainage_m: 0,
      bearing_deg: 90,
      bearing_reference: 'magnetic' as const,
      distance_m: 40,
    };
    const sentences = doubtsOf({ ...line, path: [...line.path, leg] }, 'position_poor').map(({ sentence }) => sentence);
    expect(sentences.join(' ')).toContain('placed without the leg from 0 m');
  });
});
