import { describe, expect, it } from 'vitest';
import { makeId } from '../../src/survey/ids';
import type { Survey } from '../../src/survey/survey';
import { toBaseUnit, toMetres } from '../../src/survey/units';
import { readSurveyDocument, surveyJsonSchema, type Upgrades } from '../../src/survey/versions';
import { chainageList, nameList, ratioText, significant } from '../../src/survey/wording';
import { emptySurvey, madeLine, madeReading } from '../helpers/made-survey';

/** A survey that fills every part of version 1, so that none of it can be dropped unseen. */
function fullSurvey(): Survey {
  const revised = { at: '2026-05-12T10:00:00Z', by: 'Ada', count: 2 };
  const position = {
    x: -91.9,
    y: 37.4,
    crs: 'EPSG:4326',
    as_entered: ["91°54'W", "37°24'N"],
    epoch: 2026.4,
    elevation_m: 210,
    height_reference: 'ellipsoid' as const,
    accuracy_m: 3,
    accuracy_level: 68 as const,
    hdop: 0.9,
    source: 'phone',
    device: 'p1',
    time: '2026-05-12T10:00:00Z',
  };
  const line = madeLine('A', []);
  const base = emptySurvey('full');
  const item = (kind: string) => makeId('path', 'full', kind);
  return {
    ...base,
    site: {
      ...base.site,
      notes: 'n',
      time_zone: 'UTC',
      invented: true,
      settings: {},
      reviewer: 'R',
      review_date: '2026-05-20',
      local_grids: [{ name: 'field', unit: 'ft', origin_lon: -91.9, origin_lat: 37.4, bearing_deg: 12 }],
    },
    outings: [
      {
        id: makeId('outing', 'full', 'o'),
        revised,
        name: 'o',
        date: '2026-05-12',
        people: ['Ada'],
        meter: {
          serial: '7',
          formula: 'two_pi_a',
          upper_limit: 20,
          upper_limit_unit: 'kohm_m',
          stated_error: 0.02,
          test_resistor_ohm: 19,
          test_resistor_shown_ohm: 19.1,
        },
        rods: [{ name: 'short', length_m: 0.3, radius_m: 0.005 }],
        weather: 'dry',
        recent_rain: 'none',
        remotes: [{ role: 'B', position }],
      },
    ],
    lines: [
      {
        ...line,
        hookup: 'pole_pole',
        layout: { from_m: 0, to_m: 40, step_m: 2 },
        path: [
          { id: item('fix'), kind: 'fix', chainage_m: 0, position, singles: [position, position] },
          {
            id: item('leg'),
            kind: 'leg',
            from_chainage_m: 0,
            bearing_deg: 90,
            bearing_reference: 'magnetic',
            distance_m: 20,
            slope_deg: 3,
            date: '2026-05-12',
          },
          {
            id: item('offset'),
            kind: 'offset',
            chainage_m: 5,
            base_line: line.id,
            base_chainage_m: 3,
            offset_right_m: -2,
          },
          {
            id: item('tapes'),
            kind: 'two_tapes',
            chainage_m: 9,
            first: position,
            first_distance_m: 4,
            second: position,
            second_distance_m: 5,
            side: 'left',
          },
          { id: item('bearing'), kind: 'bearing', chainage_m: 0, position, bearing_deg: 10, bearing_reference: 'grid' },
        ],
        profile: [{ chainage_m: 0, height_m: 1 }],
      },
    ],
    readings: [
      madeReading(line, {
        midpoint_m: 4,
        spacing_m: 2,
        electrodes: { a_m: 3, b_m: null, m_m: 5, n_m: null },
        position,
        hookup: 'pole_pole',
        n: 1,
        inner_spacing_m: 1,
        value: 300,
        current_ma: 5,
        meter_spacing_m: 2,
        status: 'over_range',
        status_reason: 'dry',
        limit: 20000,
        wetting: 'water',
        driven_depth_m: 0.2,
        seatings: ['p/1', null],
        time: '2026-05-12T10:00:00Z',
        note: 'n',
        repeat: 1,
      }),
    ],
    references: [
      {
        id: makeId('reference', 'full', 'r'),
        revised,
        retired: false,
        name: 'r',
        stations: [{ line: line.id, chainage_m: 4 }],
        serves: [line.id],
      },
    ],
    surroundings: [
      {
        id: makeId('surrounding', 'full', 's'),
        revised,
        kind: 'opening',
        name: 'hole',
        positions: [position],
        note: 'n',
      },
    ],
    features: [
      {
        id: makeId('feature', 'full', 'f'),
        revised,
        type: 'sinkhole',
        name: 'f',
        status: 'reported',
        shape: 'point',
        positions: [position],
        external_id: 'x',
        source: 's',
        confidentiality: 'c',
        observed_at: '2026',
        entered_at: '2026',
        note: 'n',
      },
    ],
    photos: [{ id: makeId('photo', 'full', 'p'), revised, sha256: '00', subject: 's', time: '2026' }],
    settlements: [{ id: makeId('settlement', 'full', 's'), revised, doubt: 'd', decision: 'explained', why: 'w' }],
  };
}

