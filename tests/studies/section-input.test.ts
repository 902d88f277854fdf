import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import { sampleSigma } from '../../src/evidence/robust';
import { geometricFactorM } from '../../src/ground/geometric-factor';
import { nominalDistances } from '../../src/ground/layout';
import { sectionInputOf } from '../../src/studies/section-input';
import { soundingInput } from '../../src/studies/sounding-input';
import { voidSearchInputOf } from '../../src/studies/void-search-input';
import type { Reading } from '../../src/survey/survey';
import { demoContent } from '../app/demo-content';
import { emptySurvey, madeLine, madeReading } from '../helpers/made-survey';

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

describe('the error of a reading that was repeated', () => {
  /** Three ladders of pole-pole readings of 100 Ω·m, each read as often as `shown` says. */
  const errorsOf = (shown: readonly ((ohm: number) => Partial<Reading>)[]): number[] => {
    const line = madeLine('A', [
      { chainageM: 0, lon: 14.5, lat: 46 },
      { chainageM: 40, lon: 14.50051, lat: 46 },
    ]);
    const readings = [15, 20, 25].flatMap((midpoint_m) =>
      [2, 4, 8].flatMap((spacing_m) => {
        const ohm = 100 / (2 * Math.PI * spacing_m);
        return shown.map((own) => madeReading(line, { midpoint_m, spacing_m, hookup: 'pole_pole', ...own(ohm) }));
      }),
    );
    const survey = { ...emptySurvey(), lines: [line], readings };
    const findings = appraise(survey);
    const [section, search, ladder] = [
      sectionInputOf(survey, findings, line.id),
      voidSearchInputOf(survey, findings, [line.id]),
      soundingInput(survey, findings, 'A', 20),
    ];
    if (!section.ok || !search.ok || !ladder.ok) throw new Error('three ladders are enough for each');
    return [
      ...section.value.readings.map(({ sigmaLn }) => sigmaLn),
      ...(search.value.lines[0]?.readings ?? []).map(({ sigmaLn }) => sigmaLn),
      ...ladder.value.rungs.map(({ ownSigmaLn }) => ownSigmaLn),
    ];
  };
  const FLOOR = 0.03;

  it.each<[string, ((ohm: number) => Partial<Reading>)[]]>([
    [
      'with twice the current',
      [
        (ohm) => ({ unit: 'mV', value: 10 * ohm, current_ma: 10 }),
        (ohm) => ({ unit: 'mV', value: 20 * ohm, current_ma: 20 }),
      ],
    ],
    [
      'in ohms and in kilohms',
      [(ohm) => ({ unit: 'ohm', value: ohm }), (ohm) => ({ unit: 'kohm', value: ohm / 1000 })],
    ],
  ])('does not grow by how the same figure was shown: %s', (_, shown) => {
    const errors = errorsOf(shown);
    expect(errors.length).toBeGreaterThan(20);
    for (const error of errors) expect(error).toBeCloseTo(FLOOR, 9);
  });

  it('is that of the median where three repeats differ', () => {
    const factors = [0.8, 1, 1.3];
    const errors = errorsOf(factors.map((factor) => (ohm) => ({ unit: 'ohm', value: factor * ohm })));
    // Variance of the median of three normal values: 0.4487 of their own (David & Nagaraja, as in the table of robust.ts).
    const due = Math.sqrt(0.4487) * sampleSigma(factors.map(Math.log));
    for (const error of errors) expect(error).toBeCloseTo(due, 6);
  });
});
