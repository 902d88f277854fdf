import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { BadInput } from '../../src/cli/faults';
import { readSurvey } from '../../src/cli/read-survey';

const GPX =
  '<gpx><trk><name>L1</name><trkseg><trkpt lat="17.1" lon="-91.6"/><trkpt lat="17.1009" lon="-91.6"/></trkseg></trk></gpx>';
const WAYPOINT = '<gpx><wpt lat="17.1" lon="-91.6"><name>Spring</name></wpt></gpx>';
const POSITIONS = 'line,chainage_m,lon,lat\nA,0,-91.6,17.1\nA,50,-91.6,17.10045\n';
const LINE =
  '{"type":"Feature","properties":{"name":"G"},"geometry":{"type":"LineString","coordinates":[[-91.6,17.1],[-91.6,17.1009]]}}';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'places-'));
});
afterEach(() => {
  rmSync(folder, { recursive: true });
});

const put = (name: string, text: string): string => {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
};
const lines = (path: string, columns?: string) => readSurvey(path, columns).survey.lines.map(({ name }) => name);

describe('the survey that a path means', () => {
  it('may be one file of places', () => {
    expect(lines(put('a.gpx', GPX))).toEqual(['L1']);
    expect(
      lines(
        put(
          'a.kml',
          '<kml><Placemark><name>K</name><LineString><coordinates>1,2 1,2.001</coordinates></LineString></Placemark></kml>',
        ),
      ),
    ).toEqual(['K']);
    expect(lines(put('a.geojson', LINE))).toEqual(['G']);
    expect(lines(put('a.json', LINE))).toEqual(['G']);
    expect(lines(put('a.csv', 'name,lat,lon\nL1 0 m,17.1,-91.6\nL1 50 m,17.10045,-91.6\n'))).toEqual(['L1']);
  });

  it('may be a folder of them, with and without tables', () => {
    put('walk.gpx', GPX);
    expect(lines(folder)).toEqual(['L1']);
    put('lines.geojson', LINE);
    put('positions.csv', POSITIONS);
    const { survey, inputs } = readSurvey(folder, undefined);
    expect(survey.lines.map(({ name }) => name)).toEqual(['A', 'G', 'L1']);
    expect(inputs).toHaveLength(3);
  });

  it('leaves places that name no line of its tables out, with a note', () => {
    put('positions.csv', POSITIONS);
    put('spring.gpx', WAYPOINT);
    const { survey, notes } = readSurvey(folder, undefined);
    expect(survey.lines).toHaveLength(1);
    expect(notes.some(({ kind, read }) => kind === 'skipped' && read === 'Spring')).toBe(true);
  });

  it('is a survey document even where layers lie beside it', () => {
    const { survey } = readSurvey(put('a.gpx', GPX), undefined);
    const nested = join(folder, 'site');
    mkdirSync(nested);
    writeFileSync(join(nested, 'x.survey.json'), JSON.stringify(survey));
    writeFileSync(join(nested, 'lines.geojson'), LINE);
    expect(lines(nested)).toEqual(['L1']);
  });

  it('follows a columns map of names', () => {
    const columns = put(
      'columns.json',
      JSON.stringify({ places: { 'w.gpx': { names: { L1: { line: 'Renamed' } } } } }),
    );
    const nested = join(folder, 'site');
    mkdirSync(nested);
    writeFileSync(join(nested, 'w.gpx'), GPX);
    expect(lines(nested, columns)).toEqual(['Renamed']);
  });

  it('is refused with a line a fault, never read in part', () => {
    const broken = () => lines(put('b.gpx', GPX.slice(0, -5)));
    expect(broken).toThrow(BadInput);
    expect(() => lines(put('w.gpx', WAYPOINT))).toThrow(BadInput);
  });
});
