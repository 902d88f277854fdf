import { describe, expect, test } from 'vitest';
import { editDistance, matchHeaders, nearestField, type TableKind } from '../../../src/exchange/read/headers';

const fields = (kind: TableKind, headers: string[], projected = false) =>
  matchHeaders(kind, headers, projected).map((match) => match?.field ?? null);

describe('matchHeaders', () => {
  test('case, spaces and punctuation do not count', () => {
    expect(fields('positions', ['LINE', ' Chainage (m) ', 'Lat.', 'LONGITUDE', 'accuracy-m'])).toEqual([
      'line',
      'chainage_m',
      'lat',
      'lon',
      'accuracy_m',
    ]);
  });

  test('common synonyms are known', () => {
    expect(fields('readings', ['Line ID', 'station', 'Spacing', 'Units', 'Array', 'comment'])).toEqual([
      'line',
      'midpoint_m',
      'spacing_m',
      'unit',
      'hookup',
      'note',
    ]);
  });

  test.each([
    ['Resistance (Ω)', 'ohm'],
    ['resistance_ohm', 'ohm'],
    ['Apparent resistivity [Ω·m]', 'ohm_m'],
    ['rho_a (ohm.m)', 'ohm_m'],
    ['ohm m', 'ohm_m'],
    ['value kohm', 'kohm'],
    ['Voltage (mV)', 'mV'],
  ])('%s is a value in %s', (header, unit) => {
    expect(matchHeaders('readings', [header], false)[0]).toMatchObject({ field: 'value', readingUnit: unit });
  });

  test.each([
    ['Spacing (ft)', 'spacing_m', 0.3048],
    ['midpoint_ft', 'midpoint_m', 0.3048],
    ['Driven depth (cm)', 'driven_depth_m', 0.01],
    ['driven depth [in]', 'driven_depth_m', 0.0254],
    ['spacing us survey ft', 'spacing_m', 1200 / 3937],
    ['current (A)', 'current_ma', 1000],
  ])('%s is %s times %d', (header, field, factor) => {
    expect(matchHeaders('readings', [header], false)[0]).toMatchObject({ field, factor });
  });

  test('a unit that does not fit the meaning is not swallowed', () => {
    expect(fields('readings', ['spacing (ohm)', 'line (m)', 'value (m)'])).toEqual([null, null, null]);
  });

  test('a is the spacing when alone and electrode A in company', () => {
    expect(fields('readings', ['a', 'n'])).toEqual(['spacing_m', 'n']);
    expect(fields('readings', ['a (m)'])).toEqual(['spacing_m']);
    expect(fields('readings', ['a_m', 'b_m', 'm_m', 'n_m'])).toEqual(['a_m', 'b_m', 'm_m', 'n_m']);
    expect(fields('readings', ['A', 'B', 'M', 'N'])).toEqual(['a_m', 'b_m', 'm_m', 'n_m']);
    expect(matchHeaders('readings', ['a_ft', 'm_ft'], false).map((match) => match?.factor)).toEqual([0.3048, 0.3048]);
  });

  test('x and y are lon and lat with a doubt, unless a grid or a code is named', () => {
    const [x, y] = matchHeaders('positions', ['x', 'Y'], false);
    expect(x).toMatchObject({ field: 'lon' });
    expect(y).toMatchObject({ field: 'lat' });
    expect(x?.doubt).toContain('epsg');
    expect(fields('positions', ['x', 'y'], true)).toEqual(['easting', 'northing']);
    expect(fields('positions', ['x (m)', 'y (m)'])).toEqual(['easting', 'northing']);
  });

  test('wide pairs are known in the usual spellings', () => {
    expect(fields('positions', ['first_lon', 'Lat start', 'end longitude', 'last_lat', 'Lon. infty'])).toEqual([
      'first_lon',
      'first_lat',
      'last_lon',
      'last_lat',
      'remote_lon',
    ]);
  });

  test('names that objects are born with mean nothing', () => {
    expect(fields('readings', ['__proto__', 'constructor', 'toString'])).toEqual([null, null, null]);
  });
});

describe('nearestField', () => {
  test('a slip of the pen has its nearest name', () => {
    expect(nearestField('readings', 'spaceing')).toBe('spacing_m');
    expect(nearestField('positions', 'chainge_m')).toBe('chainage_m');
  });

  test('a word of its own has none', () => {
    expect(nearestField('readings', 'operator')).toBeNull();
  });
});

test('editDistance counts single letters (kitten to sitting is the textbook 3)', () => {
  expect(editDistance('kitten', 'sitting', 9)).toBe(3);
  expect(editDistance('', 'abc', 9)).toBe(3);
  expect(editDistance('same', 'same', 9)).toBe(0);
});
