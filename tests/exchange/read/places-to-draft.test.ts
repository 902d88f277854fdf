import { describe, expect, it } from 'vitest';
import { readColumnsMap } from '../../../src/exchange/read/columns';
import type { FilePlaces } from '../../../src/exchange/read/places-map';
import { geodesicDestination } from '../../../src/position/geodesic';
import type { Line } from '../../../src/survey/survey';
import { faults, lineNamed, ONE_READING, read, survey, TWO_POINTS, utf8 } from './helpers';

/*
 * Places are laid out here with the geodesic of Karney (2013), so distances are known to far better than a millimetre.
 */

const START = { lon: -99.0829, lat: 19.2977 };
const at = (alongM: number) => geodesicDestination(START, 120, alongM);
const tuple = (alongM: number, altitude = 0) => `${at(alongM).lon},${at(alongM).lat},${altitude}`;
const placemark = (name: string, alongM: number) =>
  `<Placemark><name>${name}</name><Point><coordinates>${tuple(alongM)}</coordinates></Point></Placemark>`;
const drawn = (name: string, chainages: readonly number[], more = '') =>
  `<Placemark><name>${name}</name><LineString>${more}<coordinates>${chainages.map((m) => tuple(m)).join(' ')}</coordinates></LineString></Placemark>`;
const kml = (body: string) => `<kml xmlns="http://www.opengis.net/kml/2.2"><Document>${body}</Document></kml>`;
const options = (places: FilePlaces) => ({ columns: { files: {}, places: { 'a.kml': places } } });
const chainagesOf = (line: Line) => line.path.map((item) => (item.kind === 'fix' ? item.chainage_m : null));

describe('a drawn line', () => {
  it('of two places becomes a line from 0 to its length', () => {
    const made = survey({ 'a.kml': kml(drawn('L1', [0, 235])) });
    const line = lineNamed(made, 'L1');
    expect(chainagesOf(line)).toEqual([0, 235]);
    expect(line.path[0]).toMatchObject({
      kind: 'fix',
      position: { x: START.lon, y: START.lat, source: 'kml' },
    });
    expect(line.layout ?? null).toBeNull();
  });

  it('has its vertices as far along as it is long, and the electrodes where their number says so', () => {
    const vertices = [0, 10, 25, 40];
    expect(chainagesOf(lineNamed(survey({ 'a.kml': kml(drawn('L1', vertices)) }), 'L1'))).toEqual(vertices);
    const four = lineNamed(
      survey({ 'a.kml': kml(drawn('L1', vertices)) }, options({ step_m: 13, electrodes: 4 })),
      'L1',
    );
    expect(chainagesOf(four)).toEqual([0, 13, 26, 39]);
    expect(four.layout).toEqual({ from_m: 0, to_m: 39, step_m: 13 });
  });

  it('has the electrodes that fit between its ends when the step is known', () => {
    const { survey: made, notes } = read({ 'a.kml': kml(drawn('L1', [0, 234.6])) }, options({ step_m: 5 }));
    const line = made?.lines[0] as Line;
    expect(chainagesOf(line)).toEqual([0, 235]);
    expect(line.layout).toEqual({ from_m: 0, to_m: 235, step_m: 5 });
    expect(notes.some(({ sentence }) => sentence.includes('48 electrodes'))).toBe(true);
  });

  it('is the same line as a table of the same ends', () => {
    const [first, last] = [at(0), at(235)];
    const head = 'line,first_lon,first_lat,last_lon,last_lat,step_m,electrodes';
    const row = `L1,${first.lon},${first.lat},${last.lon},${last.lat},5,48`;
    const table = lineNamed(survey({ 'positions.csv': `${head}\n${row}\n` }), 'L1');
    const map = lineNamed(
      survey({ 'a.kml': kml(drawn('L1', [0, 235])) }, options({ step_m: 5, electrodes: 48 })),
      'L1',
    );
    const placesOf = ({ path }: Line) =>
      path.map((item) => (item.kind === 'fix' ? [item.chainage_m, item.position.x, item.position.y] : null));
    expect(placesOf(map)).toEqual(placesOf(table));
    expect(map.layout).toEqual(table.layout);
  });

  it('with heights is measured along the slope, as a tape would be', () => {
    // 3-4-5: 40 m level and 30 m up.
    const text = kml(
      `<Placemark><name>L1</name><LineString><altitudeMode>absolute</altitudeMode><coordinates>${tuple(0, 100)} ${tuple(40, 130)}</coordinates></LineString></Placemark>`,
    );
    const line = lineNamed(survey({ 'a.kml': text }), 'L1');
    expect(chainagesOf(line)).toEqual([0, 50]);
    expect(line.profile).toEqual([
      { chainage_m: 0, height_m: 100 },
      { chainage_m: 50, height_m: 130 },
    ]);
  });

  it('that a table has placed already is left out, and that is told', () => {
    const { survey: made, notes } = read({ 'positions.csv': TWO_POINTS, 'a.kml': kml(drawn('L1', [0, 100])) });
    expect(chainagesOf(made?.lines[0] as Line)).toEqual([0, 100]);
    expect(notes.find(({ file }) => file === 'a.kml')).toMatchObject({ kind: 'skipped', read: 'L1' });
  });

  it('serves readings by chainage that come in a table', () => {
    const made = survey({ 'readings.csv': ONE_READING, 'a.kml': kml(drawn('Line 1', [0, 100])) });
    expect(made.lines.map(({ name }) => name)).toEqual(['L1']);
    expect(chainagesOf(lineNamed(made, 'L1'))).toEqual([0, 100]);
  });

  it('of a logger keeps its heights and does not use them', () => {
    const point = (alongM: number) =>
      `<trkpt lat="${at(alongM).lat}" lon="${at(alongM).lon}"><ele>${alongM}</ele><time>2025-06-03T09:00:0${alongM / 10}Z</time></trkpt>`;
    const text = `<gpx><trk><name>T</name><trkseg>${[0, 10, 20].map(point).join('')}</trkseg></trk></gpx>`;
    const { survey: made, notes } = read({ 'a.gpx': text });
    const line = made?.lines[0] as Line;
    expect(chainagesOf(line)).toEqual([0, 10, 20]);
    expect(line.profile).toEqual([]);
    expect(line.path[1]).toMatchObject({
      position: { recorded_elevation_m: 10, time: '2025-06-03T09:00:01Z', source: 'gpx' },
    });
    expect(notes.some(({ column }) => column === 'ele')).toBe(true);
  });

  it('without a length, or too long to be one, is left out with its reason', () => {
    expect(faults({ 'a.kml': kml(drawn('L1', [0, 0])) })[0]?.sentence).toContain('in one spot');
    expect(faults({ 'a.kml': kml(drawn('L1', [0, 200_000])) })[0]?.sentence).toContain('200 km long');
    const many = `<gpx><trk><trkseg>${'<trkpt lat="1" lon="2"/><trkpt lat="1.001" lon="2"/>'.repeat(5001)}</trkseg></trk></gpx>`;
    expect(faults({ 'a.gpx': many })[0]?.sentence).toContain('10002 places');
  });
});

