import { describe, expect, test } from 'vitest';
import type { Fix, Line } from '../../../src/survey/survey';
import { faults, lineNamed, mapOf, places, read, survey, TWO_POINTS } from './helpers';

const fixes = (line: Line): readonly Fix[] => line.path.filter((item): item is Fix => item.kind === 'fix');

describe('a positions table', () => {
  test('makes lines with a fix for each row, as entered', () => {
    const line = lineNamed(
      survey({
        'positions.csv':
          'line,chainage_m,lon,lat,elevation_m,accuracy_m,accuracy_level,source,device,time\n' +
          'L1,0,-91.6,17.1,812.5,3,68,gps,phone,2026-03-12T10:00\nL1,50,-91.6,17.10045,814,4,95,gps,phone,2026-03-12 10:20\n',
      }),
      'L1',
    );
    expect(fixes(line).map(({ chainage_m, position }) => ({ chainage_m, position }))).toEqual([
      {
        chainage_m: 0,
        position: {
          ...{ x: -91.6, y: 17.1, crs: 'EPSG:4326', elevation_m: 812.5, accuracy_m: 3, accuracy_level: 68 },
          ...{ source: 'gps', device: 'phone', time: '2026-03-12T10:00' },
        },
      },
      {
        chainage_m: 50,
        position: {
          ...{ x: -91.6, y: 17.10045, crs: 'EPSG:4326', elevation_m: 814, accuracy_m: 4, accuracy_level: 95 },
          ...{ source: 'gps', device: 'phone', time: '2026-03-12T10:20' },
        },
      },
    ]);
    expect(line.profile).toEqual([
      { chainage_m: 0, height_m: 812.5 },
      { chainage_m: 50, height_m: 814 },
    ]);
  });

  test('keeps projected coordinates with their code', () => {
    const line = lineNamed(
      survey({
        'positions.csv':
          'line,chainage_m,easting,northing,epsg\nL1,0,500000,1890000,32615\nL1,9,500009,1890000,EPSG:32615\n',
      }),
      'L1',
    );
    expect(fixes(line).map(({ position }) => position)).toEqual([
      { x: 500000, y: 1890000, crs: 'EPSG:32615' },
      { x: 500009, y: 1890000, crs: 'EPSG:32615' },
    ]);
  });

  test('keeps the text of degrees, minutes and seconds beside the degrees', () => {
    const line = lineNamed(
      survey({
        'positions.csv': 'line,chainage_m,lat,lon\nL1,0,"17° 07.8514\' N",091° 38.0435\' W\nL1,9,17.131,-91.634\n',
      }),
      'L1',
    );
    const [first, second] = fixes(line);
    expect(first?.position.x).toBeCloseTo(-(91 + 38.0435 / 60), 12);
    expect(first?.position.y).toBeCloseTo(17 + 7.8514 / 60, 12);
    expect(first?.position.as_entered).toEqual(["091° 38.0435' W", "17° 07.8514' N"]);
    expect(second?.position).not.toHaveProperty('as_entered');
  });

  test('converts feet by the header, to the nanometre', () => {
    const line = lineNamed(
      survey({
        'positions.csv': 'line,chainage_ft,lon,lat,Elevation (ft)\nL1,0,-91.6,17.1,1000\nL1,25,-91.6,17.1001,1010\n',
      }),
      'L1',
    );
    expect(fixes(line).map((fix) => fix.chainage_m)).toEqual([0, 7.62]);
    expect(line.profile.map((point) => point.height_m)).toEqual([304.8, 307.848]);
  });

  test('rows with a height and no place make a profile', () => {
    const line = lineNamed(
      survey({
        'positions.csv': `line,chainage_m,lon,lat,elevation_m\nL1,0,-91.6,17.1,7\nL1,10,,,5.25\nL1,20,-91.6,17.10018,4\n`,
      }),
      'L1',
    );
    expect(fixes(line)).toHaveLength(2);
    expect(line.profile.map((point) => point.height_m)).toEqual([7, 5.25, 4]);
  });

  test('one column for lon and lat under other names, and a hookup for the line', () => {
    const line = lineNamed(
      survey({
        'Positions.CSV': 'Line ID;Station;LONGITUDE;Lat.;Array\nL1;0;-91,6;17,1;Wenner\nL1;10;-91,6;17,1001;Wenner\n',
      }),
      'L1',
    );
    expect(line.hookup).toBe('wenner_alpha');
    expect(fixes(line)[1]?.position).toMatchObject({ x: -91.6, y: 17.1001 });
  });
});

