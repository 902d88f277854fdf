import { describe, expect, test } from 'vitest';
import { firstReading, mapOf, places, READINGS_HEAD, read, survey, TWO_POINTS } from './helpers';

const withReadings = (readings: string) => ({ 'positions.csv': TWO_POINTS, 'readings.csv': readings });
const reading = (readings: string) => firstReading(survey(withReadings(readings)));

describe('a readings table', () => {
  test('makes a reading of each row', () => {
    const made = survey(
      withReadings(
        `${READINGS_HEAD},meter_spacing_m,wetting,seating_1,seating_2,outing,time,note,driven_depth_m\n` +
          'L1,10,2,345.6,ohm_m,pole-pole,5,wet,s1,s2,2026-03-12,14:05,by the wall,0.3\n',
      ),
    );
    const { id, revised, line, outing, ...rest } = firstReading(made);
    expect(rest).toEqual({
      midpoint_m: 10,
      spacing_m: 2,
      hookup: 'pole_pole',
      value: 345.6,
      unit: 'ohm_m',
      status: 'ok',
      meter_spacing_m: 5,
      wetting: 'water',
      seatings: ['s1', 's2'],
      time: '2026-03-12T14:05',
      note: 'by the wall',
      driven_depth_m: 0.3,
    });
    expect(id).toMatch(/^reading-/);
    expect(revised).toEqual({ at: null, by: null, count: 0 });
    expect(line).toBe(made.lines[0]?.id);
    expect(made.outings).toMatchObject([{ id: outing, name: '2026-03-12', date: '2026-03-12' }]);
  });

  test.each([
    ['ohm_m', 'ohm_m'],
    ['Ω·m', 'ohm_m'],
    ['Ohm-m', 'ohm_m'],
    ['ohm.metres', 'ohm_m'],
    ['kΩm', 'kohm_m'],
    ['Ω', 'ohm'],
    ['ohms', 'ohm'],
    ['kohm', 'kohm'],
  ])('knows the unit %s', (written, unit) => {
    expect(reading(`${READINGS_HEAD}\nL1,10,2,345.6,${written},pole_pole\n`).unit).toBe(unit);
  });

  test.each([
    ['two-probe', 'two_probe'],
    ['2 probe', 'two_probe'],
    ['Pole-Pole', 'pole_pole'],
    ['WENNER', 'wenner_alpha'],
    ['wenner beta', 'wenner_beta'],
    ['Dipole Dipole', 'dipole_dipole'],
    ['unknown', 'unknown'],
  ])('knows the hookup %s', (written, hookup) => {
    expect(reading(`${READINGS_HEAD}\nL1,10,2,345.6,ohm_m,${written}\n`).hookup).toBe(hookup);
  });

  test('a unit in the header serves where there is no unit column', () => {
    expect(reading('line,midpoint_m,spacing_m,Resistance (Ω),hookup\nL1,10,2,12,pole_pole\n')).toMatchObject({
      value: 12,
      unit: 'ohm',
    });
  });

  test('millivolts come with their current', () => {
    expect(reading('line,midpoint_m,spacing_m,mV,current_ma,hookup\nL1,10,2,-12,20,pole_pole\n')).toMatchObject({
      value: -12,
      unit: 'mV',
      current_ma: 20,
    });
  });

  test('feet become metres', () => {
    expect(reading('line,midpoint_ft,spacing_ft,value,unit,hookup\nL1,100,10,12,ohm,pole_pole\n')).toMatchObject({
      midpoint_m: 30.48,
      spacing_m: 3.048,
    });
  });

  test('blank electrodes are remote', () => {
    const got = reading('line,a_m,b_m,m_m,n_m,value,unit,hookup\nL1,10,,12,,34,ohm,pole_pole\n');
    expect(got.electrodes).toEqual({ a_m: 10, b_m: null, m_m: 12, n_m: null });
    expect(got).toMatchObject({ midpoint_m: null, spacing_m: null });
  });

  test('electrode numbers times the step are chainages', () => {
    const made = survey(
      { 'positions.csv': TWO_POINTS, 'r.csv': 'line,A el,B el,M el,N el,value\nL1,1,4,2,3,34\n' },
      {
        columns: mapOf('r.csv', {
          table: 'readings',
          columns: { 'A el': 'a_electrode', 'B el': 'b_electrode', 'M el': 'm_electrode', 'N el': 'n_electrode' },
          constants: { step_m: 5, unit: 'ohm', hookup: 'wenner_alpha' },
        }),
      },
    );
    expect(firstReading(made).electrodes).toEqual({ a_m: 0, b_m: 15, m_m: 5, n_m: 10 });
  });
});

