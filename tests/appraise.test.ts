import fc from 'fast-check';
import type { LineString } from 'geojson';
import { describe, expect, it } from 'vitest';
import { appraise } from '../src/appraise';
import { disclose } from '../src/discretion/disclose';
import { DEFAULT_SETTINGS, settingsOf } from '../src/evidence/settings';
import { buildLayers } from '../src/exchange/write/layers';
import type { Findings, MidpointFinding } from '../src/findings';
import type { Reading, Survey } from '../src/survey/survey';
import { emptySurvey, madeLine, madeOuting, madeReading, madeReference, seeded } from './helpers/made-survey';

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

  it('of a chainage or a spacing far beyond the line are refused by name, not mapped on the Moon', () => {
    const findings = appraise(survey([read({ midpoint_m: 60_000 }), read({ spacing_m: 9_000 })]));
    expect(findings.lines[0]?.midpoints).toEqual([]);
    expect(findings.unusable.map(({ sentence }) => sentence)).toEqual([
      expect.stringContaining('more than 5 km beyond the line'),
      expect.stringContaining('more than 5 km'),
    ]);
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

describe('layouts of one hookup and spacing that differ', () => {
  const stations = [14, 17, 20, 23, 26];
  const references = [madeReference(stations.map((chainageM) => ({ line, chainageM })))];

  it('are compared with their own kind, whether n was said or the electrodes were', () => {
    // Dipole-dipole on ground whose figure doubles from n to n: each n has its own level, so every ratio is 1.
    const readings = [...stations, 30].flatMap((x) =>
      [1, 2, 3].map((n) => {
        const half = n;
        const electrodes = { a_m: x - half, b_m: x - half - 2, m_m: x + half, n_m: x + half + 2 };
        return x < 25
          ? read({ midpoint_m: null, spacing_m: null, electrodes, hookup: 'dipole_dipole', value: 100 * 2 ** n })
          : read({ midpoint_m: x, spacing_m: 2, n, hookup: 'dipole_dipole', value: 100 * 2 ** n });
      }),
    );
    const midpoints = appraise(survey(readings, { references })).lines[0]?.midpoints ?? [];
    expect(midpoints).toHaveLength(18);
    for (const { ratio } of midpoints) expect(ratio).toBeCloseTo(1, 9);
  });

  it('that are one layout written in several ways are repeats of each other', () => {
    const at20 = { midpoint_m: null, spacing_m: null } as const;
    const midpoint = only(
      appraise(
        survey([
          read({}),
          read({ ...at20, electrodes: { a_m: 18, b_m: null, m_m: 22, n_m: null } }),
          read({ ...at20, electrodes: { a_m: 22, b_m: null, m_m: 18, n_m: null } }),
          read({ ...at20, electrodes: { a_m: null, b_m: 18, m_m: null, n_m: 22 } }),
        ]),
      ),
    );
    expect(midpoint.readingCount).toBe(4);
    expect(midpoint.figureOhmM).toBeCloseTo(300, 9);
  });

  it('may read negative in A B M N order', () => {
    const electrodes = { a_m: 15, b_m: 17, m_m: 23, n_m: 25 };
    const of = (value: number) =>
      only(
        appraise(
          survey([
            read({ midpoint_m: null, spacing_m: null, electrodes, hookup: 'dipole_dipole', unit: 'ohm', value }),
          ]),
        ),
      );
    // K = −π·n(n+1)(n+2)·a with a = 2, n = 3 (Telford 1990): −376.991118 m.
    expect(of(-0.365).figureOhmM).toBeCloseTo(0.365 * 376.991118, 4);
    expect(of(0.365).figureOhmM).toBeCloseTo(0.365 * 376.991118, 4);
  });
});

describe('ratios', () => {
  const stations = [4, 7, 10, 13, 16];
  const quiet = stations.flatMap((chainage, i) =>
    [2, 5].map((spacing) =>
      read({ midpoint_m: chainage, spacing_m: spacing, value: (spacing === 2 ? 100 : 250) * (1 + 0.02 * (i - 2)) }),
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
    // 100 at 2 m and 250 at 5 m are a slope of 1: 200 at 4 m.
    const found = at(
      appraise(survey([...quiet, read({ midpoint_m: 30, spacing_m: 4, value: 150 })], { references })),
      30,
    );
    expect(found.referenceOhmM).toBeCloseTo(200, 6);
    expect(found).toMatchObject({ grade: 'clear', sign: 'below_reference' });
  });

  it('reach a factor 1.25 beyond the spacings of the reference and no farther', () => {
    const far = (spacing: number) =>
      at(appraise(survey([...quiet, read({ midpoint_m: 30, spacing_m: spacing, value: 312.5 })], { references })), 30);
    expect(far(6.25).ratio).toBeCloseTo(1, 6);
    expect(far(6.3)).toMatchObject({ ratio: null, grade: null, referenceBasis: 'none' });
    expect(far(6.3).doubts).toContain('outside_reference');
  });

  it('are not taken across a wide gap of spacings, where layered ground bends', () => {
    const gapped = quiet.map((reading) => (reading.spacing_m === 5 ? { ...reading, spacing_m: 12 } : reading));
    const found = (spacing: number) =>
      at(appraise(survey([...gapped, read({ midpoint_m: 30, spacing_m: spacing, value: 150 })], { references })), 30);
    expect(found(5).ratio).toBeNull();
    expect(found(2.4).ratio).toBeCloseTo(1.5, 6);
    // Beside the gap the level is the nearest one, and less sure than at its own spacing.
    expect(found(2.4).ratioStandardError ?? 0).toBeGreaterThan((found(2).ratioStandardError ?? 0) * 1.3);
  });

  it('fall back on the site median where a reference does not reach or does not serve', () => {
    const wide = Array.from({ length: 8 }, (_, i) => read({ midpoint_m: 20 + i, spacing_m: 20, value: 700 + i }));
    const found = at(appraise(survey([...quiet, ...wide], { references })), 22);
    expect(found.referenceBasis).toBe('site_median');
    const elsewhere = references.map((reference) => ({ ...reference, serves: [madeLine('other', []).id] }));
    const unserved = at(appraise(survey(quiet, { references: elsewhere })), 4);
    expect(unserved.referenceBasis).toBe('site_median');
  });

  it('of another day are taken at the same wetting before any other', () => {
    const [day, other] = [madeOuting('day'), madeOuting('other')];
    const two = (chainage: number, value: number, wetting: 'none' | 'water', outing: string) =>
      read({
        midpoint_m: chainage,
        spacing_m: 2,
        value,
        wetting,
        hookup: 'two_probe',
        outing: outing as typeof day.id,
      });
    const readings = [
      ...stations.flatMap((chainage) => [two(chainage, 1000, 'none', day.id), two(chainage, 300, 'water', day.id)]),
      two(30, 1000, 'none', other.id),
    ];
    const found = at(appraise(survey(readings, { references, outings: [day, other] })), 30);
    expect(found.ratio).toBeCloseTo(1, 9);
    expect(found.referenceBasis).toBe('other_day');
  });

  it('use the stated error of the one day that a survey has, named by its readings or not', () => {
    const day = madeOuting('day', { meter: { stated_error: 0.1 } });
    const readings = [...quiet, read({ midpoint_m: 30, spacing_m: 2, value: 130 })];
    const unnamed = at(appraise(survey(readings, { references, outings: [day] })), 30);
    const named = readings.map((reading) => ({ ...reading, outing: day.id }));
    expect(unnamed.ratioStandardError).toBeCloseTo(
      at(appraise(survey(named, { references, outings: [day] })), 30).ratioStandardError ?? 0,
      12,
    );
    expect((unnamed.ratioStandardError ?? 0) / 1.3).toBeGreaterThan(0.1);
  });

  it('grade quiet ground no more often than |z| ≥ 2 should, and hardly ever with control of false discoveries: 5 stations, 6 spacings, 5 % scatter, 3 % noise', () => {
    const random = seeded(42);
    const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    const spacings = [1, 2, 3, 5, 8, 12];
    const alone = { ...DEFAULT_SETTINGS, falseDiscoveryRate: 1 };
    let graded = 0;
    let controlled = 0;
    let places = 0;
    for (let round = 0; round < 60; round += 1) {
      const ground = [...stations, 20, 22, 24, 26, 28].flatMap((chainage) =>
        spacings.map((spacing) =>
          read({ midpoint_m: chainage, spacing_m: spacing, value: 300 * Math.exp(0.05 * normal() + 0.03 * normal()) }),
        ),
      );
      const gradesBy = (settings: typeof alone) =>
        (appraise(survey(ground, { references }), settings).lines[0]?.midpoints ?? [])
          .filter(({ chainageM }) => chainageM >= 20)
          .map(({ grade }) => grade !== 'none');
      places += gradesBy(alone).length;
      graded += gradesBy(alone).filter(Boolean).length;
      controlled += gradesBy(DEFAULT_SETTINGS).filter(Boolean).length;
    }
    // 1800 places: 4.6 % ± 1 % (two standard errors of a share) is what |z| ≥ 2 alone would give; breaks only lower it.
    expect(graded / places).toBeLessThan(0.056);
    expect(graded / places).toBeGreaterThan(0.01);
    expect(controlled / places).toBeLessThan(0.01);
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

  it('keeps the median where half the spacing means nothing', () => {
    const half = appraise(survey([read({ hookup: 'dipole_dipole', n: 6, spacing_m: 2 })]), {
      ...DEFAULT_SETTINGS,
      depthRule: 'half_spacing',
    });
    expect(only(half).depthRule).toBe('median');
    expect(only(half).depthM).toBeCloseTo(1.73 * 2, 2);
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

describe('beyond the controls', () => {
  it('segments lie round their midpoints, though the fixes stretch the tape', () => {
    // 12 m between fixes that the tape calls 10 m apart.
    const stretched = madeLine('A', [
      { chainageM: 0, lon: -91.9, lat: 37.4 },
      { chainageM: 10, lon: -91.9 + 1.2 * (0.0004517 / 4), lat: 37.4 },
    ]);
    const readings = [20, 40, 60].map((chainage) =>
      madeReading(stretched, { midpoint_m: chainage, spacing_m: 4, value: 300, hookup: 'pole_pole' }),
    );
    const findings = appraise({ ...emptySurvey(), lines: [stretched], readings });
    const { segments } = buildLayers(disclose(emptySurvey(), findings, 'surveyor'), { drape: 'midpoint' });
    const midpoints = findings.lines[0]?.midpoints ?? [];
    segments.features.forEach((segment, i) => {
      const [[west = 0] = [], [east = 0] = []] = (segment.geometry as LineString).coordinates;
      expect((west + east) / 2).toBeCloseTo(midpoints[i]?.lon ?? 0, 6);
    });
  });
});

describe('remote electrodes', () => {
  it('count the readings that used them', () => {
    const place = { x: -91.905, y: 37.4, crs: 'EPSG:4326' };
    const [one, two] = [madeOuting('one', { remotes: [{ role: 'B', position: place }] }), madeOuting('two')];
    const readings = [
      read({ outing: one.id }),
      read({ outing: two.id }),
      read({ outing: one.id, hookup: 'wenner_alpha' }),
    ];
    const remotes = appraise(survey(readings, { outings: [one, two] })).lines[0]?.electrodes.filter(
      ({ role }) => role === 'remote',
    );
    expect(remotes).toHaveLength(1);
    expect(remotes?.[0]).toMatchObject({ remoteRole: 'b', readingCount: 1 });
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

  it('grow when the readings are better or the target is larger, and never shrink by one reading more', () => {
    const stations = [8, 10, 12, 14, 16, 18, 20];
    const references = [madeReference(stations.map((chainageM) => ({ line, chainageM })))];
    const readings = stations.map((chainage) => read({ midpoint_m: chainage, spacing_m: 3 }));
    const areaOf = (given: readonly Reading[], more: Partial<typeof DEFAULT_SETTINGS> = {}) =>
      (appraise(survey(given, { references }), { ...DEFAULT_SETTINGS, ...more }).lines[0]?.corridors ?? []).reduce(
        (sum, { fromM, toM, halfWidthM }) => sum + 2 * halfWidthM * (toM - fromM),
        0,
      );
    let last = Infinity;
    for (const standardErrorFloor of [0.02, 0.025, 0.03, 0.035, 0.04]) {
      const area = areaOf(readings, { standardErrorFloor });
      expect(area).toBeLessThanOrEqual(last);
      last = area;
    }
    expect(areaOf(readings, { target: { radiusM: 2.4, depthToCentreM: 3 } })).toBeGreaterThan(areaOf(readings));
    expect(areaOf([...readings, read({ midpoint_m: 22, spacing_m: 1 })])).toBeGreaterThanOrEqual(areaOf(readings));
  });

  it('leave out readings that are doubted to be pole-pole', () => {
    const stations = [8, 10, 12, 14, 16];
    const readings = stations.flatMap((chainage) =>
      [2, 3, 5].map((spacing) => read({ midpoint_m: chainage, spacing_m: spacing, value: 200, unit: 'ohm' })),
    );
    const findings = appraise(
      survey(readings, { references: [madeReference(stations.map((chainageM) => ({ line, chainageM })))] }),
    );
    expect(findings.doubts.map(({ code }) => code)).toContain('not_pole_pole');
    expect(findings.lines[0]?.corridors).toEqual([]);
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