describe('named points', () => {
  it('stand where their number and the step say', () => {
    const points = ['L1 e1', 'L1 e24', 'L1 e48'].map((name, i) => placemark(name, [0, 115, 235][i] as number)).join('');
    const line = lineNamed(survey({ 'a.kml': kml(points) }, options({ step_m: 5 })), 'L1');
    expect(chainagesOf(line)).toEqual([0, 115, 235]);
    expect(line.layout).toEqual({ from_m: 0, to_m: 235, step_m: 5 });
  });

  it('stand where their chainage says', () => {
    const points = placemark('L1 12.5 m', 12.5) + placemark('L1 0 m', 0) + placemark('L1 end', 40);
    const { survey: made, notes } = read({ 'a.kml': kml(points) });
    expect(chainagesOf(made?.lines[0] as Line)).toEqual([12.5, 0]);
    expect(notes.some(({ kind, read: name }) => kind === 'skipped' && name === 'L1 end')).toBe(true);
  });

  it('without a step are measured from the first electrode on', () => {
    const points = placemark('L1 e3', 21) + placemark('L1 e1', 0) + placemark('L1 e2', 10);
    expect(chainagesOf(lineNamed(survey({ 'a.kml': kml(points) }), 'L1'))).toEqual([21, 0, 10]);
    const ends = placemark('L1 start', 0) + placemark('L1 end', 77);
    expect(chainagesOf(lineNamed(survey({ 'a.kml': kml(ends) }), 'L1'))).toEqual([0, 77]);
  });

  it('may be remote electrodes', () => {
    const made = survey({
      'a.kml': kml(drawn('L1', [0, 100]) + placemark('L1 remote B', 900) + placemark('N inf', 950)),
    });
    expect(made.outings).toMatchObject([{ name: 'L1', remotes: [{ role: 'B' }, { role: 'N' }] }]);
  });

  it('are what the columns map says they are', () => {
    const names = {
      oak: { line: 'L9', chainage_m: 5 },
      gate: { line: 'L9', electrode: 11 },
      'gate (2)': null,
      far: { line: 'L9', remote: 'B' as const },
    };
    const points = placemark('oak', 5) + placemark('gate', 20) + placemark('gate', 30) + placemark('far', 800);
    const { survey: made, notes } = read({ 'a.kml': kml(points) }, options({ names, step_m: 2 }));
    expect(chainagesOf(made?.lines[0] as Line)).toEqual([5, 20]);
    expect(made?.outings).toMatchObject([{ name: 'L9', remotes: [{ role: 'B' }] }]);
    expect(notes.find(({ kind }) => kind === 'skipped')?.sentence).toContain('"gate (2)" is not wanted');
  });

  it('that name nothing are listed, and alone are a fault that says what to do', () => {
    const both = read({ 'a.kml': kml(drawn('L1', [0, 100]) + placemark('Spring', 50)) });
    expect(both.survey).not.toBeNull();
    expect(both.notes.some(({ kind, read: name }) => kind === 'skipped' && name === 'Spring')).toBe(true);
    const [fault] = faults({ 'a.kml': kml(placemark('Spring', 50)) });
    expect(fault?.sentence).toContain('"L1 e24"');
  });

  it('that contradict the drawing of their own line are left out, and by how much is told', () => {
    const body = drawn('L1', [0, 100]) + placemark('L1 e1', 100);
    const { survey: made, notes } = read({ 'a.kml': kml(body) }, options({ step_m: 5 }));
    expect(chainagesOf(made?.lines[0] as Line)).toEqual([0, 100]);
    expect(notes.some(({ sentence }) => sentence.includes('100 m from this one'))).toBe(true);
  });

  it('of a table without lines are matched alike', () => {
    const table = `lat;lon;name\n${[0, 10].map((m) => `${at(m).lat};${at(m).lon};L1 ${m} m`).join('\n')}\n`;
    expect(chainagesOf(lineNamed(survey({ 'points.csv': table }), 'L1'))).toEqual([0, 10]);
  });
});

