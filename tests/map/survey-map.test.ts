import type { Feature, FeatureCollection } from 'geojson';
import { describe, expect, it, vi } from 'vitest';
import type { Picture } from '../../src/map/picture';
import { createSurveyMap, type MapPlace, type MapScene, type MapTarget, type View } from '../../src/map/survey-map';
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
  zones: none,
  next_readings: none,
  relief: none,
  bounds: [0.1, -0.1, 0.3, -0.1],
};
const nothingLaidOut = { ellipses: none, stakes: none, handles: none };
const empty: MapScene = { picture: null, look, selected: {}, selectedPlaces: none, laidOut: nothingLaidOut };

function opened(animate = true, lastView: View | null = null) {
  let engine: FakeEngine | null = null;
  const taps: (MapTarget | null)[] = [];
  const tappedAt: MapPlace[] = [];
  const moved: { sid: string; place: MapPlace }[] = [];
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
    onTap: (target, place) => {
      taps.push(target);
      tappedAt.push(place);
    },
    onMoved: (sid, place) => moved.push({ sid, place }),
    onScale: () => {},
    lastView: () => lastView,
    onView: (view) => views.push(view),
    onTrouble: (sentence) => troubles.push(sentence),
    onRecovered: () => {},
  });
  if (!engine) throw new Error('no engine was made');
  return { map, engine: engine as FakeEngine, taps, tappedAt, moved, troubles, views };
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
    const [kept, segments] = [
      engine.sources.get('segments'),
      collection([{ ...stroke, properties: { ...stroke.properties, ramp: 'none' } }]),
    ];
    map.show({ ...empty, picture: { ...drawn, segments: { ...drawn.segments } } });
    expect(engine.sources.get('segments')).toBe(kept);
    map.show({ ...empty, picture: { ...drawn, segments: structuredClone(drawn.segments) } });
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

  it('marks nothing anew that is marked already, so that no frame is drawn for it', () => {
    const { map, engine } = opened();
    engine.fire('load', null);
    map.show({ ...empty, picture: drawn, selected: { midpoints: ['m1'] } });
    const calls = engine.stateCalls;
    map.show({ ...empty, picture: { ...drawn }, selected: { midpoints: ['m1'] } });
    map.show({ ...empty, picture: drawn, selected: { midpoints: ['m1'] }, selectedPlaces: collection([]) });
    expect(engine.stateCalls).toBe(calls);
    expect(engine.states.get('midpoints')).toEqual(new Set(['m1']));
    map.show({ ...empty, picture: drawn, selected: {} });
    expect(engine.states.get('midpoints')).toBeUndefined();
  });

  it('lets the selected stand out again after new data', () => {
    const { map, engine } = opened();
    engine.fire('load', null);
    const selected = { midpoints: ['m1'], electrodes: ['e1'] };
    map.show({ ...empty, picture: drawn, selected });
    const moved = { ...stroke, properties: { ...stroke.properties, lane: 1 } } as Feature;
    map.show({ ...empty, picture: { ...drawn, segments: collection([moved]) }, selected });
    expect(engine.sources.get('selected_segments')?.features[0]).toBe(moved);
    expect([...(engine.states.get('electrodes') ?? [])]).toEqual(['e1']);
  });

  it('hides the layers of what is empty, and shows them again', () => {
    const { map, engine } = opened();
    engine.fire('load', null);
    map.show({ ...empty, picture: drawn });
    expect(engine.layout.get('segments visibility')).toBe('visible');
    expect(engine.layout.get('corridors visibility')).toBe('none');
    map.show({ ...empty, picture: { ...drawn, segments: none } });
    expect(engine.layout.get('segments visibility')).toBe('none');
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

  it('draws nothing while its surface is taken away, and everything anew once its style is back', () => {
    const { map, engine, troubles } = opened();
    engine.fire('load', null);
    const selected = { midpoints: ['m1'] };
    map.show({ ...empty, picture: drawn, selected });
    engine.fire('webglcontextlost', null);
    expect(troubles[0]).toContain('took the drawing surface away');
    engine.sources.clear();
    engine.states.clear();
    const segments = collection([{ ...stroke, properties: { ...stroke.properties, ramp: 'none' } }]);
    map.show({ ...empty, picture: { ...drawn, segments }, selected });
    engine.fire('moveend', null);
    expect(engine.sources.size).toBe(0);
    engine.fire('style.load', null);
    expect(engine.states.get('midpoints')).toEqual(new Set(['m1']));
    expect(engine.sources.get('segments')).toBe(segments);
    expect(engine.sources.get('line_starts')).toBe(drawn.line_starts);
  });

  it('moves to a place only when it cannot be seen, and without a ride where motion is not wanted', () => {
    const { map, engine } = opened(false);
    engine.fire('load', null);
    const rides = () => engine.told.filter((told) => told.startsWith('ease'));
    map.reveal(0.2, -0.1);
    expect(rides()).toEqual([]);
    map.reveal(3, -0.1);
    expect(rides()).toEqual(['ease 3 -0.1 in 0']);
  });

  it('tells where it was tapped, and how wide a pixel is there', () => {
    const { engine, tappedAt } = opened();
    engine.fire('load', null);
    engine.fire('click', { point: { x: 200, y: 100 } });
    expect(tappedAt).toMatchObject([{ lon: 0.2, lat: -0.1 }]);
    // A thousandth of a degree of the equator: 6378137 m · π / 180 / 1000.
    expect(tappedAt[0]?.metresPerPixel).toBeCloseTo(111.319, 2);
  });

  it('tells where pointer and middle are, until nobody asks any more', () => {
    const { map, engine } = opened();
    engine.fire('load', null);
    const told: (number | undefined)[][] = [];
    const stop = map.watchPlaces(({ pointer, middle }) => told.push([pointer?.lon, middle.lon]));
    engine.fire('mousemove', { point: { x: 300, y: 100 } });
    stop();
    engine.fire('mousemove', { point: { x: 400, y: 100 } });
    expect(told).toEqual([
      [undefined, 0.5],
      [0.3, 0.5],
    ]);
  });

  it('draws what is laid out, and only what of it has changed', () => {
    const { map, engine } = opened();
    engine.fire('load', null);
    const stakes = collection([stroke]);
    map.show({ ...empty, laidOut: { ...nothingLaidOut, stakes } });
    expect(engine.sources.get('stakes')).toBe(stakes);
    engine.sources.delete('stakes');
    map.show({ ...empty, laidOut: { ...nothingLaidOut, stakes, ellipses: collection([]) } });
    expect(engine.sources.has('stakes')).toBe(false);
  });

  describe('with a point that can be moved', () => {
    const handle: Feature = {
      type: 'Feature',
      properties: { sid: 'p1' },
      geometry: { type: 'Point', coordinates: [0.2, -0.1] },
    };
    const movable = () => {
      const made = opened();
      made.engine.fire('load', null);
      made.map.show({ ...empty, laidOut: { ...nothingLaidOut, handles: collection([handle]) } });
      let held = 0;
      const press = (x: number, y: number) => ({ point: { x, y }, preventDefault: () => (held += 1) });
      return { ...made, press, held: () => held };
    };

    it('drags it by its rim without a jump, holds the map still, and says where it was let go once', () => {
      const { engine, moved, press, held } = movable();
      engine.fire('touchstart', press(210, 105));
      expect(held()).toBe(1);
      engine.fire('touchmove', { point: { x: 260, y: 155 } });
      engine.fire('touchmove', { point: { x: 310, y: 205 } });
      expect(engine.sources.get('handles')?.features[0]?.geometry).toEqual({ type: 'Point', coordinates: [0.3, -0.2] });
      expect(moved).toEqual([]);
      engine.fire('touchend', { point: { x: 310, y: 205 } });
      engine.fire('touchend', { point: { x: 310, y: 205 } });
      expect(moved).toMatchObject([{ sid: 'p1', place: { lon: 0.3, lat: -0.2 } }]);
    });

    it('leaves it where it is for a touch that only rests, one beside it, and one that is broken off', () => {
      const { engine, moved, press, held } = movable();
      engine.fire('mousedown', press(200, 100));
      engine.fire('mousemove', { point: { x: 202, y: 101 } });
      engine.fire('mouseup', { point: { x: 202, y: 101 } });
      engine.fire('mousedown', press(300, 100));
      expect(held()).toBe(1);
      engine.fire('mousemove', { point: { x: 400, y: 100 } });
      engine.fire('mouseup', { point: { x: 400, y: 100 } });
      engine.fire('touchstart', press(200, 100));
      engine.fire('touchmove', { point: { x: 300, y: 100 } });
      engine.fire('touchcancel', { point: { x: 300, y: 100 } });
      engine.fire('touchend', { point: { x: 300, y: 100 } });
      expect(moved).toEqual([]);
      expect(engine.sources.get('handles')?.features).toEqual([handle]);
    });
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