describe('the record', () => {
  it('of version 1 survives a round trip whole, with keys nobody knows at every depth', () => {
    const odd = JSON.parse(JSON.stringify(fullSurvey()));
    odd.unknown_top = [1];
    odd.site.unknown_site = { deep: true };
    odd.readings[0].unknown_reading = 'kept';
    odd.lines[0].path[0].position.unknown_position = 7;
    odd.outings[0].meter.unknown_meter = null;
    const read = readSurveyDocument(odd);
    if (!read.ok) throw new Error(read.sentence);
    expect(JSON.parse(JSON.stringify(read.value))).toEqual(odd);
  });

  it.each([
    ['a list', [], 'not_a_survey'],
    ['another format', { format: 'other', version: 1 }, 'not_a_survey'],
    ['no version', { format: 'hollowline-survey' }, 'not_a_survey'],
    ['a version to come', { ...emptySurvey(), version: 2 }, 'newer_version'],
    ['a version that never was', { ...emptySurvey(), version: 0 }, 'no_upgrade'],
    ['a missing collection', { ...emptySurvey(), readings: undefined }, 'invalid_survey'],
    [
      'text for a number',
      { ...emptySurvey(), lines: [{ ...madeLine('A', []), profile: [{ chainage_m: 'x', height_m: 1 }] }] },
      'invalid_survey',
    ],
    [
      'a chainage on the Moon',
      { ...emptySurvey(), lines: [madeLine('A', [{ chainageM: 1e22, lon: 1, lat: 2 }])] },
      'invalid_survey',
    ],
    [
      'a plan of a million electrodes',
      { ...emptySurvey(), lines: [{ ...madeLine('A', []), layout: { from_m: 0, to_m: 1000, step_m: 0.001 } }] },
      'invalid_survey',
    ],
    [
      'nesting without end',
      { ...emptySurvey(), deep: Array.from({ length: 7000 }).reduce<unknown>((inside) => [inside], 0) },
      'not_a_survey',
    ],
  ])('refuses %s with a sentence', (_what, document, code) => {
    expect(readSurveyDocument(document)).toMatchObject({ ok: false, code, sentence: expect.stringMatching(/\.$/) });
  });

  it('says where it is damaged', () => {
    const read = readSurveyDocument({
      ...emptySurvey(),
      readings: [{ ...madeReading(madeLine('A', []), {}), unit: 'furlong' }],
    });
    expect(read.ok || read.sentence).toContain('readings.0.unit');
  });

  it('reads an older version through its upgrades, step by step', () => {
    const { readings, ...rest } = emptySurvey();
    const old = { ...rest, version: -1, measurements: readings };
    const upgrades: Upgrades = {
      [-1]: ({ measurements, ...document }) => ({ ...document, values: measurements }),
      0: ({ values, ...document }) => ({ ...document, readings: values }),
    };
    expect(readSurveyDocument(old, upgrades)).toMatchObject({ ok: true, value: { version: 1, readings: [] } });
  });

  it('has a JSON Schema that lets unknown keys pass', () => {
    const schema = JSON.stringify(surveyJsonSchema());
    expect(schema).toContain('"additionalProperties":{}');
    expect(schema).not.toContain('"additionalProperties":false');
  });
});

describe('ids', () => {
  it('are the same for the same seed and key, and part by kind, seed and key', () => {
    expect(makeId('line', 's', 'A')).toBe(makeId('line', 's', 'A'));
    const others = [makeId('line', 's', 'B'), makeId('line', 't', 'A'), makeId('outing', 's', 'A')];
    expect(new Set([makeId('line', 's', 'A'), ...others].map((id) => id.replace(/^\w+-/, ''))).size).toBe(4);
  });
});

describe('units', () => {
  it('are exact: feet by the agreement of 1959, survey feet 1200/3937 m', () => {
    expect(toMetres(10, 'ft')).toBeCloseTo(3.048, 12);
    expect(toMetres(3937, 'us_survey_ft')).toBeCloseTo(1200, 9);
    expect(toMetres(2, 'km')).toBe(2000);
  });

  it('turn what a meter shows into ohms or ohm-metres, and refuse millivolts without a current', () => {
    expect(toBaseUnit(1.5, 'kohm')).toBe(1500);
    expect(toBaseUnit(1.5, 'kohm_m')).toBe(1500);
    expect(toBaseUnit(60, 'mV', 12)).toBe(5);
    expect(toBaseUnit(60, 'mV')).toBeNull();
    expect(toBaseUnit(60, 'mV', 0)).toBeNull();
  });
});

describe('wording', () => {
  it.each([
    [1234.5, 3, '1230'],
    [0.012345, 3, '0.0123'],
    [99.96, 3, '100'],
    [485, 5, '485'],
    [5.0001, 2, '5'],
    [0, 3, '0'],
  ])('%f to %i digits is %s', (value, digits, text) => {
    expect(significant(value, digits)).toBe(text);
  });

  it('keeps lists short and says how many are left out', () => {
    expect(nameList(['A', 'B'])).toBe('A, B');
    expect(nameList(['A', 'B', 'C'], 2)).toBe('A, B and 1 more');
    expect(chainageList([3, 1, 2, 3], 2)).toBe('1, 2 m and 1 more');
  });

  it('gives ratios to the hundredth', () => {
    expect(ratioText(1.2345)).toBe('1.23');
    expect(ratioText(14.13)).toBe('14.1');
  });
});
