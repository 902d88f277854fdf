import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { appraise } from '../src/appraise';
import { DEFAULT_SETTINGS, settingsOf } from '../src/evidence/settings';
import type { Findings, MidpointFinding } from '../src/findings';
import type { Reading, Survey } from '../src/survey/survey';
import { emptySurvey, madeLine, madeOuting, madeReading, madeReference } from './helpers/made-survey';

const line = madeLine('A', [
  { chainageM: 0, lon: -91.9, lat: 37.4 },
  { chainageM: 40, lon: -91.8995483, lat: 37.4 },
]);
const read = (said: Partial<Reading>): Reading =>
  madeReading(line, { midpoint_m: 20, spacing_m: 4, value: 300, hookup: 'pole_pole', ...said });
const survey = (readings: readonly Reading[], more: Partial<Survey> = {}): Survey => ({
  ...emptySurvey(),
  lines: [line],
  readings,
  ...more,
});
const only = (findings: Findings): MidpointFinding => {
  const midpoints = findings.lines.flatMap((each) => each.midpoints);
  expect(midpoints).toHaveLength(1);
  return midpoints[0] as MidpointFinding;
};

describe('figures', () => {
  it('are the same in ohms, kilohms, ohm-metres, kilohm-metres and millivolts over milliamperes', () => {
    const ohm = 5;
    const ohmM = 2 * Math.PI * 4 * ohm;
    const figures = [
      read({ value: ohm, unit: 'ohm' }),
      read({ value: ohm / 1000, unit: 'kohm' }),
      read({ value: ohmM, unit: 'ohm_m' }),
      read({ value: ohmM / 1000, unit: 'kohm_m' }),
      read({ value: 60, unit: 'mV', current_ma: 12 }),
    ].map((reading) => only(appraise(survey([reading]))).figureOhmM);
    for (const figure of figures) expect(figure).toBeCloseTo(ohmM, 9);
  });

  it('undo the setting of the meter: set to 5 m at a spacing of 8 m it shows 2π·5·R', () => {
    const ohm = 9.7;
    const wrong = read({ spacing_m: 8, meter_spacing_m: 5, value: 2 * Math.PI * 5 * ohm });
    expect(only(appraise(survey([wrong]))).figureOhmM).toBeCloseTo(2 * Math.PI * 8 * ohm, 9);
    const inOhm = read({ spacing_m: 8, meter_spacing_m: 5, value: ohm, unit: 'ohm' });
    expect(only(appraise(survey([inOhm]))).figureOhmM).toBeCloseTo(2 * Math.PI * 8 * ohm, 9);
  });

  it('of pole-pole take the remotes where they stand: 20 spacings away, uniform ground comes out as it is', () => {
    // Table of finite remotes: 2πaR is 7.085 % low with both remotes in line at 20 a (computed for this project).
    const metresPerDegree = 88_783.0; // of longitude at 37.4°, geographiclib-geodesic: see the tolerance below
    const a = 4;
    const west = -91.9 + (20 - a / 2 - 20 * a) / metresPerDegree;
    const east = -91.9 + (20 + a / 2 + 20 * a) / metresPerDegree;
    const day = madeOuting('day', {
      remotes: [
        { role: 'B', position: { x: west, y: 37.4, crs: 'EPSG:4326' } },
        { role: 'N', position: { x: east, y: 37.4, crs: 'EPSG:4326' } },
      ],
    });
    const shown = 100 * (1 - 0.07085);
    const figure = only(appraise(survey([read({ value: shown, outing: day.id })], { outings: [day] }))).figureOhmM;
    expect(Math.abs((figure ?? 0) / 100 - 1)).toBeLessThan(2e-3);
    const without = only(appraise(survey([read({ value: shown })]))).figureOhmM;
    expect(without).toBeCloseTo(shown, 9);
  });

  it('of electrodes given one by one need neither midpoint nor spacing', () => {
    const midpoint = only(
      appraise(
        survey([
          read({
            midpoint_m: null,
            spacing_m: null,
            hookup: 'wenner_alpha',
            electrodes: { a_m: 10, m_m: 13, n_m: 16, b_m: 19 },
            value: 5,
            unit: 'ohm',
          }),
        ]),
      ),
    );
    expect(midpoint.chainageM).toBe(14.5);
    expect(midpoint.spacingM).toBe(3);
    expect(midpoint.figureOhmM).toBeCloseTo(2 * Math.PI * 3 * 5, 9);
  });

  it('that cannot be had are named with the reason', () => {
    const findings = appraise(
      survey([read({ unit: 'mV', value: 3 }), read({ value: -5 }), read({ hookup: 'four_electrode' })]),
    );
    expect(findings.lines[0]?.midpoints).toEqual([]);
    expect(findings.unusable.map(({ sentence }) => sentence)).toEqual([
      expect.stringContaining('current in milliamperes'),
      expect.stringContaining('above 0'),
      expect.stringContaining('a_m, b_m, m_m and n_m'),
    ]);
  });

  it('of an over-range reading are "above", never the limit and never 0', () => {
    const midpoint = only(appraise(survey([read({ value: null, status: 'over_range', limit: 19990 })])));
    expect(midpoint).toMatchObject({ figureOhmM: null, ratio: null, grade: null, readingCount: 0 });
    expect(midpoint.figureAboveOhmM).toBeCloseTo(19990, 6);
    expect(midpoint.doubts).toContain('over_range');
  });

  it('leave rejected and retired readings out, and keep the rejected in sight', () => {
    const findings = appraise(
      survey([
        read({}),
        read({ value: 900, status: 'rejected', status_reason: 'loose lead' }),
        read({ value: 5000, retired: true }),
      ]),
    );
    const midpoint = only(findings);
    expect(midpoint.figureOhmM).toBeCloseTo(300, 9);
    expect(midpoint.readings).toHaveLength(2);
    expect(midpoint.readingCount).toBe(1);
  });
});