describe('readings over range', () => {
  test.each(['OL', 'O.L', 'over', 'Over range', 'OVERLOAD', 'out of range'])(
    '%s is over range, without a value',
    (shown) => {
      expect(reading(`${READINGS_HEAD}\nL1,10,2,${shown},ohm,two_probe\n`)).toMatchObject({
        value: null,
        status: 'over_range',
      });
    },
  );

  test.each([
    ['>20000', 20000],
    ['> 20 000', 20000],
    ['≥2e4', 20000],
    ['over 20000', 20000],
  ])('%s is over range, with the limit', (shown, limit) => {
    expect(reading(`${READINGS_HEAD}\nL1,10,2,${shown},ohm,two_probe\n`)).toMatchObject({
      value: null,
      status: 'over_range',
      limit,
    });
  });

  test('the limit column serves where the value gives none', () => {
    expect(reading(`${READINGS_HEAD},status,limit\nL1,10,2,,ohm,two_probe,over range,20000\n`)).toMatchObject({
      value: null,
      status: 'over_range',
      limit: 20000,
    });
  });

  test('a number beside over range is the limit, never the value, and is noted once', () => {
    const outcome = read(
      withReadings(`${READINGS_HEAD},status\nL1,10,2,20000,ohm,two_probe,over\nL1,12,2,20000,ohm,two_probe,over\n`),
    );
    expect(outcome.survey?.readings.map(({ value, limit }) => [value, limit])).toEqual([
      [null, 20000],
      [null, 20000],
    ]);
    expect(places(outcome.notes, 'guessed')).toEqual(['2:value']);
  });

  test('a rejected reading keeps its value and its reason', () => {
    expect(
      reading(`${READINGS_HEAD},status,status_reason\nL1,10,2,12,ohm,two_probe,rejected,loose clip\n`),
    ).toMatchObject({
      value: 12,
      status: 'rejected',
      status_reason: 'loose clip',
    });
  });
});

describe('the hookup', () => {
  test('has no default: not said, it is unknown, with one note a file', () => {
    const outcome = read(withReadings('line,midpoint_m,spacing_m,value,unit\nL1,10,2,12,ohm\nL1,12,2,12,ohm\n'));
    expect(outcome.survey?.readings.map(({ hookup }) => hookup)).toEqual(['unknown', 'unknown']);
    expect(places(outcome.notes, 'guessed')).toEqual(['1:hookup']);
    expect(outcome.notes[0]?.sentence).toContain('two-probe');
  });

  test('of the line serves readings that say none', () => {
    const outcome = read({
      'positions.csv': 'line,chainage_m,lon,lat,hookup\nL1,0,-91.6,17.1,wenner\nL1,100,-91.6,17.1009,wenner\n',
      'readings.csv': 'line,midpoint_m,spacing_m,value,unit\nL1,10,2,12,ohm\n',
    });
    expect(outcome.notes).toEqual([]);
    expect(outcome.survey?.lines[0]?.hookup).toBe('wenner_alpha');
    expect(outcome.survey?.readings[0]).not.toHaveProperty('hookup');
  });
});

