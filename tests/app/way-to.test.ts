import { describe, expect, it } from 'vitest';
import { createHere, type Locator } from '../../src/app/field/position/here';
import { hereDrawn } from '../../src/app/field/position/here-drawn';
import { type OwnFix, oldForS } from '../../src/app/field/position/own-position';
import { rimsOnWay } from '../../src/app/field/position/rims-on-way';
import { stakeTarget } from '../../src/app/field/position/targets';
import { turnFrom, wayTo } from '../../src/app/field/position/way-to';
import {
  nearWords,
  rimWords,
  trueBearingWords,
  turnWords,
  wayLengthWords,
} from '../../src/app/field/position/way-words';
import { geodesicDestination, geodesicDistanceM } from '../../src/position/geodesic';
import { GEODESIC_INVERSE, GEODESIC_SHORT } from '../reference/geodesy';
import { demoContent } from './demo-content';

const at = (lon: number, lat: number, change: Partial<OwnFix> = {}): OwnFix => ({
  lon,
  lat,
  r95M: 4,
  headingDeg: null,
  timeMs: 0,
  ...change,
});

describe('the way to a place', () => {
  it('has the length and bearing of published geodesics', () => {
    for (const { from, to, distanceM, toleranceM, ...said } of GEODESIC_INVERSE) {
      const far = wayTo(at(from[1], from[0]), { lon: to[1], lat: to[0] });
      expect(Math.abs(far.distanceM - distanceM)).toBeLessThan(toleranceM);
      if ('azimuthDeg' in said) expect(far.bearingDeg).toBeCloseTo(said.azimuthDeg, 7);
    }
    // Azimuths and lengths of a field, to places that are written to ten digits: 0.01 mm.
    for (const { from, azimuthDeg, distanceM, to } of GEODESIC_SHORT) {
      const short = wayTo(at(from[1], from[0]), { lon: to[1], lat: to[0] });
      expect(short.distanceM).toBeCloseTo(distanceM, 4);
      expect(short.bearingDeg).toBeCloseTo(azimuthDeg, 2);
    }
  });

  it('counts bearings from true north, and a degree of the equator by the radius of the ellipsoid', () => {
    // WGS 84 (NGA.STND.0036): a = 6,378,137 m, so 0.001° of the equator is a π/180,000 = 111.319 m.
    const east = wayTo(at(10, 0), { lon: 10.001, lat: 0 });
    expect(east.distanceM).toBeCloseTo((6_378_137 * Math.PI) / 180_000, 6);
    expect(east.bearingDeg).toBeCloseTo(90, 9);
    expect(wayTo(at(10, 0), { lon: 10, lat: -0.001 }).bearingDeg).toBeCloseTo(180, 9);
    // Across the date line it is the short way.
    expect(wayTo(at(179.9995, 0), { lon: -179.9995, lat: 0 }).distanceM).toBeCloseTo(111.319, 2);
  });

  it('turns the short way from where one walks, and from nowhere while one stands', () => {
    expect(turnFrom(350, 20)).toBe(30);
    expect(turnFrom(20, 350)).toBe(-30);
    expect(turnFrom(90, 270)).toBe(180);
    expect(wayTo(at(10, 0), { lon: 10.001, lat: 0 }).turnDeg).toBeNull();
    expect(wayTo(at(10, 0, { headingDeg: 0 }), { lon: 10.001, lat: 0 }).turnDeg).toBeCloseTo(90, 9);
  });

  it('ends where the device cannot tell any more, and not before', () => {
    const target = geodesicDestination({ lon: 10, lat: 47 }, 30, 4);
    expect(wayTo(at(10, 47, { r95M: 4.01 }), target).asNearAsGps).toBe(true);
    expect(wayTo(at(10, 47, { r95M: 3.99 }), target).asNearAsGps).toBe(false);
  });

  it('is said in metres, degrees and turns', () => {
    expect([3.3, 62.4, 999.4, 1234, 12_345].map(wayLengthWords)).toEqual([
      '3.5 m',
      '62 m',
      '999 m',
      '1.23 km',
      '12.3 km',
    ]);
    expect([0, 44.6, 359.7].map(trueBearingWords)).toEqual([
      'bearing 000° true (N)',
      'bearing 045° true (NE)',
      'bearing 000° true (N)',
    ]);
    expect([4, -31, 92, -175].map(turnWords)).toEqual(['ahead', '30° to the left', '90° to the right', 'behind you']);
    expect(nearWords({ r95M: 4, uncertainty95M: null })).toContain('As near as the GPS can tell (± 4.0 m)');
    expect(nearWords({ r95M: 4, uncertainty95M: 2.1 })).toContain('placed to ± 2.0 m only');
  });

  it('leads to a stake of a line where its electrode stands', () => {
    const { findings } = demoContent();
    const line = findings.lines.find(({ name }) => name === 'A');
    const electrode = line?.electrodes.find(({ chainageM }) => chainageM !== null);
    const target = stakeTarget(line, electrode?.chainageM ?? Number.NaN);
    expect(geodesicDistanceM(target ?? { lon: 0, lat: 0 }, electrode ?? { lon: 9, lat: 9 })).toBeLessThan(0.05);
    expect(target?.uncertainty95M).toBe(electrode?.uncertainty95M);
    expect(stakeTarget(undefined, 3)).toBeNull();
  });
});

