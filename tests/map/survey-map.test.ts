import type { Feature, FeatureCollection } from 'geojson';
import { describe, expect, it, vi } from 'vitest';
import type { Picture } from '../../src/map/picture';
import { createSurveyMap, type MapScene, type MapTarget, type View } from '../../src/map/survey-map';
import { FakeEngine } from './fake-engine';
import { look } from './look';

const collection = (features: Feature[]): FeatureCollection => ({ type: 'FeatureCollection', features });
const none = collection([]);
const stroke: Feature = {
  type: 'Feature',
  properties: { sid: 'm1:midpoint:1', lane: 0 },
  geometry: {
    type: 'LineString',
    coordinates: [
      [0.1, -0.1],
      [0.3, -0.1],
    ],
  },
};
const drawn: Picture = {
  lines: none,
  line_starts: collection([{ type: 'Feature', properties: {}, geometry: { type: 'Point', coordinates: [0.1, -0.1] } }]),
  controls: none,
  electrodes: none,
  midpoints: none,
  segments: collection([stroke]),
  corridors: none,
  relief: none,
  bounds: [0.1, -0.1, 0.3, -0.1],
};
const empty: MapScene = { picture: null, look, selected: {}, selectedPlaces: none };

function opened(animate = true, lastView: View | null = null) {
  let engine: FakeEngine | null = null;
  const taps: (MapTarget | null)[] = [];
  const troubles: string[] = [];
  const views: View[] = [];
  const map = createSurveyMap({
    container: {} as HTMLElement,
    scene: empty,
    covered: { top: 0, right: 0, bottom: 0, left: 0 },
    createEngine: (options) => {
      engine = new FakeEngine(options);
      return engine;
    },
    animate: () => animate,
    onTap: (target) => taps.push(target),
    onScale: () => {},
    lastView: () => lastView,
    onView: (view) => views.push(view),
    onTrouble: (sentence) => troubles.push(sentence),
    onRecovered: () => {},
  });
  if (!engine) throw new Error('no engine was made');
  return { map, engine: engine as FakeEngine, taps, troubles, views };
}

