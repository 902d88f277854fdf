import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import type { LineFindings } from '../../src/findings';
import { localPlane } from '../../src/position/crs';
import type { Line, PathItem, Survey } from '../../src/survey/survey';
import { emptySurvey, madeLine } from '../helpers/made-survey';

const START = { lon: -91.9, lat: 37.4 };
const plane = localPlane(START.lon, START.lat);
const at = (x: number, y: number) => plane.toLonLat(x, y);

function fix(chainageM: number, x: number, y: number, more: object = {}): PathItem {
  const { lon, lat } = at(x, y);
  const position = { x: lon, y: lat, crs: 'EPSG:4326', accuracy_m: 0.05, accuracy_level: 95, source: 'survey' };
  return {
    id: `fix:${chainageM}:${x}:${y}`,
    kind: 'fix',
    chainage_m: chainageM,
    position: { ...position, ...more },
  } as never;
}

function lineOf(name: string, path: readonly unknown[], toM: number): Line {
  return { ...madeLine(name, []), path: path as Line['path'], layout: { from_m: 0, to_m: toM, step_m: 5 } };
}

const surveyOf = (...lines: Line[]): Survey => ({ ...emptySurvey('placed'), lines });

function placed(survey: Survey, name: string): LineFindings {
  const findings = appraise(survey);
  const line = findings.lines.find((each) => each.name === name);
  if (!line) throw new Error(findings.unplaced.map(({ sentence }) => sentence).join());
  return line;
}

/** Metres east and north of the start. */
function electrode(line: LineFindings, chainageM: number): readonly [x: number, y: number, r95: number] {
  const found = line.electrodes.find((each) => each.chainageM === chainageM);
  if (!found) throw new Error(`no electrode at ${chainageM} m`);
  const [x, y] = plane.toPlane(found.lon, found.lat);
  return [x, y, found.uncertainty95M];
}

// 30 m east, then 30 m to the north-east of it: 60 m of tape, the ends 55.43 m apart.
const BEND = Math.PI / 4;
const [endX, endY] = [30 + 30 * Math.cos(BEND), 30 * Math.sin(BEND)];

describe('a line', () => {
  it('bends to the side of two tapes from its own ends', () => {
    const ends = [fix(0, 0, 0), fix(60, endX, endY)];
    const tapes = (side: 'left' | 'right') => ({
      id: 'tapes',
      kind: 'two_tapes',
      chainage_m: 30,
      first: (ends[0] as { position: unknown }).position,
      first_distance_m: 30,
      second: (ends[1] as { position: unknown }).position,
      second_distance_m: 30,
      side,
    });
    const right = placed(surveyOf(lineOf('R', [...ends, tapes('right')], 60)), 'R');
    expect(electrode(right, 30)[0]).toBeCloseTo(30, 1);
    expect(Math.abs(electrode(right, 30)[1])).toBeLessThan(0.3);
    expect(electrode(right, 15)[0]).toBeCloseTo(15, 1);
    // The same tapes on the other side: mirrored at the straight between the ends.
    const left = placed(surveyOf(lineOf('L', [...ends, tapes('left')], 60)), 'L');
    expect(electrode(left, 30)[0]).toBeCloseTo(30 * Math.cos(BEND), 1);
    expect(electrode(left, 30)[1]).toBeCloseTo(30 * Math.sin(BEND), 1);
  });

  it('is laid from one known point by legs of tape and compass', () => {
    const leg = (from: number, bearing: number) => ({
      id: `leg:${from}`,
      kind: 'leg',
      from_chainage_m: from,
      bearing_deg: bearing,
      bearing_reference: 'true',
      distance_m: 30,
    });
    const line = placed(surveyOf(lineOf('A', [fix(0, 0, 0), leg(0, 90), leg(30, 45)], 60)), 'A');
    expect(electrode(line, 30)[0]).toBeCloseTo(30, 2);
    expect(electrode(line, 30)[1]).toBeCloseTo(0, 2);
    expect(electrode(line, 60)[0]).toBeCloseTo(endX, 2);
    expect(electrode(line, 60)[1]).toBeCloseTo(endY, 2);
    // A compass of 1° is off by half a metre at 30 m; less in sights of 10 m.
    expect(electrode(line, 30)[2]).toBeGreaterThan(0.3);
    expect(electrode(line, 60)[2]).toBeGreaterThan(electrode(line, 30)[2]);
  });

  it('takes slopes of its legs to the level, and keeps the straight distance for the electrodes', () => {
    const leg = {
      id: 'leg',
      kind: 'leg',
      from_chainage_m: 0,
      bearing_deg: 90,
      bearing_reference: 'true',
      distance_m: 20,
      slope_deg: 30,
    };
    const line = placed(surveyOf(lineOf('A', [fix(0, 0, 0), leg], 20)), 'A');
    // 20 m of tape at 30° are 17.321 m on the map (plane trigonometry).
    expect(electrode(line, 20)[0]).toBeCloseTo(17.321, 2);
    expect(electrode(line, 10)[0]).toBeCloseTo(17.321 / 2, 2);
    // How high it lies nobody said.
    expect(line.electrodes.every(({ elevationM }) => elevationM === null)).toBe(true);
  });

  it('lies both ways from a centre that it was sighted along', () => {
    const { lon, lat } = START;
    const position = { x: lon, y: lat, crs: 'EPSG:4326', accuracy_m: 0.05, accuracy_level: 95 };
    const sighted = { id: 'b', kind: 'bearing', chainage_m: 20, position, bearing_deg: 0, bearing_reference: 'true' };
    const line = placed(surveyOf(lineOf('S', [sighted], 40)), 'S');
    expect(electrode(line, 40)[1]).toBeCloseTo(20, 2);
    expect(electrode(line, 0)[1]).toBeCloseTo(-20, 2);
    // 1° at 20 m is 0.35 m, and 2.4477 of that, or less for a thin ellipse, hold 95 %.
    expect(electrode(line, 40)[2]).toBeGreaterThan(0.35 * 1.96);
    expect(electrode(line, 40)[2]).toBeLessThan(0.35 * 2.4477 + 0.1);
  });

  it('is set out beside another line, to its right', () => {
    const base = lineOf('base', [fix(0, 0, 0), fix(40, 40, 0)], 40);
    const beside = (chainageM: number) => ({
      id: `o${chainageM}`,
      kind: 'offset',
      chainage_m: chainageM,
      base_line: base.id,
      base_chainage_m: chainageM,
      offset_right_m: 10,
    });
    const survey = surveyOf(lineOf('beside', [beside(0), beside(40)], 40), base);
    const line = placed(survey, 'beside');
    expect(electrode(line, 20)[0]).toBeCloseTo(20, 2);
    expect(electrode(line, 20)[1]).toBeCloseTo(-10, 2);
    expect(line.controls.map(({ kind }) => kind)).toEqual(['offset', 'offset']);
  });

  it('that is set out from itself in a circle is refused by name', () => {
    const one = madeLine('one', []);
    const two = madeLine('two', []);
    const from = (line: Line, chainageM: number) => ({
      id: `${line.name}${chainageM}`,
      kind: 'offset',
      chainage_m: chainageM,
      base_line: line.id,
      base_chainage_m: chainageM,
      offset_right_m: 3,
    });
    const survey = surveyOf(
      { ...one, path: [from(two, 0), from(two, 10)] as never },
      { ...two, path: [from(one, 0), from(one, 10)] as never },
    );
    const { lines, unplaced } = appraise(survey);
    expect(lines).toEqual([]);
    expect(unplaced.map(({ sentence }) => sentence).join(' ')).toContain('set out from');
  });
});