describe('a known opening', () => {
  const rim = { lon: 10, lat: 47, distanceM: 10 };
  const off = (azimuth: number, distanceM: number) => geodesicDestination(rim, azimuth, distanceM);
  const from = (azimuth: number, distanceM: number) => ({ ...off(azimuth, distanceM), r95M: 3 });

  it('is warned of at the target, on the straight way, and where one may stand inside its rim distance', () => {
    expect(rimsOnWay(from(270, 60), off(0, 9), [rim])).toEqual({ target: true, here: false, between: true });
    expect(rimsOnWay(from(270, 60), off(90, 60), [rim])).toEqual({ target: false, here: false, between: true });
    expect(rimsOnWay(from(270, 12), null, [rim])).toEqual({ target: false, here: true, between: false });
    expect(rimsOnWay(from(270, 60), off(270, 20), [rim])).toEqual({ target: false, here: false, between: false });
    expect(rimWords({ target: false, here: false, between: false })).toBeNull();
    expect(rimWords({ target: true, here: true, between: true })).toContain('near you');
    expect(rimWords({ target: false, here: false, between: true })).toContain('Go round it');
  });
});

interface FakeDevice {
  readonly locator: NonNullable<Locator>;
  give(coords: Partial<GeolocationCoordinates>, timestamp: number): void;
  fail(code: number): void;
  readonly asked: { watches: number };
}

function fakeDevice(): FakeDevice {
  const asked = { watches: 0 };
  let success: PositionCallback | null = null;
  let failure: PositionErrorCallback | null | undefined = null;
  return {
    asked,
    locator: {
      watchPosition(onFix, onError) {
        asked.watches += 1;
        [success, failure] = [onFix, onError];
        return asked.watches;
      },
      clearWatch() {
        asked.watches -= 1;
        [success, failure] = [null, null];
      },
    },
    give: (coords, timestamp) =>
      success?.({
        coords: { longitude: 10, latitude: 47, accuracy: 5, heading: null, speed: null, ...coords },
        timestamp,
      } as unknown as GeolocationPosition),
    fail: (code) => failure?.({ code, PERMISSION_DENIED: 1, message: '' } as unknown as GeolocationPositionError),
  };
}

describe('where the device is', () => {
  it('is asked for by a person only, once, and forgotten when that is ended', () => {
    const device = fakeDevice();
    const here = createHere(
      () => device.locator,
      () => 0,
    );
    expect(device.asked.watches).toBe(0);
    here.show();
    here.goTo({ label: 'there', lon: 10, lat: 47, uncertainty95M: null });
    expect(device.asked.watches).toBe(1);
    device.give({}, 0);
    expect(here.get().position).toMatchObject({ kind: 'seen', fix: { r95M: 5, headingDeg: null } });
    here.hide();
    expect(device.asked.watches).toBe(0);
    expect(here.get()).toEqual({ position: { kind: 'off' }, oldForS: null, target: null });
  });

  it('has a heading only while it moves, and is no place with a radius of nothing', () => {
    const device = fakeDevice();
    const here = createHere(
      () => device.locator,
      () => 0,
    );
    here.show();
    device.give({ heading: 90, speed: 1.2 }, 0);
    expect(here.get().position).toMatchObject({ fix: { headingDeg: 90 } });
    device.give({ heading: 200, speed: 0.1 }, 1);
    expect(here.get().position).toMatchObject({ fix: { headingDeg: null } });
    device.give({ accuracy: 0, longitude: 99 }, 2);
    expect(here.get().position).toMatchObject({ fix: { lon: 10 } });
    here.hide();
  });

  it('says what to do when it is refused or cannot be found, and keeps a fix that stands', () => {
    const device = fakeDevice();
    const here = createHere(
      () => device.locator,
      () => 0,
    );
    here.show();
    device.fail(2);
    expect(here.get().position).toMatchObject({ kind: 'asking', trouble: expect.stringContaining('switched on') });
    device.give({}, 0);
    device.fail(3);
    expect(here.get().position.kind).toBe('seen');
    device.fail(1);
    expect(here.get().position).toMatchObject({ kind: 'refused', sentence: expect.stringContaining('Allow it') });
    expect(device.asked.watches).toBe(0);
    const nowhere = createHere(
      () => null,
      () => 0,
    );
    nowhere.show();
    expect(nowhere.get().position).toMatchObject({ kind: 'refused', sentence: expect.stringContaining('https') });
  });

  it('is old ten seconds after its fix', () => {
    expect(oldForS(at(0, 0, { timeMs: 1000 }), 11_000)).toBeNull();
    expect(oldForS(at(0, 0, { timeMs: 1000 }), 13_500)).toBe(12);
  });

  it('is drawn with the circle that its radius says, and no heading or full dot when it is old', () => {
    const fix = at(10, 47, { r95M: 7, headingDeg: 30 });
    const target = { label: 'there', lon: 10.001, lat: 47, uncertainty95M: null };
    const drawn = hereDrawn({ position: { kind: 'seen', fix }, oldForS: null, target });
    expect(drawn.features.map(({ properties }) => properties?.part)).toEqual([
      'target',
      'circle',
      'way',
      'own',
      'heading',
    ]);
    const circle = drawn.features[1]?.geometry;
    const ring = circle?.type === 'Polygon' ? (circle.coordinates[0] ?? []) : [];
    expect(ring.length).toBeGreaterThan(60);
    for (const [lon = 0, lat = 0] of ring) expect(geodesicDistanceM(fix, { lon, lat })).toBeCloseTo(7, 6);
    const old = hereDrawn({ position: { kind: 'seen', fix }, oldForS: 12, target: null });
    expect(old.features.map(({ properties }) => [properties?.part, properties?.old])).toEqual([
      ['circle', undefined],
      ['own', true],
    ]);
    expect(hereDrawn({ position: { kind: 'off' }, oldForS: null, target: null }).features).toEqual([]);
  });
});