describe('ratios', () => {
  const stations = [4, 7, 10, 13, 16];
  const quiet = stations.flatMap((chainage, i) =>
    [2, 8].map((spacing) =>
      read({ midpoint_m: chainage, spacing_m: spacing, value: (spacing === 2 ? 100 : 400) * (1 + 0.02 * (i - 2)) }),
    ),
  );
  const references = [madeReference(stations.map((chainageM) => ({ line, chainageM })))];
  const at = (findings: Findings, chainageM: number): MidpointFinding =>
    findings.lines[0]?.midpoints.find((midpoint) => midpoint.chainageM === chainageM) as MidpointFinding;

  it('are taken against the median of the reference at the same spacing', () => {
    const found = at(
      appraise(survey([...quiet, read({ midpoint_m: 30, spacing_m: 2, value: 130 })], { references })),
      30,
    );
    expect(found.referenceOhmM).toBeCloseTo(100, 9);
    expect(found.ratio).toBeCloseTo(1.3, 9);
    expect(found).toMatchObject({ grade: 'clear', sign: 'above_reference' });
  });

  it('interpolate the reference log-log between its spacings', () => {
    // 100 at 2 m and 400 at 8 m are a slope of 1: 200 at 4 m.
    const found = at(
      appraise(survey([...quiet, read({ midpoint_m: 30, spacing_m: 4, value: 150 })], { references })),
      30,
    );
    expect(found.referenceOhmM).toBeCloseTo(200, 6);
    expect(found).toMatchObject({ grade: 'clear', sign: 'below_reference' });
  });

  it('reach a factor 1.25 beyond the spacings of the reference and no farther', () => {
    const near = at(
      appraise(survey([...quiet, read({ midpoint_m: 30, spacing_m: 10, value: 500 })], { references })),
      30,
    );
    const far = at(
      appraise(survey([...quiet, read({ midpoint_m: 30, spacing_m: 10.1, value: 500 })], { references })),
      30,
    );
    expect(near.ratio).toBeCloseTo(1, 6);
    expect(far).toMatchObject({ ratio: null, grade: null, referenceBasis: 'none' });
    expect(far.doubts).toContain('outside_reference');
  });

  it('never compare two-probe with pole-pole', () => {
    const found = at(
      appraise(survey([...quiet, read({ midpoint_m: 30, spacing_m: 2, hookup: 'two_probe' })], { references })),
      30,
    );
    expect(found).toMatchObject({ ratio: null, referenceBasis: 'none' });
  });

  it("fall back on the site's own median of five stations, and say so", () => {
    const found = at(appraise(survey([...quiet, read({ midpoint_m: 30, spacing_m: 2, value: 130 })])), 30);
    expect(found.referenceBasis).toBe('site_median');
    expect(found.doubts).toContain('outside_reference');
    const four = appraise(survey(quiet.filter(({ midpoint_m: chainage }) => chainage !== 16)));
    expect(at(four, 4).ratio).toBeNull();
  });

  it('do not change with the unit of length or a thousandfold slip of the unit that is spelt out', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.2, max: 5, noNaN: true }), (factor) => {
        const readings = [...quiet, read({ midpoint_m: 30, spacing_m: 2, value: 130 })];
        const scaled = readings.map((reading) => ({ ...reading, value: (reading.value ?? 0) * factor }));
        const kilo = readings.map((reading) => ({
          ...reading,
          value: (reading.value ?? 0) / 1000,
          unit: 'kohm_m' as const,
        }));
        const ratio = at(appraise(survey(readings, { references })), 30).ratio ?? 0;
        expect(at(appraise(survey(scaled, { references })), 30).ratio).toBeCloseTo(ratio, 9);
        expect(at(appraise(survey(kilo, { references })), 30).ratio).toBeCloseTo(ratio, 9);
      }),
      { numRuns: 20, seed: 3 },
    );
  });

  it('carry a standard error that is never under the floor, and grow with scatter of the reference', () => {
    const calm = at(
      appraise(survey([...quiet, read({ midpoint_m: 30, spacing_m: 2, value: 130 })], { references })),
      30,
    );
    const wild = quiet.map((reading, i) => ({ ...reading, value: (reading.value ?? 0) * (i % 4 < 2 ? 0.8 : 1.25) }));
    const unsure = at(
      appraise(survey([...wild, read({ midpoint_m: 30, spacing_m: 2, value: 130 })], { references })),
      30,
    );
    expect((calm.ratioStandardError ?? 0) / (calm.ratio ?? 1)).toBeGreaterThanOrEqual(0.03);
    expect((unsure.ratioStandardError ?? 0) / (unsure.ratio ?? 1)).toBeGreaterThan(0.12);
    expect(Math.abs(unsure.zScore ?? 9)).toBeLessThan(Math.abs(calm.zScore ?? 0));
  });
});

