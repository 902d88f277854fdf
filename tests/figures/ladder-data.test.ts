import { describe, expect, it } from 'vitest';
import { ladderData } from '../../src/figures/ladder-data';
import type { MidpointFinding, ReferenceCurve } from '../../src/findings';
import { demoContent } from '../app/demo-content';
import { madeLine, madeReading } from '../helpers/made-survey';
import { judged, madeFinding, madeLineFindings, OVER_RANGE } from './made-findings';

const curve = (figures: Readonly<Record<number, number>>, scatterLn: number): ReferenceCurve => ({
  references: [],
  hookup: 'pole_pole',
  day: null,
  wetting: null,
  kind: 'reference',
  points: Object.entries(figures).map(([spacing, figureOhmM]) => ({
    spacingM: Number(spacing),
    figureOhmM,
    scatterLn,
    stations: 5,
  })),
});

const at10 = (said: Partial<MidpointFinding>) => madeFinding({ chainageM: 10, ...said });

describe('the data of a ladder', () => {
  it('are the readings of one place and hookup by growing spacing; one without a spacing is in none', () => {
    const line = madeLineFindings([
      at10({ spacingM: 5 }),
      at10({ spacingM: 1 }),
      at10({ spacingM: null }),
      at10({ spacingM: 2, hookup: 'two_probe' }),
      madeFinding({ chainageM: 10.05, spacingM: 3 }),
      madeFinding({ chainageM: 11, spacingM: 3 }),
    ]);
    const data = ladderData(line, 10, 'pole_pole', [], []);
    expect(data.points.map(({ spacingM }) => spacingM)).toEqual([1, 3, 5]);
    expect(data.twoProbe).toBe(false);
    expect(ladderData(line, 10, 'two_probe', [], []).twoProbe).toBe(true);
  });

  it('take the scatter of the curve whose level the reading was compared with', () => {
    const line = madeLineFindings([at10({ spacingM: 1, referenceOhmM: 300 }), at10({ spacingM: 2 })]);
    const other = curve({ 1: 310, 2: 410 }, 0.5);
    const { reference } = ladderData(line, 10, 'pole_pole', [other, curve({ 1: 300, 2: 400 }, 0.04)], []);
    expect(reference).toEqual([
      { spacingM: 1, levelOhmM: 300, halfWidthLn: 0.04, basis: 'scatter' },
      { spacingM: 2, levelOhmM: 400, halfWidthLn: 0.04, basis: 'scatter' },
    ]);
  });

  it('show the spacings of the curve that were not read here, but only where it serves all that were', () => {
    const line = madeLineFindings([at10({ spacingM: 2 })]);
    const spacings = (references: readonly ReferenceCurve[]) =>
      ladderData(line, 10, 'pole_pole', references, []).reference.map(({ spacingM }) => spacingM);
    expect(spacings([curve({ 1: 300, 2: 400, 5: 500 }, 0.04)])).toEqual([1, 2, 5]);
    expect(spacings([curve({ 1: 300, 2: 401, 5: 500 }, 0.04)])).toEqual([2]);
  });

  it("fall back on the standard error of the reading's own ratio, and on the bare level where there is no ratio", () => {
    const line = madeLineFindings([
      at10({ spacingM: 1, ...judged(1.3, 'clear') }),
      at10({ spacingM: 2, ...OVER_RANGE, figureAboveOhmM: 900 }),
    ]);
    expect(ladderData(line, 10, 'pole_pole', [], []).reference).toEqual([
      { spacingM: 1, levelOhmM: 400, halfWidthLn: expect.closeTo(0.05, 9), basis: 'standard_error' },
      { spacingM: 2, levelOhmM: 400, halfWidthLn: null, basis: 'none' },
    ]);
  });

  it('compare a reading whose hookup was not said with two-probe curves', () => {
    const line = madeLineFindings([at10({ spacingM: 2, hookup: 'unknown', figureKind: 'two_probe' })]);
    const twoProbe: ReferenceCurve = { ...curve({ 2: 400 }, 0.07), hookup: 'two_probe' };
    expect(ladderData(line, 10, 'unknown', [twoProbe], []).reference[0]?.halfWidthLn).toBe(0.07);
  });
});

describe('repeats', () => {
  const line = madeLine('X', [
    { chainageM: 0, lon: 0, lat: 0 },
    { chainageM: 20, lon: 0, lat: 0.0002 },
  ]);
  const repeatsOf = (said: readonly Parameters<typeof madeReading>[1][], more: Partial<MidpointFinding> = {}) => {
    const readings = said.map((one) => madeReading(line, one));
    const counted = readings.filter(({ status }) => status === 'ok').length;
    const finding = at10({ readings: readings.map(({ id }) => id), readingCount: counted, ...more });
    return ladderData(madeLineFindings([finding]), 10, 'pole_pole', [], readings).points[0]?.repeats;
  };

  it('stand about the pooled figure as the meter showed them: 40 and 22.5 ohm, whose middle is 30 by ratio', () => {
    expect(
      repeatsOf(
        [
          { value: 40, unit: 'ohm' },
          { value: 22.5, unit: 'ohm' },
        ],
        { figureOhmM: 300 },
      ),
    ).toEqual([
      { figureOhmM: expect.closeTo(400, 9), above: false },
      { figureOhmM: expect.closeTo(225, 9), above: false },
    ]);
  });

  it('leave rejected ones out and show over-range ones above their limit', () => {
    const shown = repeatsOf(
      [
        { value: 400, unit: 'ohm_m' },
        { value: 4000, unit: 'ohm_m', status: 'rejected' },
        { value: null, unit: 'kohm_m', status: 'over_range', limit: 2 },
      ],
      { figureOhmM: 400 },
    );
    expect(shown).toEqual([
      { figureOhmM: expect.closeTo(400, 9), above: false },
      { figureOhmM: expect.closeTo(2000, 9), above: true },
    ]);
  });

  it('are not shown for a reading taken once, nor where they were taken in different ways', () => {
    expect(repeatsOf([{ value: 400 }])).toEqual([]);
    expect(
      repeatsOf([
        { value: 400, unit: 'ohm_m' },
        { value: 40, unit: 'ohm' },
      ]),
    ).toEqual([]);
    expect(repeatsOf([{ value: 400, meter_spacing_m: 1 }, { value: 400 }])).toEqual([]);
  });

  it('of the two-probe line of the demo are the very ohm-metres that its meter showed', () => {
    const { survey, findings } = demoContent();
    const byId = new Map(survey.readings.map((reading) => [reading.id, reading]));
    let seen = 0;
    for (const line of findings.lines.filter(({ name }) => name === 'T')) {
      for (const finding of line.midpoints.filter(({ readings }) => readings.length > 1)) {
        const data = ladderData(line, finding.chainageM, finding.hookup, findings.references, survey.readings);
        const repeats = data.points.find(({ sid }) => sid === finding.key)?.repeats ?? [];
        const shown = finding.readings.flatMap((id) => {
          const reading = byId.get(id);
          return reading?.status === 'ok' && reading.unit === 'ohm_m' ? [reading.value] : [];
        });
        if (shown.length !== repeats.length) continue;
        repeats.forEach(({ figureOhmM }, i) => {
          seen += 1;
          expect(figureOhmM).toBeCloseTo(shown[i] ?? 0, 6);
        });
      }
    }
    expect(seen).toBe(30);
  });
});
