import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { check, HintError } from '@placemarkio/check-geojson';
import type { FeatureCollection, LineString, MultiPolygon, Point } from 'geojson';
import geojsonValidation from 'geojson-validation';
import { describe, expect, it } from 'vitest';
import { appraise } from '../../../src/appraise';
import { disclose } from '../../../src/discretion/disclose';
import { readSurveyFile } from '../../../src/exchange/read/survey-file';
import { geojsonPieces, geojsonStream, geojsonText } from '../../../src/exchange/write/geojson';
import { LAYER_NAMES, type LayerName, type Layers } from '../../../src/exchange/write/layer-collection';
import { buildLayers } from '../../../src/exchange/write/layers';
import { projectedColumns } from '../../../src/exchange/write/projected';
import { geodesicDestination, geodesicDistanceM } from '../../../src/position/geodesic';
import type { Reading, Survey } from '../../../src/survey/survey';
import { rfc7946Breaches } from '../../helpers/assert-rfc7946';
import { openWithGdal } from '../../helpers/gdal';
import { emptySurvey, madeLine, madeReading, madeReference } from '../../helpers/made-survey';

function demo(): Survey {
  const file = resolve(import.meta.dirname, '../../../demo-data/survey-form/brackamore-slade.survey.json');
  const { survey } = readSurveyFile(readFileSync(file), file);
  if (!survey) throw new Error('the demo survey cannot be read');
  return survey;
}

function layersOf(survey: Survey, drape: 'midpoint' | 'probes' = 'midpoint', crs?: string): Layers {
  const projected = crs ? projectedColumns(crs) : null;
  if (projected && !projected.ok) throw new Error(projected.sentence);
  return buildLayers(disclose(survey, appraise(survey), 'surveyor'), { drape, projected: projected?.value ?? null });
}

/** A bent line with a reference, from a place eastwards: 30 m straight, then 30 m turned by `turnDeg`. */
function bentSurvey(lon: number, lat: number, turnDeg = 40): Survey {
  const corner = geodesicDestination({ lon, lat }, 90, 30);
  const end = geodesicDestination(corner, 90 + turnDeg, 30);
  const line = madeLine('bent', [
    { chainageM: 0, lon, lat },
    { chainageM: 30, ...corner },
    { chainageM: 60, ...end },
  ]);
  const readings: Reading[] = [];
  for (let chainage = 4; chainage <= 56; chainage += 2) {
    readings.push(
      madeReading(line, {
        midpoint_m: chainage,
        spacing_m: 3,
        value: chainage === 20 ? 900 : 300,
        hookup: 'pole_pole',
      }),
    );
  }
  return {
    ...emptySurvey('bent'),
    lines: [line],
    readings,
    references: [madeReference([4, 6, 8, 50, 52].map((chainageM) => ({ line, chainageM })))],
  };
}

const demoLayers = layersOf(demo());
const probeLayers = layersOf(demo(), 'probes');
const dateline = layersOf(bentSurvey(179.9997, -16.5));

const SHEETS: readonly (readonly [string, Layers])[] = [
  ['the demo', demoLayers],
  ['the demo draped on probes', probeLayers],
  ['a line across 180°', dateline],
  ['a hairpin', layersOf(bentSurvey(10, 47, 165))],
  ['a survey without lines', layersOf(emptySurvey())],
];

const GEOMETRY: Record<LayerName, string> = {
  lines: 'MultiLineString',
  controls: 'Point',
  electrodes: 'Point',
  midpoints: 'Point',
  segments: 'LineString',
  corridors: 'MultiPolygon',
  zones: 'MultiPolygon',
  next_readings: 'Point',
};