describe('the map', () => {
  it('holds what it is told until it is ready, then draws the last of it', () => {
    const { map, engine } = opened();
    map.show({ ...empty, picture: drawn });
    expect(engine.sources.size).toBe(0);
    engine.fire('load', null);
    expect(engine.sources.get('segments')).toBe(drawn.segments);
  });

  it('goes to the survey once, and leaves the view alone afterwards', () => {
    const { map, engine } = opened();
    engine.fire('load', null);
    map.show({ ...empty, picture: drawn });
    map.show({ ...empty, picture: { ...drawn } });
    expect(engine.told.filter((told) => told.startsWith('fit'))).toEqual(['fit 0.1 -0.1 0.3 -0.1 to 20']);
  });

  it('goes back to where the survey was looked at last, and tells where it is looked at now', () => {
    const { map, engine, views } = opened(true, { lon: 0.2, lat: -0.1, zoom: 21 });
    engine.fire('load', null);
    map.show({ ...empty, picture: drawn });
    expect(engine.told.filter((told) => /^(fit|ease)/.test(told))).toEqual(['ease 0.2 -0.1 in 0']);
    engine.zoom = 18;
    engine.fire('moveend', null);
    expect(views).toEqual([{ lon: 0.5, lat: -0.4, zoom: 18 }]);
  });

  it('leaves alone what an edit did not touch', () => {
    const { map, engine } = opened();
    engine.fire('load', null);
    map.show({ ...empty, picture: drawn });
    const [kept, segments] = [engine.sources.get('segments'), collection([{ ...stroke }])];
    map.show({ ...empty, picture: { ...drawn, segments: { ...drawn.segments } } });
    expect(engine.sources.get('segments')).toBe(kept);
    map.show({ ...empty, picture: { ...drawn, segments } });
    expect(engine.sources.get('segments')).toBe(segments);
  });

  it('keeps north up and its own attribution off', () => {
    const { engine } = opened();
    expect(engine.options).toMatchObject({ dragRotate: false, maxPitch: 0, attributionControl: false });
  });

  it('lets the selected stand out, and only that', () => {
    const { map, engine } = opened();
    engine.fire('load', null);
    const selectedOf = () => engine.sources.get('selected_segments')?.features;
    map.show({ ...empty, picture: drawn, selected: { midpoints: ['m1'] } });
    expect(selectedOf()).toEqual([stroke]);
    expect([...(engine.states.get('midpoints') ?? [])]).toEqual(['m1']);
    map.show({ ...empty, picture: drawn, selected: { electrodes: ['e2'] } });
    expect(selectedOf()).toEqual([]);
    expect(engine.states.has('midpoints')).toBe(false);
  });

  it('lets the selected stand out again after new data', () => {
    const { map, engine } = opened();
    engine.fire('load', null);
    const selected = { midpoints: ['m1'], electrodes: ['e1'] };
    map.show({ ...empty, picture: drawn, selected });
    engine.states.clear();
    const moved = { ...stroke, geometry: { ...stroke.geometry } } as Feature;
    map.show({ ...empty, picture: { ...drawn, segments: collection([moved]) }, selected });
    expect(engine.sources.get('selected_segments')?.features[0]).toBe(moved);
    expect([...(engine.states.get('electrodes') ?? [])]).toEqual(['e1']);
  });

  it('gets what is only seen from near when somebody comes near', () => {
    const { map, engine } = opened();
    engine.zoom = 14;
    engine.fire('load', null);
    const midpoints = collection([
      { type: 'Feature', properties: { sid: 'm1' }, geometry: { type: 'Point', coordinates: [0.2, -0.1] } },
    ]);
    map.show({ ...empty, picture: { ...drawn, midpoints } });
    expect(engine.sources.get('segments')).toBe(drawn.segments);
    expect(engine.sources.get('midpoints')?.features).toEqual([]);
    engine.zoom = 18;
    engine.fire('move', null);
    expect(engine.sources.get('midpoints')).toBe(midpoints);
  });

  it('repaints only what a new look changes', () => {
    const { map, engine } = opened();
    engine.fire('load', null);
    map.show({ ...empty, look: { ...look, palette: { ...look.palette, ink: '#123456' } } });
    expect(engine.told).toContain('paint lines line-color');
    expect(engine.told).not.toContain('paint grid line-color');
  });

  it('says what was tapped by its sid, and nothing where nothing is', () => {
    const { map, engine, taps } = opened();
    engine.fire('load', null);
    map.show({ ...empty, picture: drawn });
    engine.found = [{ properties: { sid: 'm1:midpoint:1' }, layer: { id: 'segments' } }];
    engine.fire('click', { point: { x: 200, y: 111 } });
    engine.found = [];
    engine.fire('click', { point: { x: 600, y: 600 } });
    expect(taps).toEqual([{ kind: 'midpoint', sid: 'm1:midpoint:1', source: 'segments' }, null]);
  });

  it('reports trouble to the page and to the console', () => {
    const { engine, troubles } = opened();
    const said = vi.spyOn(console, 'error').mockImplementation(() => {});
    engine.fire('error', { error: { message: 'no such layer' } });
    expect(troubles[0]).toContain('no such layer');
    expect(said).toHaveBeenCalledWith('map: no such layer');
    said.mockRestore();
  });

  it('moves to a place only when it cannot be seen, and without a ride where motion is not wanted', () => {
    const { map, engine } = opened(false);
    engine.fire('load', null);
    map.reveal(0.2, -0.1);
    expect(engine.told).toEqual([]);
    map.reveal(3, -0.1);
    expect(engine.told).toEqual(['ease 3 -0.1 in 0']);
  });

  it('is gone when it is put away', () => {
    const { map, engine } = opened();
    engine.fire('load', null);
    map.destroy();
    expect(engine.removed).toBe(true);
    map.show({ ...empty, picture: drawn });
    expect(engine.sources.get('segments')).not.toBe(drawn.segments);
  });
});
