import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import type { DoubtCode } from '../../src/survey/doubt';
import { makeId } from '../../src/survey/ids';
import type { Line, Reading, Surrounding, Survey } from '../../src/survey/survey';
import { emptySurvey, madeLine, madeOuting, madeReading, madeReference, seeded } from '../helpers/made-survey';

const fixes = [
  { chainageM: 0, lon: -91.9, lat: 37.4 },
  { chainageM: 40, lon: -91.8995483, lat: 37.4 },
];
const line = madeLine('A', fixes);

const read = (said: Partial<Reading>): Reading =>
  madeReading(line, { midpoint_m: 20, spacing_m: 4, value: 300, hookup: 'pole_pole', ...said });

function codesOf(readings: readonly Reading[], more: Partial<Survey> = {}, on: Line = line): readonly DoubtCode[] {
  return appraise({ ...emptySurvey(), lines: [on], readings, ...more }).doubts.map(({ code }) => code);
}

/** Something beside the line: metres along it and to its left. */
function thing(kind: Surrounding['kind'], places: readonly (readonly [alongM: number, leftM: number])[]): Surrounding {
  return {
    id: makeId('surrounding', 'test', `${kind} ${places.join()}`),
    revised: { at: null, by: null, count: 0 },
    kind,
    // Metres per degree at 37.4°: 110 985 north (WGS 84 series), and the line itself for east.
    positions: places.map(([alongM, leftM]) => ({
      x: -91.9 + (alongM * 4.517e-4) / 40,
      y: 37.4 + leftM / 110_985,
      crs: 'EPSG:4326',
    })),
  };
}

const repeated = [read({}), read({ value: 303 })];