describe.each(SHEETS)('the layers of %s', (_what, layers) => {
  it.each(LAYER_NAMES)('%s keep RFC 7946 and two validators', (name) => {
    const text = geojsonText(layers[name]);
    expect(rfc7946Breaches(text)).toEqual([]);
    expect(geojsonValidation.valid(JSON.parse(text))).toBe(true);
    let hints: unknown = null;
    try {
      check(text);
    } catch (error) {
      hints = error instanceof HintError ? error.issues : error;
    }
    expect(hints).toBeNull();
  });

  it.each(LAYER_NAMES)('%s have one geometry type, and sid beside id', (name) => {
    for (const { id, geometry, properties } of layers[name].features) {
      expect(geometry.type).toBe(GEOMETRY[name]);
      expect(properties?.sid).toBe(id);
      expect(properties).not.toHaveProperty('id');
    }
  });

  it.each(LAYER_NAMES)('%s have the same properties in every feature, one type each', (name) => {
    const types = new Map<string, string>();
    const [first] = layers[name].features;
    for (const { properties } of layers[name].features) {
      expect(Object.keys(properties ?? {})).toEqual(Object.keys(first?.properties ?? {}));
      for (const [key, value] of Object.entries(properties ?? {})) {
        if (value === null) continue;
        expect(types.get(key) ?? typeof value).toBe(typeof value);
        types.set(key, typeof value);
      }
    }
  });
});

describe('the layers of the demo read by GDAL', () => {
  const withCrs = layersOf(demo(), 'midpoint', 'EPSG:32615');

  it.each(LAYER_NAMES)('%s: same count, one geometry type, same values and places', async (name) => {
    const layer = withCrs[name];
    const opened = await openWithGdal(name, geojsonText(layer));
    expect(opened.featureCount).toBe(layer.features.length);
    expect(opened.geometryType).toBe(GEOMETRY[name]);
    const again = new Map(opened.rewritten.features.map((feature) => [feature.properties?.sid as string, feature]));
    for (const { id, properties, geometry } of layer.features) {
      const read = again.get(String(id));
      expect({ ...read?.properties, id: undefined }).toEqual({ ...properties, id: undefined });
      expect(read?.geometry).toEqual(geometry);
    }
  });

  it('measures are real numbers and counts are integers in every layer', async () => {
    const { fields } = await openWithGdal('segments', geojsonText(withCrs.segments));
    expect(fields).toMatchObject({
      chainage_m: 'Real',
      spacing_m: 'Real',
      figure_ohm_m: 'Real',
      ratio: 'Real',
      grade: 'String',
      reading_count: 'Integer',
      part: 'Integer',
      epsg: 'Integer',
    });
  });

  it('corridors are valid polygons, also at a hairpin and across 180°', async () => {
    for (const [i, layers] of [demoLayers, dateline, layersOf(bentSurvey(10, 47, 165))].entries()) {
      expect(layers.corridors.features.length).toBeGreaterThan(0);
      const opened = await openWithGdal(`corridors${i}`, geojsonText(layers.corridors));
      const validity = await opened.select(`select sid, ST_IsValid(geometry) as valid from corridors${i}`);
      expect(validity.features.map((feature) => feature.properties?.valid)).toEqual(
        layers.corridors.features.map(() => 1),
      );
    }
  });
});

