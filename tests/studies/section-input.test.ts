import { describe, expect, it } from 'vitest';
import { geometricFactorM } from '../../src/ground/geometric-factor';
import { nominalDistances } from '../../src/ground/layout';
import { sectionInputOf } from '../../src/studies/section-input';
import { demoContent } from '../app/demo-content';

describe('what goes into a section', () => {
  const { survey, findings } = demoContent();
  const twoProbe = findings.lines.find(({ hookups }) => hookups.every((hookup) => hookup === 'two_probe'));
  const polePoleLine = findings.lines.find(({ hookups }) => hookups.includes('pole_pole'));

  it('is no two-probe reading, and the reason is said', () => {
    const line = twoProbe ?? polePoleLine;
    const refused = sectionInputOf(survey, findings, line?.lineId as string, { hookup: 'two_probe' });
    expect(refused).toMatchObject({ ok: false, code: 'two_probe_no_section' });
    if (!refused.ok) expect(refused.sentence).toContain('contact');
    if (twoProbe) {
      expect(sectionInputOf(survey, findings, twoProbe.lineId)).toMatchObject({ code: 'two_probe_no_section' });
    }
  });

  it('is every placed reading of a pole-pole line', () => {
    const input = sectionInputOf(survey, findings, polePoleLine?.lineId as string);
    if (!input.ok) throw new Error(input.sentence);
    const { readings, leftOut, hookups } = input.value;
    expect(hookups).toEqual(['pole_pole']);
    expect(readings.length + leftOut.length).toBe(polePoleLine?.midpoints.length);
    for (const { layout, apparentOhmM, sigmaLn } of readings) {
      expect(Number.isFinite(geometricFactorM(nominalDistances(layout)))).toBe(true);
      expect(apparentOhmM).toBeGreaterThan(0);
      expect(sigmaLn).toBeGreaterThan(0);
    }
  });

  it('is refused for a line that is not there', () => {
    expect(sectionInputOf(survey, findings, 'nowhere')).toMatchObject({ ok: false, code: 'no_such_line' });
  });
});
