import { intersect } from '@turf/intersect';
import geodesic from 'geographiclib-geodesic';
import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import { disclose } from '../../src/discretion/disclose';
import { DEFAULT_SETTINGS } from '../../src/evidence/settings';
import { featureLayers, setbackLayer } from '../../src/exchange/write/feature-layers';
import { geojsonText } from '../../src/exchange/write/geojson';
import { distanceToFeatureM, distanceToShapeM, footprintDistances } from '../../src/karst/distances';
import { readSetbackRules, type SetbackRule } from '../../src/karst/setback-rules';
import { setbacksOf } from '../../src/karst/setbacks';
import type { LonLat } from '../../src/position/crs';
import { rfc7946Breaches } from '../helpers/assert-rfc7946';
import { emptySurvey } from '../helpers/made-survey';
import { madeArea, madeFeature, placed } from './made-features';

const { WGS84 } = geodesic.Geodesic;
const rule = (said: Partial<SetbackRule> = {}): SetbackRule => ({
  type: 'any',
  distance_m: 50,
  from: 'edge',
  with_uncertainty: false,
  ...said,
});
type Coordinates = ReturnType<typeof setbacksOf>['setbacks'][number]['coordinates'];
const distance = (p: LonLat, q: LonLat): number => WGS84.Inverse(p.lat, p.lon, q.lat, q.lon).s12 as number;

function holds(coordinates: Coordinates, { lon, lat }: LonLat): boolean {
  const d = 1e-9;
  const box = [
    [lon - d, lat - d],
    [lon + d, lat - d],
    [lon + d, lat + d],
    [lon - d, lat + d],
    [lon - d, lat - d],
  ];
  const shape = (rings: number[][][][]) => ({
    type: 'Feature' as const,
    properties: {},
    geometry: { type: 'MultiPolygon' as const, coordinates: rings },
  });
  const area = coordinates.map((rings) => rings.map((ring) => ring.map(([x, y]) => [x, y])));
  return intersect({ type: 'FeatureCollection', features: [shape(area), shape([[box]])] }) !== null;
}

const areaOf = (coordinates: Coordinates): number => {
  let sum = 0;
  for (const ring of coordinates.flat()) {
    const polygon = WGS84.Polygon(false);
    for (const [lon, lat] of ring.slice(0, -1)) polygon.AddPoint(lat, lon);
    sum += polygon.Compute(false, true).area as number;
  }
  return sum;
};

const findings = () => {
  const survey = emptySurvey();
  return disclose(survey, appraise(survey, DEFAULT_SETTINGS), 'surveyor');
};