describe('segments', () => {
  const spanOf = (coordinates: readonly (readonly number[])[]): number =>
    coordinates.slice(1).reduce((sum, [lon = 0, lat = 0], i) => {
      const [px = 0, py = 0] = coordinates[i] ?? [];
      return sum + geodesicDistanceM({ lon: px, lat: py }, { lon, lat });
    }, 0);

  it('are as long as their chainages say and bend exactly where the line bends', () => {
    const survey = bentSurvey(-91.9, 37.4);
    const { segments } = layersOf(survey);
    const corner = survey.lines[0]?.path[1];
    for (const { geometry, properties } of segments.features) {
      const { coordinates } = geometry as LineString;
      const from = Number(properties?.chainage_from_m);
      const to = Number(properties?.chainage_to_m);
      expect(Math.abs(spanOf(coordinates) - (to - from))).toBeLessThan(0.03);
      const bends = from < 30 && to > 30;
      expect(coordinates).toHaveLength(bends ? 3 : 2);
      if (bends && corner?.kind === 'fix') {
        expect(coordinates[1]?.[0]).toBeCloseTo(corner.position.x, 6);
        expect(coordinates[1]?.[1]).toBeCloseTo(corner.position.y, 6);
      }
    }
    expect(segments.features.some(({ geometry }) => (geometry as LineString).coordinates.length === 3)).toBe(true);
  });

  it('across 180° become parts on either side, nothing lost', () => {
    const parts = dateline.segments.features.filter(({ properties }) => properties?.part === 2);
    expect(parts.length).toBeGreaterThan(0);
    const of = (sid: unknown) =>
      dateline.segments.features.filter(({ properties }) =>
        String(properties?.sid).startsWith(String(sid).replace(/:\d+$/, ':')),
      );
    for (const part of parts) {
      const length = of(part.properties?.sid).reduce(
        (sum, { geometry }) => sum + spanOf((geometry as LineString).coordinates),
        0,
      );
      const said = Number(part.properties?.chainage_to_m) - Number(part.properties?.chainage_from_m);
      expect(Math.abs(length - said)).toBeLessThan(0.05);
    }
    expect((dateline.segments.bbox?.[0] ?? 0) > (dateline.segments.bbox?.[2] ?? 0)).toBe(true);
  });

  it('draped on probes lie on both probes of a pole-pole or two-probe reading, and nowhere else', () => {
    const twin = probeLayers.segments.features.filter(({ properties }) => properties?.drape === 'probes');
    expect(new Set(twin.map(({ properties }) => properties?.hookup))).toEqual(new Set(['pole_pole', 'two_probe']));
    for (const { properties } of twin) {
      const middle = (Number(properties?.chainage_from_m) + Number(properties?.chainage_to_m)) / 2;
      const offset = Math.abs(middle - Number(properties?.chainage_m));
      expect(Math.abs(offset - Number(properties?.spacing_m) / 2)).toBeLessThan(
        Number(properties?.spacing_m) / 2 + 1e-6,
      );
    }
    const stays = probeLayers.segments.features.filter(({ properties }) => properties?.hookup === 'wenner_alpha');
    expect(stays.length).toBeGreaterThan(0);
    expect(stays.every(({ properties }) => properties?.drape === 'midpoint')).toBe(true);
  });

  it('of an over-range place are drawn with no figure', () => {
    const survey = bentSurvey(-91.9, 37.4);
    const [line] = survey.lines;
    if (!line) throw new Error('no line');
    const over = madeReading(line, {
      midpoint_m: 21,
      spacing_m: 8,
      status: 'over_range',
      limit: 20,
      unit: 'kohm_m',
      hookup: 'pole_pole',
    });
    const { segments } = layersOf({ ...survey, readings: [...survey.readings, over] });
    const drawn = segments.features.find(({ properties }) => properties?.spacing_m === 8);
    expect(drawn?.properties).toMatchObject({ figure_ohm_m: null, ratio: null, grade: null, reading_count: 0 });
    expect(drawn?.properties?.doubts).toContain('over_range');
  });
});

describe('two-probe rows', () => {
  it('carry no depth, no resistivity, and no corridor', () => {
    const rows = demoLayers.midpoints.features.filter(({ properties }) => properties?.hookup === 'two_probe');
    expect(rows.length).toBeGreaterThan(100);
    for (const { properties } of rows) {
      expect(properties).toMatchObject({ depth_m: null, depth_rule: 'none', figure_kind: 'two_probe' });
    }
    expect(demoLayers.corridors.features.some(({ properties }) => properties?.line === 'T')).toBe(false);
  });
});

describe('projected columns', () => {
  it('give back the place to a millimetre', () => {
    const { midpoints } = layersOf(demo(), 'midpoint', 'EPSG:32615');
    const crs = projectedColumns('EPSG:32615');
    if (!crs.ok) throw new Error(crs.sentence);
    for (const { geometry, properties } of midpoints.features.slice(0, 50)) {
      const [lon = 0, lat = 0] = (geometry as Point).coordinates;
      const columns = crs.value.columns(lon, lat);
      // 7 decimals of a degree are 11 mm: the columns hold more than the coordinates.
      expect(Math.abs(columns.easting_m - Number(properties?.easting_m))).toBeLessThan(0.011);
      expect(Math.abs(columns.northing_m - Number(properties?.northing_m))).toBeLessThan(0.011);
      expect(properties?.epsg).toBe(32615);
    }
  });

  it.each([
    ['EPSG:4326', 'not_projected'],
    ['EPSG:2263', 'not_in_metres'],
    ['EPSG:27700', 'crs_needs_grid'],
    ['EPSG:1', 'unknown_crs'],
  ])('are refused for %s: %s', (code, refusal) => {
    expect(projectedColumns(code)).toMatchObject({ ok: false, code: refusal });
  });
});