describe('electrode numbers', () => {
  const table = 'line,electrode,lon,lat\nM1,1,-91.63541,17.13524\nM1,24,-91.63541,17.13322\nM1,48,-91.6356,17.13111\n';

  test('times the step are chainages, and the highest number plans the electrodes, which is noted', () => {
    const outcome = read(
      { 'p.csv': table },
      { columns: mapOf('p.csv', { table: 'positions', constants: { step_m: 10 } }) },
    );
    const line = outcome.survey ? lineNamed(outcome.survey, 'M1') : null;
    expect(line && fixes(line).map((fix) => fix.chainage_m)).toEqual([0, 230, 470]);
    expect(line?.layout).toEqual({ from_m: 0, to_m: 470, step_m: 10 });
    expect(outcome.notes.map(({ kind, sentence }) => `${kind} ${sentence}`)).toEqual([
      expect.stringMatching(/^guessed .*M1 was taken to have 48 electrodes/),
    ]);
  });

  test('a step in decimals leaves no binary dust', () => {
    const line = lineNamed(
      survey(
        { 'p.csv': table },
        { columns: mapOf('p.csv', { table: 'positions', constants: { step_m: 0.1, electrodes: 48 } }) },
      ),
      'M1',
    );
    expect(fixes(line).map((fix) => fix.chainage_m)).toEqual([0, 2.3, 4.7]);
    expect(line.layout).toEqual({ from_m: 0, to_m: 4.7, step_m: 0.1 });
  });

  test('without a step the fault says to add one', () => {
    const [fault, ...others] = faults({ 'positions.csv': table });
    expect(others).toEqual([]);
    expect(fault).toMatchObject({ row: 1, column: 'step_m' });
  });

  test('a fraction of an electrode is a fault', () => {
    const found = faults(
      { 'p.csv': 'line,electrode,lon,lat\nM1,1,-91.6,17.1\nM1,2.5,-91.6,17.1001\n' },
      { columns: mapOf('p.csv', { table: 'positions', constants: { step_m: 5 } }) },
    );
    expect(found.map(({ row, column }) => [row, column])).toContainEqual([3, 'electrode']);
  });
});

