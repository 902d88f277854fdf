import { describe, expect, it } from 'vitest';
import { averagedPlace, type DeviceFix, freshFixes } from '../../src/app/state/gps-average';
import { ellipse, laidOut } from '../../src/app/state/laid-out';
import { NO_LAYOUT } from '../../src/app/state/layout-state';
import { drawnAccuracy95M, pointedAccuracy95M, pointedPosition } from '../../src/app/state/map-accuracy';
import { stakesOf } from '../../src/app/state/stakes';
import { typedPlace } from '../../src/app/state/typed-place';
import { appraise } from '../../src/appraise';
import { DEFAULT_SETTINGS } from '../../src/evidence/settings';
import type { LineFindings } from '../../src/findings';
import { azimuthDeg, geodesicDestination, geodesicDistanceM } from '../../src/position/geodesic';
import { wallTime } from '../../src/wall-clock';
import { emptySurvey, madeLine } from '../helpers/made-survey';

const start = { lon: 10, lat: 47 };
const bend = geodesicDestination(start, 90, 30);
const end = geodesicDestination(bend, 0, 30);
const line = madeLine(
  'A',
  [
    { chainageM: 0, ...start },
    { chainageM: 30, ...bend },
    { chainageM: 60, ...end },
  ],
  { layout: { from_m: 0, to_m: 60, step_m: 1 } },
);
const survey = { ...emptySurvey(), lines: [line] };
const findings = appraise(survey, DEFAULT_SETTINGS);
const found = findings.lines[0] as LineFindings;

describe('stakes', () => {
  it('stand at both ends and at every multiple of the step between', () => {
    expect(stakesOf(found, 25).map(({ chainageM }) => chainageM)).toEqual([0, 25, 50, 60]);
    expect(stakesOf(found, 30).map(({ chainageM }) => chainageM)).toEqual([0, 30, 60]);
  });

  it('stand where the tape says, their ticks across the line (geodesics of GeographicLib)', () => {
    for (const { chainageM, lon, lat, azimuthDeg: along } of stakesOf(found, 5)) {
      const expected =
        chainageM <= 30 ? geodesicDestination(start, 90, chainageM) : geodesicDestination(bend, 0, chainageM - 30);
      expect(geodesicDistanceM(expected, { lon, lat })).toBeLessThan(0.05);
      expect(Math.abs(along - (chainageM <= 30 ? 90 : 0))).toBeLessThan(0.1);
    }
  });

  it('are none for a step that is none, and for more than a thousand', () => {
    for (const step of [0, -1, Number.NaN, 0.01]) expect(stakesOf(found, step)).toEqual([]);
  });
});

describe('an ellipse on the map', () => {
  it('has the scale and the turn of the ground (GeographicLib)', () => {
    const { geometry } = ellipse(10, 47, { semiMajorM: 8, semiMinorM: 2, azimuthDeg: 30 });
    for (const [lon = 0, lat = 0] of geometry.coordinates) {
      const distance = geodesicDistanceM(start, { lon, lat });
      const turn = ((azimuthDeg(start, { lon, lat }) - 30) * Math.PI) / 180;
      expect(((distance * Math.cos(turn)) / 8) ** 2 + ((distance * Math.sin(turn)) / 2) ** 2).toBeCloseTo(1, 3);
    }
  });

  it('is drawn for no more electrodes than can be told apart, both ends among them', () => {
    const drawn = laidOut(survey, findings, { ...NO_LAYOUT, line: line.id });
    expect(found.electrodes.length).toBe(61);
    expect(drawn.ellipses.features).toHaveLength(25);
    expect(drawn.handles.features).toEqual([]);
    expect(laidOut(survey, findings, NO_LAYOUT).ellipses.features).toEqual([]);
  });

  it('comes with handles at the placed points while they can be moved', () => {
    const { handles } = laidOut(survey, findings, { ...NO_LAYOUT, line: line.id, task: 'move' });
    expect(handles.features.map(({ properties }) => properties?.sid)).toEqual(line.path.map(({ id }) => id));
  });
});