/** Each doubt with a case that has it and one that differs only in having no cause for it. */
const CASES: readonly {
  code: DoubtCode;
  has: readonly DoubtCode[];
  hasNot: readonly DoubtCode[];
}[] = [
  {
    code: 'over_range',
    has: codesOf([read({ status: 'over_range', value: null, limit: 19990 }), read({})]),
    hasNot: codesOf(repeated),
  },
  { code: 'single_reading', has: codesOf([read({})]), hasNot: codesOf(repeated) },
  { code: 'hookup_unknown', has: codesOf([read({ hookup: null })]), hasNot: codesOf([read({})]) },
  {
    code: 'meter_spacing_differs',
    has: codesOf([read({ meter_spacing_m: 2 })]),
    hasNot: codesOf([read({ meter_spacing_m: 4 })]),
  },
  { code: 'repeats_disagree', has: codesOf([read({}), read({ value: 400 })]), hasNot: codesOf(repeated) },
  {
    code: 'outside_reference',
    has: codesOf(repeated),
    hasNot: codesOf(
      [20, 21, 22, 23, 24].map((chainage) => read({ midpoint_m: chainage })),
      { references: [madeReference([20, 21, 22, 23, 24].map((chainageM) => ({ line, chainageM })))] },
    ),
  },
  {
    code: 'wetting_mixed',
    ...(() => {
      const day = madeOuting('day');
      const references = [madeReference([{ line, chainageM: 10 }])];
      const dry = read({ midpoint_m: 10, outing: day.id, wetting: 'none' });
      return {
        has: codesOf([dry, read({ outing: day.id, wetting: 'water' })], { outings: [day], references }),
        hasNot: codesOf([dry, read({ outing: day.id, wetting: 'none' })], { outings: [day], references }),
      };
    })(),
  },
  {
    code: 'position_poor',
    has: codesOf(
      repeated,
      {},
      {
        ...line,
        path: madeLine(
          'A',
          fixes.map((fix) => ({ ...fix, accuracyM: 8 })),
        ).path,
      },
    ),
    hasNot: codesOf(repeated),
  },
  {
    code: 'probable_lon_lat_swap',
    ...(() => {
      const near = { lon: 14.5, lat: 46.05 };
      const straight = [
        { chainageM: 0, ...near },
        { chainageM: 20, lon: near.lon + 2.5e-4, lat: near.lat },
        { chainageM: 40, lon: near.lon + 5e-4, lat: near.lat },
      ];
      const swapped = straight.map((fix, i) => (i === 1 ? { ...fix, lon: fix.lat, lat: fix.lon } : fix));
      return {
        has: codesOf([], {}, { ...line, path: madeLine('A', swapped).path }),
        hasNot: codesOf([], {}, { ...line, path: madeLine('A', straight).path }),
      };
    })(),
  },
  {
    code: 'chainage_backwards',
    ...(() => {
      const exchanged = [
        { chainageM: 0, lon: -91.9, lat: 37.4 },
        { chainageM: 30, lon: -91.89988, lat: 37.4 },
        { chainageM: 10, lon: -91.89966, lat: 37.4 },
        { chainageM: 40, lon: -91.89955, lat: 37.4 },
      ];
      const ordered = exchanged.map((fix, i) => ({ ...fix, chainageM: [0, 10, 30, 40][i] as number }));
      return {
        has: codesOf([], {}, { ...line, path: madeLine('A', exchanged).path }),
        hasNot: codesOf([], {}, { ...line, path: madeLine('A', ordered).path }),
      };
    })(),
  },
  {
    code: 'unit_suspected',
    has: codesOf([18, 19, 20, 21].map((at) => read({ midpoint_m: at, value: at === 20 ? 0.31 : 300 }))),
    hasNot: codesOf([18, 19, 20, 21].map((at) => read({ midpoint_m: at, value: at === 20 ? 12 : 300 }))),
  },
  {
    code: 'time_drift',
    ...(() => {
      const times = (rise: number) =>
        [20, 24, 28].flatMap((at) =>
          [8, 12, 16].map((hour, i) =>
            read({
              midpoint_m: at,
              value: 300 * (1 + rise * i) * (1 + 0.005 * ((at + i) % 2)),
              time: `2026-05-12T${String(hour).padStart(2, '0')}:00:00Z`,
            }),
          ),
        );
      return { has: codesOf(times(0.06)), hasNot: codesOf(times(0)) };
    })(),
  },
  {
    code: 'utility_suspected',
    has: codesOf([read({})], {
      surroundings: [
        thing('pipe', [
          [0, 1.5],
          [40, 1.5],
        ]),
      ],
    }),
    // At right angles, and farther than half the spacing: ASTM G57.
    hasNot: codesOf([read({})], {
      surroundings: [
        thing('pipe', [
          [20, -9],
          [20, 9],
        ]),
        thing('fence', [
          [0, 2.5],
          [40, 2.5],
        ]),
      ],
    }),
  },
  {
    code: 'near_opening',
    has: codesOf([read({})], { surroundings: [thing('opening', [[20, 3.5]])] }),
    hasNot: codesOf([read({})], { surroundings: [thing('opening', [[20, 4.5]]), thing('tree', [[20, 1]])] }),
  },
  {
    code: 'reference_too_close',
    ...(() => {
      const stations = [10, 12, 14, 16, 18];
      const references = [madeReference(stations.map((chainageM) => ({ line, chainageM })))];
      const quiet = stations.map((at) => read({ midpoint_m: at }));
      return {
        has: codesOf([...quiet, read({ midpoint_m: 21, value: 500 })], { references }),
        hasNot: codesOf([...quiet, read({ midpoint_m: 23, value: 500 })], { references }),
      };
    })(),
  },
  {
    code: 'beyond_void',
    ...(() => {
      const stations = [2, 4, 6, 8, 10];
      const references = [madeReference(stations.map((chainageM) => ({ line, chainageM })))];
      const quiet = stations.map((at) => read({ midpoint_m: at }));
      return {
        // No void within the bounds doubles a pole-pole reading (test of `mostOfAVoid`), nor takes a fifth from it.
        has: codesOf([...quiet, read({ midpoint_m: 30, value: 900 })], { references }),
        hasNot: codesOf([...quiet, read({ midpoint_m: 30, value: 500 })], { references }),
      };
    })(),
  },
  {
    code: 'slope_break',
    ...(() => {
      const profile = (turnDeg: number) => ({
        ...line,
        profile: [
          { chainage_m: 0, height_m: 0 },
          { chainage_m: 20, height_m: 0 },
          { chainage_m: 40, height_m: 20 * Math.sin((turnDeg * Math.PI) / 180) },
        ],
      });
      return { has: codesOf([read({})], {}, profile(11)), hasNot: codesOf([read({})], {}, profile(9)) };
    })(),
  },
];