describe('first and last electrode in one row', () => {
  // Ends of a real line, given as 48 electrodes at 5 m with a far electrode, to a hundred-thousandth of a degree.
  // Source: Buecker et al. 2020, DOI 10.5281/zenodo.3765209, CC BY 4.0. Note the tab and the spaces, as in the file.
  const table =
    'Line ID, Lon. 1st electrode, Lat. 1st electrode, Lon. 48th electrode, Lat. 48th electrode, Lon. infty, Lat. infty\r\n' +
    'Xoch1, -99.08208, 19.29717, -99.08069,\t19.29551, -99.07964, 19.29446\r\n';
  const columns = {
    'Line ID': 'line',
    'Lon. 1st electrode': 'first_lon',
    'Lat. 1st electrode': 'first_lat',
    'Lon. 48th electrode': 'last_lon',
    'Lat. 48th electrode': 'last_lat',
    'Lon. infty': 'remote_lon',
    'Lat. infty': 'remote_lat',
  };
  const mapWith = (constants: Record<string, number>) => mapOf('lines.txt', { table: 'positions', columns, constants });

  test('make two fixes, a planned layout, and an outing of the line with the remote electrode', () => {
    const made = survey({ 'lines.txt': table }, { columns: mapWith({ step_m: 5, electrodes: 48 }) });
    const line = lineNamed(made, 'Xoch1');
    expect(fixes(line).map(({ chainage_m, position: { x, y } }) => [chainage_m, x, y])).toEqual([
      [0, -99.08208, 19.29717],
      [235, -99.08069, 19.29551],
    ]);
    expect(line.layout).toEqual({ from_m: 0, to_m: 235, step_m: 5 });
    expect(made.outings).toMatchObject([
      { name: 'Xoch1', remotes: [{ role: 'B', position: { x: -99.07964, y: 19.29446, crs: 'EPSG:4326' } }] },
    ]);
  });

  test('without their number, the electrodes that fit the distance are taken, with a note of it', () => {
    const outcome = read({ 'lines.txt': table }, { columns: mapWith({ step_m: 5 }) });
    expect(outcome.survey?.lines[0]?.layout).toEqual({ from_m: 0, to_m: 235, step_m: 5 });
    expect(places(outcome.notes, 'guessed')).toEqual(['2:electrodes']);
    expect(outcome.notes[0]?.sentence).toMatch(/48 electrodes, 235 m at 5 m, since its ends lie 23[45]\.\d m apart/);
  });

  test('without a step the fault says to add one', () => {
    const [fault, ...others] = faults({ 'lines.txt': table }, { columns: mapWith({}) });
    expect(others).toEqual([]);
    expect(fault).toMatchObject({ row: 1, column: 'step_m' });
    expect(fault?.sentence).toContain('step_m');
  });

  test('a blank end is a fault', () => {
    const found = faults({ 'positions.csv': 'line,first_lon,first_lat,last_lon,last_lat,step_m\nL1,-99.1,19.3,,,5\n' });
    expect(found).toMatchObject([{ row: 2, column: 'last_lon' }]);
  });

  test('a step longer than the line is a fault', () => {
    expect(faults({ 'lines.txt': table }, { columns: mapWith({ step_m: 1000 }) })).toMatchObject([
      { row: 2, column: 'step_m' },
    ]);
  });

  test('projected ends are taken too', () => {
    const line = lineNamed(
      survey({
        'positions.csv':
          'line,first_easting,first_northing,last_easting,last_northing,epsg,step_m,electrodes\nL1,500000,1890000,500235,1890000,32615,5,48\n',
      }),
      'L1',
    );
    expect(fixes(line)[1]).toMatchObject({ chainage_m: 235, position: { x: 500235, y: 1890000, crs: 'EPSG:32615' } });
  });

  test('the remote joins the outing that the line’s readings name', () => {
    const made = survey({
      'positions.csv':
        'line,first_lon,first_lat,last_lon,last_lat,remote_lon,remote_lat,step_m,electrodes\nL1,-91.6,17.1,-91.6,17.1009,-91.61,17.11,5,21\n',
      'readings.csv': 'line,midpoint_m,spacing_m,value,unit,hookup,outing\nL1,10,2,34,ohm,pole_pole,2026-03-12\n',
    });
    expect(made.outings).toMatchObject([{ name: '2026-03-12', date: '2026-03-12', remotes: [{ role: 'B' }] }]);
    expect(made.readings[0]?.outing).toBe(made.outings[0]?.id);
  });

  test('readings without an outing join the one that is named after their line', () => {
    const made = survey({
      'positions.csv':
        'line,first_lon,first_lat,last_lon,last_lat,remote_lon,remote_lat,step_m,electrodes\nL1,-91.6,17.1,-91.6,17.1009,-91.61,17.11,5,21\n',
      'readings.csv': 'line,midpoint_m,spacing_m,value,unit,hookup\nL1,10,2,34,ohm,pole_pole\n',
    });
    expect(made.outings.map((outing) => outing.name)).toEqual(['L1']);
    expect(made.readings[0]?.outing).toBe(made.outings[0]?.id);
  });

  test('two remotes of one role in one outing are a fault', () => {
    const found = faults({
      'positions.csv':
        'line,first_lon,first_lat,last_lon,last_lat,remote_lon,remote_lat,step_m\n' +
        'L1,-91.6,17.1,-91.6,17.1009,-91.61,17.11,5\nL2,-91.601,17.1,-91.601,17.1009,-91.62,17.11,5\n',
      'readings.csv':
        'line,midpoint_m,spacing_m,value,unit,hookup,outing\nL1,10,2,34,ohm,pole_pole,day\nL2,10,2,34,ohm,pole_pole,day\n',
    });
    expect(found).toMatchObject([{ file: 'positions.csv', row: 3, column: 'remote_lon' }]);
  });
});