describe('corridors', () => {
  it('are as wide as they say on either side of the line', () => {
    const survey = bentSurvey(-91.9, 37.4, 0.001);
    const { corridors } = layersOf(survey);
    const [feature] = corridors.features as FeatureCollection<MultiPolygon>['features'];
    const half = Number(feature?.properties?.half_width_m);
    const lats = feature?.geometry.coordinates.flat(2).map(([, lat = 0]) => lat) ?? [];
    const width = geodesicDistanceM({ lon: -91.9, lat: Math.min(...lats) }, { lon: -91.9, lat: Math.max(...lats) });
    expect(width).toBeCloseTo(2 * half, 1);
    expect(feature?.properties).toMatchObject({
      target_kind: 'air_filled_chamber',
      target_radius_m: 2,
      target_depth_m: 3,
    });
  });
});

describe('the text of a layer', () => {
  it('is JSON whatever the size of a number', () => {
    const layer = {
      type: 'FeatureCollection' as const,
      features: [
        {
          type: 'Feature' as const,
          id: 'a',
          properties: { sid: 'a', ratio: 1e22, z_score: 3, reading_count: 3 },
          geometry: { type: 'Point' as const, coordinates: [1, 2] },
        },
      ],
    };
    const text = geojsonText(layer);
    expect(JSON.parse(text)).toEqual(layer);
    expect(text).toContain('"z_score":3.0,"reading_count":3}');
  });

  it.each([0, 1, 99, 100, 101, 250])('is the same as a whole, in pieces and as a stream: of %i features', (count) => {
    const bbox: [number, number, number, number] = [0, 5, (count - 1) / 10, 5];
    const features = Array.from({ length: count }, (_, i) => ({
      type: 'Feature' as const,
      id: `f${i}`,
      properties: { sid: `f${i}`, ratio: i },
      geometry: { type: 'Point' as const, coordinates: [i / 10, 5] },
    }));
    const layer = { type: 'FeatureCollection' as const, ...(count > 0 && { bbox }), features };
    const text = geojsonText(layer);
    expect(JSON.parse(text)).toEqual(layer);
    expect(text.split('\n')).toHaveLength(count + (count > 0 ? 3 : 2));
    expect(geojsonPieces(features).join('')).toBe(text);
    expect([...geojsonStream(features, count > 0 ? bbox : null)].join('')).toBe(text);
  });
});

describe('the checker of these tests', () => {
  it.each([
    [
      'a clockwise ring',
      '{"type":"FeatureCollection","bbox":[0,0,1,1],"features":[{"type":"Feature","id":"a","properties":{},"geometry":{"type":"Polygon","coordinates":[[[0,0],[0,1],[1,1],[0,0]]]}}]}',
      'wound',
    ],
    [
      'a latitude of 95°',
      '{"type":"FeatureCollection","bbox":[0,95,0,95],"features":[{"type":"Feature","id":"a","properties":{},"geometry":{"type":"Point","coordinates":[0,95]}}]}',
      'not on the Earth',
    ],
    [
      'one id twice',
      '{"type":"FeatureCollection","features":[{"type":"Feature","id":"a","properties":{},"geometry":null},{"type":"Feature","id":"a","properties":{},"geometry":null}]}',
      'not its own',
    ],
    ['a crs member', '{"type":"FeatureCollection","crs":{},"features":[]}', 'crs'],
    [
      'a bbox too small',
      '{"type":"FeatureCollection","bbox":[0,0,1,1],"features":[{"type":"Feature","id":"a","properties":{},"geometry":{"type":"Point","coordinates":[5,0]}}]}',
      'bbox',
    ],
    [
      'an uncut crossing',
      '{"type":"FeatureCollection","bbox":[170,0,-170,0],"features":[{"type":"Feature","id":"a","properties":{},"geometry":{"type":"LineString","coordinates":[[170,0],[-170,0]]}}]}',
      'uncut',
    ],
  ])('finds %s', (_what, text, sentence) => {
    expect(rfc7946Breaches(text).join('\n')).toContain(sentence);
  });
});