describe('a place that was pointed at', () => {
  it('is as unsure as three pixels and what is drawn there together', () => {
    expect(pointedAccuracy95M(1, 4)).toBe(5);
    expect(drawnAccuracy95M(findings)).toBeCloseTo(0.1, 6);
    // Without anything drawn: a phone under trees.
    expect(drawnAccuracy95M({ ...findings, lines: [] })).toBe(10);
    expect(pointedPosition({ ...start, metresPerPixel: 1 }, 4, '2026-05-12T10:00:00Z')).toEqual({
      x: 10,
      y: 47,
      crs: 'EPSG:4326',
      accuracy_m: 5,
      accuracy_level: 95,
      source: 'map',
      time: '2026-05-12T10:00:00Z',
    });
  });
});

describe('a place that was typed', () => {
  it('is kept as it was written, with the accuracy that was said', () => {
    expect(typedPlace('32 north 593000 5263000', '2,5', {})).toMatchObject({
      ok: true,
      value: { x: 593000, y: 5263000, crs: 'EPSG:32632', accuracy_m: 2.5, accuracy_level: 95 },
    });
    const plain = typedPlace('47.5, 10.2', '', {});
    expect(plain).toMatchObject({ ok: true, value: { x: 10.2, y: 47.5 } });
    expect(plain.ok && 'accuracy_m' in plain.value).toBe(false);
  });

  it('is at least as unsure as the square that it names', () => {
    const side = 1000;
    // Counted: the share of a square that lies within 0.6 of its side from its middle.
    let within = 0;
    for (let i = 0; i < side; i += 1) {
      for (let j = 0; j < side; j += 1) {
        if (Math.hypot((i + 0.5) / side - 0.5, (j + 0.5) / side - 0.5) <= 0.6) within += 1;
      }
    }
    expect(within / side ** 2).toBeCloseTo(0.95, 2);
    const wide = typedPlace('32T NT 94 61', '', {});
    expect(wide.ok && wide.value.accuracy_m).toBeCloseTo(Math.hypot(10, 600), 1);
    const fine = typedPlace('32T NT 94141 61486', '', {});
    expect(fine.ok && 'accuracy_m' in fine.value).toBe(false);
  });

  it('is refused with what to do', () => {
    expect(typedPlace('nowhere', '', {})).toMatchObject({ ok: false, code: 'not_a_place' });
    expect(typedPlace('47.5, 10.2', '0', {})).toMatchObject({ ok: false, code: 'accuracy_not_positive' });
    expect(typedPlace('47.5, 10.2', 'x', {})).toMatchObject({ ok: false, code: 'not_a_number' });
  });
});

describe('fixes of the device', () => {
  const fixAt = (timeMs: number, more: Partial<DeviceFix> = {}): DeviceFix => ({
    ...start,
    accuracyM: 4,
    altitudeM: null,
    timeMs,
    ...more,
  });

  it('count from the tap on, each once', () => {
    const fixes = [fixAt(900), fixAt(1000), fixAt(1000), fixAt(1500), fixAt(1600, { accuracyM: 0 })];
    expect(freshFixes(fixes, 1000).map(({ timeMs }) => timeMs)).toEqual([1000, 1500]);
  });

  it('come to one point with its radius of 95 %, the single fixes under it', () => {
    const east = geodesicDestination(start, 90, 2);
    const fixes = [fixAt(0, { altitudeM: 500 }), fixAt(1000, { ...east, altitudeM: 503 })];
    const placed = averagedPlace(fixes);
    const { position, singles } = placed as NonNullable<typeof placed>;
    expect(geodesicDistanceM({ lon: position.x, lat: position.y }, geodesicDestination(start, 90, 1))).toBeLessThan(
      0.01,
    );
    expect(position).toMatchObject({
      source: 'phone',
      accuracy_level: 95,
      elevation_m: 501.5,
      time: wallTime(new Date(1000)),
    });
    // Better than one fix, and not by the root of two: half of the variance is common to both.
    expect(position.accuracy_m).toBeLessThan(4);
    expect(position.accuracy_m).toBeGreaterThan(4 / Math.SQRT2);
    expect(singles?.map(({ accuracy_m: accuracy }) => accuracy)).toEqual([4, 4]);
  });

  it('are one point alone when there is one, and none when there is none', () => {
    expect(averagedPlace([fixAt(0)])).toEqual({
      position: expect.objectContaining({ accuracy_m: 4, accuracy_level: 95 }),
    });
    expect(averagedPlace([])).toBeNull();
  });
});