describe('a local grid', () => {
  const columns = mapOf('p.csv', {
    table: 'positions',
    grid: { unit: 'km', origin_lon_lat: [-122, 37], bearing_deg: 10 },
  });

  test('is kept with the site, and the coordinates as entered in it', () => {
    const made = survey({ 'p.csv': 'line,chainage_m,easting,northing\nL1,0,0.1,0.2\nL1,50,0.1,0.25\n' }, { columns });
    expect(made.site.local_grids).toEqual([
      { name: 'p', unit: 'km', origin_lon: -122, origin_lat: 37, bearing_deg: 10 },
    ]);
    expect(fixes(lineNamed(made, 'L1'))[0]?.position).toEqual({ x: 0.1, y: 0.2, crs: 'grid:p' });
  });

  test('a header in another unit than the grid is a fault, once', () => {
    const found = faults(
      { 'p.csv': 'line,chainage_m,easting (m),northing (m)\nL1,0,100,200\nL1,50,100,250\n' },
      { columns },
    );
    expect(found).toMatchObject([{ row: 1, column: 'easting (m)', read: 'm', expected: 'km' }]);
  });

  test('two grids under one name are a fault', () => {
    const grid = { name: 'g', unit: 'm' as const, origin_lon_lat: [-122, 37] as [number, number] };
    const files = {
      'p.csv': 'line,chainage_m,easting,northing\nL1,0,1,2\nL1,50,1,52\n',
      'q.csv': 'line,chainage_m,easting,northing\nL2,0,1,2\nL2,50,1,52\n',
    };
    const both = {
      files: {
        'p.csv': { table: 'positions' as const, grid },
        'q.csv': { table: 'positions' as const, grid: { ...grid, bearing_deg: 5 } },
      },
    };
    expect(faults(files, { columns: both })).toMatchObject([{ file: 'q.csv', column: 'grid' }]);
  });
});

test('x and y without a code are read as lon and lat, with a note', () => {
  const outcome = read({ 'positions.csv': 'line,chainage_m,x,y\nL1,0,-91.6,17.1\nL1,100,-91.6,17.1009\n' });
  expect(outcome.survey).not.toBeNull();
  expect(places(outcome.notes, 'guessed')).toEqual(['1:x', '1:y']);
});

test('lon and lat are preferred to easting and northing, with a note', () => {
  const outcome = read({
    'positions.csv':
      'line,chainage_m,lon,lat,easting,northing,epsg\nL1,0,-91.6,17.1,1,2,32615\nL1,100,-91.6,17.1009,1,2,32615\n',
  });
  expect(outcome.survey?.lines[0]?.path[0]).toMatchObject({ position: { x: -91.6, crs: 'EPSG:4326' } });
  expect(places(outcome.notes, 'skipped')).toEqual(['1:easting']);
});

test('the plain table of this file has no notes at all', () => {
  expect(read({ 'positions.csv': TWO_POINTS }).notes).toEqual([]);
});
