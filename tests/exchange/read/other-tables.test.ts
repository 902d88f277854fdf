import { describe, expect, test } from 'vitest';
import { faults, read, survey, TWO_POINTS } from './helpers';

describe('a legs table', () => {
  const legs = (rows: string) => ({
    'positions.csv': 'line,chainage_m,lon,lat\nL1,0,-91.6,17.1\n',
    'legs.csv': `line,from_chainage_m,bearing_deg,bearing_ref,distance_m,slope_deg,date\n${rows}`,
  });

  test('joins the path of its line, which then needs only one placed point', () => {
    const made = survey(legs('L1,0,45.5,Magnetic,50,-3,2026-03-12\nL1,50,47,true,50,,\n'));
    expect(made.lines[0]?.path.slice(1)).toMatchObject([
      {
        ...{ kind: 'leg', from_chainage_m: 0, bearing_deg: 45.5, bearing_reference: 'magnetic' },
        ...{ distance_m: 50, slope_deg: -3, date: '2026-03-12' },
      },
      { kind: 'leg', from_chainage_m: 50, bearing_deg: 47, bearing_reference: 'true', distance_m: 50 },
    ]);
  });

  test('a bearing without its north is refused', () => {
    expect(faults(legs('L1,0,45,,50,,\n'))).toMatchObject([{ row: 2, column: 'bearing_ref' }]);
    expect(faults(legs('L1,0,45,compasss,50,,\n'))).toMatchObject([
      { row: 2, column: 'bearing_ref', read: 'compasss' },
    ]);
  });

  test('bearings, slopes and distances outside their range are refused', () => {
    const found = faults(legs('L1,0,361,true,50,,\nL1,0,45,true,0,,\nL1,0,45,true,50,90,\n'));
    expect(found.map(({ row, column }) => `${row}:${column}`)).toEqual([
      '2:bearing_deg',
      '3:distance_m',
      '4:slope_deg',
    ]);
  });

  test('without any placed point its line cannot be placed', () => {
    const { 'legs.csv': table } = legs('L1,0,45,true,50,,\n');
    const positions = 'line,chainage_m,lon,lat\nL2,0,-91.6,17.1\nL2,100,-91.6,17.1009\n';
    expect(faults({ 'positions.csv': positions, 'legs.csv': table })).toMatchObject([
      { file: 'legs.csv', row: 2, column: 'line' },
    ]);
    expect(faults({ 'legs.csv': table })).toMatchObject([{ file: 'legs.csv', row: null, read: 'no positions.csv' }]);
  });
});

describe('a remotes table', () => {
  test('places the remote electrodes of outings', () => {
    const made = survey({
      'positions.csv': TWO_POINTS,
      'remotes.csv': 'outing,role,lon,lat\nday 1,B,-91.61,17.11\nday 1,P2,-91.59,17.09\n',
    });
    expect(made.outings).toMatchObject([
      {
        name: 'day 1',
        remotes: [
          { role: 'B', position: { x: -91.61 } },
          { role: 'N', position: { x: -91.59 } },
        ],
      },
    ]);
  });

  test('an unknown role and a blank place are faults', () => {
    const found = faults({
      'positions.csv': TWO_POINTS,
      'remotes.csv': 'outing,role,lon,lat\nday 1,far,-91.61,17.11\nday 1,B,,\n',
    });
    expect(found.map(({ row, column }) => `${row}:${column}`)).toEqual(['2:role', '3:lon']);
  });
});

describe('a features table', () => {
  test('makes point features, reported unless it says otherwise', () => {
    const made = survey({
      'features.csv':
        'id,type,name,lon,lat,status,source,note,confidentiality,time\n' +
        'K7,doline,Old Sink,-91.6,17.1,verified,map 1974,dry,landowner,1998-05-01\n,ponor,,-91.61,17.11,,,,,\n',
    });
    expect(made.features).toMatchObject([
      {
        ...{ external_id: 'K7', type: 'doline', name: 'Old Sink', status: 'field_checked', shape: 'point' },
        ...{ source: 'map 1974', note: 'dry', confidentiality: 'landowner', observed_at: '1998-05-01' },
        positions: [{ x: -91.6, y: 17.1, crs: 'EPSG:4326' }],
      },
      { type: 'ponor', status: 'reported' },
    ]);
  });

  test('a feature without a type or a place is a fault', () => {
    const found = faults({ 'features.csv': 'type,lon,lat\n,-91.6,17.1\ndoline,,\n' });
    expect(found.map(({ row, column }) => `${row}:${column}`)).toEqual(['2:type', '3:lon']);
  });
});

test('files that are no table are left alone with a note each', () => {
  const outcome = read({ 'positions.csv': TWO_POINTS, 'notes.txt': 'rain\n' });
  expect(outcome.survey).not.toBeNull();
  expect(outcome.notes).toMatchObject([{ kind: 'skipped', file: 'notes.txt' }]);
});

test('no table at all is a fault', () => {
  expect(faults({})).toHaveLength(1);
  expect(faults({ 'notes.txt': 'rain\n' })).toHaveLength(1);
});