describe('reading files of places', () => {
  const FILES = {
    'a.kml': kml(drawn('L1', [0, 50, 100]) + drawn('L2', [0, 80]) + placemark('L1 30 m', 30) + placemark('B inf', 900)),
    'b.gpx': `<gpx><wpt lat="${at(60).lat}" lon="${at(60).lon}"><name>L1 60m</name><time>2025-06-03T09:00:00Z</time></wpt></gpx>`,
  };

  it('twice changes nothing', () => {
    const once = survey(FILES);
    expect(chainagesOf(lineNamed(once, 'L1'))).toEqual([0, 50, 100, 30, 60]);
    expect(survey(FILES, { into: once })).toBe(once);
    expect(survey(FILES)).toEqual(once);
  });

  it('with a fault anywhere takes nothing', () => {
    const broken = { ...FILES, 'b.gpx': FILES['b.gpx'].slice(0, -8) };
    expect(faults(broken)).toMatchObject([{ file: 'b.gpx' }]);
  });

  it('keeps what names lines with control characters from rewriting a line', () => {
    const { survey: made } = read({ 'a.kml': kml(drawn('L\u202e1', [0, 50])) });
    expect(made?.lines[0]?.name).toBe('L1');
  });
});

describe('a columns map of places', () => {
  const mapOf = (value: unknown) => readColumnsMap(utf8(JSON.stringify(value)), 'c.json');

  it('stands beside the files or alone', () => {
    const places = { 'a.kml': { step_m: 5, electrodes: 48, names: { P1: { line: 'L1', electrode: 1 }, P2: null } } };
    expect(mapOf({ places })).toEqual({ columns: { files: {}, places }, notes: [] });
    expect(mapOf({ files: {}, places }).columns).toEqual({ files: {}, places });
    expect(mapOf({}).columns).toBeNull();
  });

  it('is refused where it says what no place is', () => {
    for (const name of [{ line: 'L1', electrode: 0 }, { at: 'middle' }, { lines: 'L1' }, { remote: 'C' }]) {
      expect(mapOf({ places: { a: { names: { P: name } } } }).notes).toHaveLength(1);
    }
    expect(mapOf({ places: { a: { step_m: 0 } } }).columns).toBeNull();
  });
});