describe('distances to shapes', () => {
  it('are geodesics to the nearest place of an edge, as geographiclib finds by searching along it', () => {
    const line = placed(
      madeFeature('l', 0, 0, {
        shape: 'line',
        positions: [
          [10, 45],
          [10.02, 45.01],
        ].map(([x = 0, y = 0]) => ({ x, y, crs: 'EPSG:4326' })),
      }),
    );
    const from = { lon: 10.012, lat: 45.001 };
    let least = Infinity;
    const along = WGS84.InverseLine(45, 10, 45.01, 10.02);
    const length = WGS84.Inverse(45, 10, 45.01, 10.02).s12 as number;
    for (let s = 0; s <= length; s += 0.05) {
      const { lat2, lon2 } = along.Position(s);
      least = Math.min(least, distance(from, { lat: lat2 as number, lon: lon2 as number }));
    }
    expect(distanceToFeatureM(from, line)).toBeCloseTo(least, 3);
  });

  it('are 0 in an area, and not in its hole', () => {
    const outer = [
      [10, 45],
      [10.01, 45],
      [10.01, 45.01],
      [10, 45.01],
      [10, 45],
    ].map(([lon = 0, lat = 0]) => ({ lon, lat }));
    const hole = [
      [10.004, 45.004],
      [10.006, 45.004],
      [10.006, 45.006],
      [10.004, 45.006],
      [10.004, 45.004],
    ].map(([lon = 0, lat = 0]) => ({ lon, lat }));
    expect(distanceToShapeM({ lon: 10.002, lat: 45.005 }, 'area', [outer, hole])).toBe(0);
    // Half of 0.002° of longitude, the nearer side: at 45° a degree of longitude has 78 847 m (geographiclib).
    expect(distanceToShapeM({ lon: 10.005, lat: 45.005 }, 'area', [outer, hole])).toBeCloseTo(78.85, 1);
  });

  it('between zones and features are listed by growing distance', () => {
    const zone = {
      key: 'z',
      name: 'Zone 1',
      rings: [
        [
          [10, 45],
          [10.001, 45],
          [10.001, 45.001],
          [10, 45.001],
          [10, 45],
        ].map(([lon = 0, lat = 0]) => ({ lon, lat })),
      ],
    };
    const features = [
      madeFeature('far', 10.01, 45.0005),
      madeFeature('near', 10.002, 45.0005),
      madeFeature('in', 10.0005, 45.0005),
    ].map(placed);
    const listed = footprintDistances([zone], features, 200);
    expect(listed.map(({ featureId }) => featureId)).toEqual([features[2]?.feature.id, features[1]?.feature.id]);
    expect(listed[0]?.distanceM).toBe(0);
    expect(listed[1]?.distanceM).toBeCloseTo(distance({ lon: 10.001, lat: 45.0005 }, { lon: 10.002, lat: 45.0005 }), 3);
  });
});