describe('readings with places of their own', () => {
  test('need no positions table, no midpoint and no spacing, which is noted once', () => {
    const outcome = read({
      'readings.csv':
        'line,lon,lat,value,unit,hookup\nT1,-91.6,17.1,34,ohm_m,wenner\nT1,-91.6,17.1001,35,ohm_m,wenner\n',
    });
    expect(
      outcome.survey?.readings.map(({ midpoint_m, spacing_m, position }) => ({ midpoint_m, spacing_m, position })),
    ).toEqual([
      { midpoint_m: null, spacing_m: null, position: { x: -91.6, y: 17.1, crs: 'EPSG:4326' } },
      { midpoint_m: null, spacing_m: null, position: { x: -91.6, y: 17.1001, crs: 'EPSG:4326' } },
    ]);
    expect(outcome.survey?.lines).toMatchObject([{ name: 'T1', path: [] }]);
    expect(places(outcome.notes, 'guessed')).toEqual(['2:spacing_m']);
  });

  test('in a local grid in kilometres, with lines put together from two columns', () => {
    // Layout of a real file: two sets of tracks number their tracks from 1 each.
    // Source: kwstat/agridat (MIT), after Cleveland, Visualizing Data (1993); the first row is as it is there.
    const made = survey(
      {
        'soil.txt': 'northing\teasting\tresistivity\tis.ns\ttrack\n0.0180\t0.0160\t34.15\tF\t1\n0.02\t0.5\t40\tT\t1\n',
      },
      {
        columns: mapOf('soil.txt', {
          table: 'readings',
          join: { line: ['is.ns', 'track'] },
          values: { 'is.ns': { T: 'NS', F: 'EW' } },
          constants: { unit: 'ohm_m', hookup: 'four_electrode' },
          grid: { name: 'field', unit: 'km', origin_lon_lat: [-122, 37] },
        }),
      },
    );
    expect(made.lines.map((line) => line.name)).toEqual(['EW 1', 'NS 1']);
    expect(made.readings[0]).toMatchObject({ value: 34.15, position: { x: 0.016, y: 0.018, crs: 'grid:field' } });
  });
});

describe('reference readings', () => {
  test('make one reference of the file, each station once', () => {
    const made = survey(
      withReadings(
        `${READINGS_HEAD},reference\nL1,10,1,12,ohm,pole_pole,yes\nL1,10,2,6,ohm,pole_pole,Y\nL1,20,1,12,ohm,pole_pole,1\nL1,30,1,50,ohm,pole_pole,no\n`,
      ),
    );
    const line = made.lines[0]?.id;
    expect(made.references).toMatchObject([
      {
        name: 'reference',
        stations: [
          { line, chainage_m: 10 },
          { line, chainage_m: 20 },
        ],
      },
    ]);
    expect(made.references[0]).not.toHaveProperty('serves');
    expect(made.readings).toHaveLength(4);
  });

  test('given by electrodes stand at the middle of those on the line', () => {
    const made = survey(
      withReadings('line,a_m,b_m,m_m,n_m,value,unit,hookup,reference\nL1,10,,14,,34,ohm,pole_pole,yes\n'),
    );
    expect(made.references[0]?.stations).toMatchObject([{ chainage_m: 12 }]);
  });
});

test('repeats are told apart by their order', () => {
  const made = survey(
    withReadings(`${READINGS_HEAD}\nL1,10,2,12,ohm,pole_pole\nL1,10,2,13,ohm,pole_pole\nL1,10,2,12.5,ohm,pole_pole\n`),
  );
  expect(made.readings.map(({ value, repeat }) => [value, repeat])).toEqual([
    [12, undefined],
    [13, 1],
    [12.5, 2],
  ]);
  expect(new Set(made.readings.map(({ id }) => id)).size).toBe(3);
});

test('a date column and a time column go together, and dates with points have the day first', () => {
  expect(reading(`${READINGS_HEAD},date,time\nL1,10,2,12,ohm,pole_pole,12.03.2026,9:05\n`).time).toBe(
    '2026-03-12T09:05',
  );
  expect(reading(`${READINGS_HEAD},date\nL1,10,2,12,ohm,pole_pole,2026/3/2\n`).time).toBe('2026-03-02');
});
