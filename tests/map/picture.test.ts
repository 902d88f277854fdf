import type { Feature, FeatureCollection } from 'geojson';
import { describe, expect, it } from 'vitest';
import type { Layers } from '../../src/exchange/write/layer-collection';
import { boundsOf, picture } from '../../src/map/picture';

const collection = (features: Feature[]): FeatureCollection => ({ type: 'FeatureCollection', features });
const none = collection([]);

function stroke(sid: string, spacing: number | null, grade: string, coordinates: number[][]): Feature {
  return {
    type: 'Feature',
    id: sid,
    properties: { sid, line: 'A', spacing_m: spacing, grade, sign: 'above_reference' },
    geometry: { type: 'LineString', coordinates },
  };
}

const straight = [
  [10, 47],
  [10.0001, 47],
];
const hairpin = [
  [10, 47],
  [10.0001, 47],
  [10, 47.00002],
];
const layers = {
  lines: collection([
    {
      type: 'Feature',
      properties: { sid: 'line-a', line: 'A' },
      geometry: { type: 'MultiLineString', coordinates: [straight] },
    },
  ]),
  controls: none,
  electrodes: none,
  midpoints: none,
  segments: collection([stroke('s1', 1, 'none', straight), stroke('s5', 5, 'strong', hairpin)]),
  corridors: none,
  zones: none,
  next_readings: none,
} as Layers;

describe('the picture', () => {
  const made = picture(layers, null);

  it('says of a stroke its place on the ramp and beside the line, and nothing that is not drawn', () => {
    const [first, second] = made.segments.features;
    expect(first?.properties).toEqual({ sid: 's1', spacing_m: 1, ramp: 'none', lane: -0.5 });
    expect(second?.properties).toEqual({ sid: 's5', spacing_m: 5, ramp: 'strong_above', lane: 0.5 });
  });

  it('marks the hints of two probes', () => {
    const hint = stroke('s1', 1, 'strong', straight);
    const { segments } = picture(
      {
        ...layers,
        segments: collection([{ ...hint, properties: { ...hint.properties, figure_kind: 'two_probe' } }]),
      } as Layers,
      null,
    );
    expect(segments.features[0]?.properties).toMatchObject({ hint: true });
  });

  it('leaves the layers themselves alone', () => {
    expect(layers.segments.features[0]?.properties).not.toHaveProperty('ramp');
  });

  it('cuts a stroke at a hairpin into legs with one name', () => {
    expect(made.segments.features.map(({ properties }) => properties?.sid)).toEqual(['s1', 's5', 's5']);
  });

  it('has what asks for attention above the rest, in the order of the layers otherwise', () => {
    const strong = stroke('s0', 2, 'strong', straight);
    const { segments } = picture(
      { ...layers, segments: collection([strong, ...layers.segments.features]) } as Layers,
      null,
    );
    expect(segments.features.map(({ properties }) => properties?.sid)).toEqual(['s1', 's0', 's5', 's5']);
  });

  it('marks where each line starts', () => {
    expect(made.line_starts.features).toEqual([
      { type: 'Feature', properties: { sid: 'line-a', line: 'A' }, geometry: { type: 'Point', coordinates: [10, 47] } },
    ]);
  });

  it('tells every fifth metre of the relief from the others', () => {
    const contour = (elevation_m: number): Feature => ({
      type: 'Feature',
      properties: { elevation_m },
      geometry: { type: 'LineString', coordinates: straight },
    });
    const { relief } = picture(layers, collection([contour(229), contour(230)]));
    expect(relief.features.map(({ properties }) => [properties?.index, properties?.label])).toEqual([
      [false, '229 m'],
      [true, '230 m'],
    ]);
  });
});

describe('bounds', () => {
  const point = (lon: number, lat: number): Feature => ({
    type: 'Feature',
    properties: {},
    geometry: { type: 'Point', coordinates: [lon, lat] },
  });

  it('hold every place', () => {
    expect(boundsOf([layers.segments, collection([point(9.9, 47.5)])])).toEqual([9.9, 47, 10.0001, 47.5]);
  });

  it('go the short way round', () => {
    expect(boundsOf([collection([point(179.9, -16), point(-179.8, -17)])])).toEqual([179.9, -17, 180.2, -16]);
  });

  it('are none of nothing', () => {
    expect(boundsOf([none])).toBeNull();
  });
});