describe('doubts', () => {
  it.each(CASES)('$code is raised by its cause and by nothing less', ({ code, has, hasNot }) => {
    expect(has).toContain(code);
    expect(hasNot).not.toContain(code);
  });

  it('tells contact from thin soil by the slope of the ladder', () => {
    const ladder = (slope: number) =>
      [1, 2, 4, 8].map((spacing) => read({ spacing_m: spacing, value: 100 * spacing ** slope, hookup: 'two_probe' }));
    const severity = (slope: number) =>
      appraise({ ...emptySurvey(), lines: [line], readings: ladder(slope) }).doubts.find(
        ({ code }) => code === 'contact_suspected',
      );
    expect(severity(1.3)).toMatchObject({ severity: 'warning' });
    expect(severity(0.9)).toMatchObject({ severity: 'warning' });
    expect(severity(0.75)?.sentence).toContain('thin soil over rock');
    expect(severity(0.5)).toBeUndefined();
  });

  it('does not call rods that were driven again a disagreement', () => {
    const codes = codesOf([read({ seatings: ['p/1', 'q/1'] }), read({ value: 400, seatings: ['p/2', 'q/2'] })]);
    expect(codes).not.toContain('repeats_disagree');
  });

  it('keeps its id when the survey is computed again, so that a settlement finds it', () => {
    const survey = { ...emptySurvey(), lines: [line], readings: [read({ meter_spacing_m: 2 })] };
    expect(appraise(survey).doubts.map(({ id }) => id)).toEqual(
      appraise(structuredClone(survey)).doubts.map(({ id }) => id),
    );
  });

  it('says so when a reference has few stations', () => {
    const survey = { ...emptySurvey(), lines: [line], readings: [read({}), read({ midpoint_m: 30 })] };
    const doubts = appraise({ ...survey, references: [madeReference([{ line, chainageM: 20 }])] }).doubts;
    expect(doubts.find(({ code }) => code === 'outside_reference')?.sentence).toContain('few stations');
  });

  it('have an id of their own each', () => {
    const ladder = (hookup: 'two_probe' | 'pole_pole', slope: number) =>
      [1, 2, 4, 8].map((spacing) => read({ spacing_m: spacing, value: 100 * spacing ** slope, hookup }));
    const readings = [
      ...ladder('two_probe', 1.2),
      ...ladder('pole_pole', 0.7),
      read({ spacing_m: 8, meter_spacing_m: 5, value: 90 }),
      read({ spacing_m: 8, meter_spacing_m: 5, value: 400 }),
      read({ spacing_m: 2, value: 900, hookup: 'two_probe' }),
      read({ spacing_m: 2, value: 900, hookup: 'pole_pole' }),
    ];
    const ids = appraise({ ...emptySurvey(), lines: [line], readings }).doubts.map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('do not call a steep Wenner ladder contact', () => {
    const readings = [1, 2, 4, 8].map((spacing) =>
      read({ spacing_m: spacing, value: 100 * spacing ** 0.95, hookup: 'wenner_alpha' }),
    );
    const doubt = appraise({ ...emptySurvey(), lines: [line], readings }).doubts.find(
      ({ code }) => code === 'contact_suspected',
    );
    expect(doubt).toMatchObject({ severity: 'note' });
    expect(doubt?.sentence).toContain('four electrodes hardly feel');
  });

  it('tell off groups of honest repeats about as often whatever their number', () => {
    const random = seeded(9);
    const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    for (const size of [2, 3, 5, 10]) {
      const rounds = 3000;
      const readings = Array.from({ length: rounds }, (_, i) =>
        Array.from({ length: size }, () => read({ midpoint_m: 10 + i / 100, value: 300 * Math.exp(0.03 * normal()) })),
      ).flat();
      const told = codesOf(readings).filter((code) => code === 'repeats_disagree').length / rounds;
      expect(told, `groups of ${size}`).toBeLessThan(0.008);
    }
  });
});
