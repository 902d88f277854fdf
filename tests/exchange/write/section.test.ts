import type { LineString } from 'geojson';
import geojsonValidation from 'geojson-validation';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { appraise } from '../../../src/appraise';
import { disclose } from '../../../src/discretion/disclose';
import { geojsonText } from '../../../src/exchange/write/geojson';
import type { WrittenCell } from '../../../src/exchange/write/section-cell';
import { sectionLayer } from '../../../src/exchange/write/section-layer';
import { sectionCsv } from '../../../src/exchange/write/section-table';
import { geodesicDestination, geodesicDistanceM } from '../../../src/position/geodesic';
import { makeId } from '../../../src/survey/ids';
import { rfc7946Breaches } from '../../helpers/assert-rfc7946';
import { openWithGdal } from '../../helpers/gdal';
import { emptySurvey, madeLine, madeReading } from '../../helpers/made-survey';

/** A line of 30 m to the east, then 30 m to the south-east, with a few readings. */
function bent(lon = 10, lat = 47) {
  const corner = geodesicDestination({ lon, lat }, 90, 30);
  const line = madeLine('bent, "1"', [
    { chainageM: 0, lon, lat },
    { chainageM: 30, ...corner },
    { chainageM: 60, ...geodesicDestination(corner, 135, 30) },
  ]);
  const readings = [10, 20, 40].map((midpoint_m) =>
    madeReading(line, { midpoint_m, spacing_m: 4, value: 300, hookup: 'pole_pole' }),
  );
  const survey = { ...emptySurvey('bent'), lines: [line], readings };
  return { line, corner, disclosed: disclose(survey, appraise(survey), 'surveyor') };
}

const cell = (chainageFromM: number, chainageToM: number, more: Partial<WrittenCell> = {}): WrittenCell => ({
  chainageFromM,
  chainageToM,
  depthTopM: 0,
  depthBottomM: 1,
  resistivityOhmM: 123.456,
  coverage: 0.98765,
  ...more,
});

const CELLS = [
  cell(0, 4),
  cell(0, 4, { depthTopM: 1, depthBottomM: 2.5, resistivityOhmM: 4000 }),
  cell(28, 32),
  cell(56, 62),
];

describe('the cells of a section in a layer', () => {
  it('are RFC 7946, for two readers that are not ours', async () => {
    const { line, disclosed } = bent();
    const text = geojsonText(sectionLayer(disclosed, line.id, CELLS));
    expect(rfc7946Breaches(text)).toEqual([]);
    expect(geojsonValidation.valid(JSON.parse(text))).toBe(true);
    const opened = await openWithGdal('section', text);
    expect(opened.featureCount).toBe(CELLS.length);
    expect(opened.geometryType).toBe('LineString');
    expect(opened.fields).toMatchObject({
      sid: 'String',
      line: 'String',
      chainage_from_m: 'Real',
      chainage_to_m: 'Real',
      depth_top_m: 'Real',
      depth_bottom_m: 'Real',
      resistivity_ohm_m: 'Real',
      coverage: 'Real',
      part: 'Integer',
    });
  });

  it('lie on the ground path: as long as they say, and round the bend where it is', () => {
    const { line, corner, disclosed } = bent();
    const { features } = sectionLayer(disclosed, line.id, CELLS);
    const paths = features.map(({ geometry }) => (geometry as LineString).coordinates as [number, number][]);
    const pathOf = (i: number) => paths[i] ?? [];
    const lengthM = (path: [number, number][]) =>
      path.slice(1).reduce((sum, [lon, lat], i) => {
        const [fromLon, fromLat] = path[i] as [number, number];
        return sum + geodesicDistanceM({ lon: fromLon, lat: fromLat }, { lon, lat });
      }, 0);
    for (const [i, { chainageFromM, chainageToM }] of CELLS.entries()) {
      expect(Math.abs(lengthM(pathOf(i)) - (chainageToM - chainageFromM))).toBeLessThan(0.05);
    }
    expect(pathOf(0)).toHaveLength(2);
    expect(pathOf(2)).toHaveLength(3);
    const [lon = 0, lat = 0] = pathOf(2)[1] ?? [];
    expect(geodesicDistanceM({ lon, lat }, corner)).toBeLessThan(0.05);
  });

  it('carry their figures, rounded to what they are worth, and the name of the line', () => {
    const { line, disclosed } = bent();
    const [first, second] = sectionLayer(disclosed, line.id, CELLS).features;
    expect(first?.properties).toMatchObject({
      line: 'bent, "1"',
      chainage_from_m: 0,
      chainage_to_m: 4,
      depth_top_m: 0,
      depth_bottom_m: 1,
      resistivity_ohm_m: 123.5,
      coverage: 0.9877,
      part: 1,
    });
    expect(first?.properties.sid).toBe(first?.id);
    expect(second?.properties.stroke).not.toBe(first?.properties.stroke);
  });

  it('are cut where they cross 180°', () => {
    const { line, disclosed } = bent(179.9998, -16.5);
    const text = geojsonText(sectionLayer(disclosed, line.id, [cell(10, 30)]));
    expect(rfc7946Breaches(text)).toEqual([]);
    expect(
      JSON.parse(text).features.map(({ properties }: { properties: { part: number } }) => properties.part),
    ).toEqual([1, 2]);
  });

  it('are none for a line that is not among what may be seen', () => {
    const { disclosed } = bent();
    const other = makeId('line', 'test', 'other');
    expect(sectionLayer(disclosed, other, CELLS).features).toEqual([]);
    expect(sectionCsv(disclosed, other, CELLS).trim().split('\n')).toHaveLength(1);
  });
});

describe('the cells of a section in a table', () => {
  it('are read back by another reader, number by number', () => {
    const { line, disclosed } = bent();
    const parsed = Papa.parse<Record<string, string | number>>(sectionCsv(disclosed, line.id, CELLS), {
      header: true,
      dynamicTyping: true,
      skipEmptyLines: true,
    });
    expect(parsed.errors).toEqual([]);
    expect(parsed.data).toHaveLength(CELLS.length);
    expect(parsed.data[1]).toEqual({
      line: 'bent, "1"',
      chainage_from_m: 0,
      chainage_to_m: 4,
      depth_top_m: 1,
      depth_bottom_m: 2.5,
      resistivity_ohm_m: 4000,
      coverage: 0.9877,
    });
  });
});