describe('depth', () => {
  it('follows the chosen rule for pole-pole', () => {
    expect(only(appraise(survey([read({})]))).depthM).toBeCloseTo((Math.sqrt(3) / 2) * 4, 9);
    const half = appraise(survey([read({})]), { ...DEFAULT_SETTINGS, depthRule: 'half_spacing' });
    expect(only(half)).toMatchObject({ depthM: 2, depthRule: 'half_spacing' });
  });

  it('is none for two-probe and for a hookup that nobody said', () => {
    for (const hookup of ['two_probe', null] as const) {
      expect(only(appraise(survey([read({ hookup })])))).toMatchObject({
        depthM: null,
        depthRule: 'none',
        figureKind: 'two_probe',
      });
    }
  });
});

describe('stretches', () => {
  it('run half-way to the neighbours of the same spacing, at most one spacing long', () => {
    const readings = [10, 12, 15, 25].map((chainage) => read({ midpoint_m: chainage, spacing_m: 4 }));
    const stretches = appraise(survey(readings)).lines[0]?.midpoints.map(({ fromM, toM }) => [fromM, toM]);
    expect(stretches).toEqual([
      [9, 11],
      [11, 13.5],
      [13.5, 17],
      [23, 27],
    ]);
  });
});

describe('planned electrodes', () => {
  it('stand on a line that has no readings yet', () => {
    const planned = { ...line, layout: { from_m: 0, to_m: 40, step_m: 5 } };
    const findings = appraise({ ...emptySurvey(), lines: [planned] });
    expect(findings.lines[0]?.electrodes.map(({ role, chainageM }) => [role, chainageM])).toEqual(
      [0, 5, 10, 15, 20, 25, 30, 35, 40].map((chainage) => ['planned', chainage]),
    );
  });
});

describe('corridors', () => {
  it('speak for pole-pole where the target would show, and never for two-probe', () => {
    const stations = [8, 10, 12, 14, 16, 18, 20];
    const of = (hookup: 'pole_pole' | 'two_probe') =>
      appraise(
        survey(
          stations.flatMap((chainage) =>
            [3, 5].map((spacing) => read({ midpoint_m: chainage, spacing_m: spacing, hookup })),
          ),
          {
            references: [madeReference(stations.map((chainageM) => ({ line, chainageM })))],
          },
        ),
      ).lines[0]?.corridors ?? [];
    expect(of('pole_pole').length).toBeGreaterThan(0);
    for (const { halfWidthM } of of('pole_pole')) expect(halfWidthM).toBeGreaterThan(0);
    expect(of('two_probe')).toEqual([]);
  });

  it('vanish for a target that is too small to show', () => {
    const stations = [8, 10, 12, 14, 16];
    const readings = stations.map((chainage) => read({ midpoint_m: chainage, spacing_m: 3 }));
    const references = [madeReference(stations.map((chainageM) => ({ line, chainageM })))];
    const small = appraise(survey(readings, { references }), {
      ...DEFAULT_SETTINGS,
      target: { radiusM: 0.5, depthToCentreM: 3 },
    });
    expect(small.lines[0]?.corridors).toEqual([]);
  });
});

describe('settings', () => {
  it('come from the site and are refused with the key when they cannot be used', () => {
    const { site } = emptySurvey();
    expect(settingsOf({ ...site, settings: { z_threshold: 3 } } as typeof site)).toMatchObject({
      ok: true,
      value: { zThreshold: 3 },
    });
    const refused = settingsOf({ ...site, settings: { ratio_breaks: [1.5, 1.2, 2] } } as typeof site);
    expect(refused).toMatchObject({ ok: false, code: 'bad_settings' });
    expect(refused.ok || refused.sentence).toContain('ratio_breaks');
  });
});