describe('setbacks', () => {
  it('hold everything within their distance, and nothing farther than a corner allows', () => {
    const feature = placed(madeFeature('p', 56, 54.7));
    const { setbacks } = setbacksOf([feature], [rule()]);
    const coordinates = setbacks[0]?.coordinates ?? [];
    for (let azimuth = 0; azimuth < 360; azimuth += 7) {
      const at = (metres: number): LonLat => {
        const { lat2, lon2 } = WGS84.Direct(54.7, 56, azimuth, metres);
        return { lat: lat2 as number, lon: lon2 as number };
      };
      expect(holds(coordinates, at(49.99))).toBe(true);
      expect(holds(coordinates, at(50.25))).toBe(false);
    }
  });

  it('start at the edge of an area, its holes kept or filled as the distance says', () => {
    const corners = [
      [10, 45],
      [10.002, 45],
      [10.002, 45.002],
      [10, 45.002],
      [10, 45],
      [10.0005, 45.0005],
      [10.0015, 45.0005],
      [10.0015, 45.0015],
      [10.0005, 45.0015],
      [10.0005, 45.0005],
    ] as const;
    const area = placed(madeArea('a', corners, { parts: [{ from: 0 }, { from: 5, hole: true }] }));
    const thin = setbacksOf([area], [rule({ distance_m: 10 })]).setbacks[0]?.coordinates ?? [];
    expect(thin[0]).toHaveLength(2);
    const { lat2, lon2 } = WGS84.Direct(45, 10.001, 180, 9.9);
    expect(holds(thin, { lat: lat2 as number, lon: lon2 as number })).toBe(true);
    const wide = setbacksOf([area], [rule({ distance_m: 80 })]).setbacks[0]?.coordinates ?? [];
    expect(wide[0]).toHaveLength(1);
    const none = setbacksOf([area], [rule({ distance_m: 0 })]).setbacks[0]?.coordinates ?? [];
    const own = (side: number): number =>
      distance({ lon: 10, lat: 45 }, { lon: 10 + side, lat: 45 }) *
      distance({ lon: 10, lat: 45 }, { lon: 10, lat: 45 + side });
    expect(areaOf(none) / (own(0.002) - own(0.001))).toBeCloseTo(1, 3);
  });

  it('from the middle leave the shape aside; with uncertainty are wider by it; from an edge know a point’s extent', () => {
    const point = placed(madeFeature('p', 10, 45, { length_m: 20, width_m: 6 }));
    const radius = (said: Partial<SetbackRule>): number =>
      Math.sqrt(areaOf(setbacksOf([point], [rule(said)]).setbacks[0]?.coordinates ?? []) / Math.PI);
    expect(radius({ from: 'point' })).toBeCloseTo(50, 0);
    expect(radius({ from: 'edge' })).toBeCloseTo(60, 0);
    expect(radius({ from: 'point', with_uncertainty: true })).toBeCloseTo(53, 0);
  });

  it('are joined where they overlap, and are valid GeoJSON, right-handed, also across 180°', () => {
    const features = [
      ...Array.from({ length: 12 }, (_, i) =>
        madeFeature(`c${i}`, 10 + Math.cos(i / 2) * 0.0008, 45 + Math.sin(i / 2) * 0.0006),
      ),
      madeFeature('far', 10.2, 45),
      madeFeature('w', 179.9999, -17),
      madeFeature('e', -179.9999, -17),
    ].map(placed);
    const { setbacks } = setbacksOf(features, [rule({ distance_m: 40 })]);
    expect(setbacks.map(({ features: { length } }) => length).sort()).toEqual([1, 12, 2].sort());
    const text = geojsonText(setbackLayer(findings(), setbacks));
    expect(rfc7946Breaches(text)).toEqual([]);
  });

  it('have the rule of the type, else of its kind, else of any; without one they are told', () => {
    const rules = readSetbackRules([
      { type: 'sinkhole', distance_m: 10, from: 'edge', with_uncertainty: true, cites: 'Local code 4.2' },
      { type: 'spring', distance_m: 30, from: 'point', with_uncertainty: false },
    ]);
    if (!rules.ok) throw new Error(rules.sentence);
    const features = [
      madeFeature('a', 10, 45),
      madeFeature('b', 11, 45, { type: 'spring' }),
      madeFeature('c', 12, 45, { type: 'shaft' }),
    ].map(placed);
    const { setbacks, withoutRule } = setbacksOf(features, rules.value);
    expect(setbacks.map(({ rule: { type } }) => type)).toEqual(['sinkhole', 'spring']);
    expect(withoutRule).toEqual([features[2]?.feature.id]);
  });

  it.each([
    [{}, 'not_a_rule'],
    [[{ type: 'spring', distance_m: -1, from: 'edge', with_uncertainty: true }], 'not_a_rule'],
    [[{ type: 'spring', from: 'edge', with_uncertainty: true }], 'not_a_rule'],
    [[{ type: 'castle', distance_m: 1, from: 'edge', with_uncertainty: true }], 'unknown_type'],
    [[rule(), rule()], 'two_rules'],
  ])('are not made by rules such as %j', (table, code) => {
    const read = readSetbackRules(table);
    expect(read.ok ? null : read.code).toBe(code);
  });
});

describe('layers of features', () => {
  it('are valid GeoJSON, one kind of geometry each, wound the right way whatever the record has', () => {
    const clockwise = [
      [10, 45],
      [10, 45.01],
      [10.01, 45.01],
      [10.01, 45],
    ] as const;
    const features = [
      madeFeature('p', 10, 45, { name: 'Blue' }),
      madeArea('a', clockwise),
      madeFeature('l', 0, 0, {
        shape: 'line',
        positions: [
          [10, 45],
          [10.02, 45.01],
        ].map(([x = 0, y = 0]) => ({ x, y, crs: 'EPSG:4326' })),
      }),
      madeFeature('r', 11, 45, { retired: true }),
    ];
    const survey = { ...emptySurvey(), features };
    const layers = featureLayers(disclose(survey, appraise(survey, DEFAULT_SETTINGS), 'surveyor'));
    expect(layers.feature_points.features).toHaveLength(1);
    for (const layer of Object.values(layers)) expect(rfc7946Breaches(geojsonText(layer))).toEqual([]);
    expect(layers.feature_areas.features[0]?.geometry.type).toBe('MultiPolygon');
    expect(layers.feature_points.features[0]?.properties).toMatchObject({ name: 'Blue', position_uncertainty_95_m: 3 });
  });
});
