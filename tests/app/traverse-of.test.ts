import { describe, expect, it } from 'vitest';
import { remoteCostWords } from '../../src/app/state/remote-cost';
import { traverseOf } from '../../src/app/state/traverse-of';
import { fileLook } from '../../src/figures/look';
import { closureWords, traverseSketch } from '../../src/figures/traverse-sketch';
import { geodesicDestination } from '../../src/position/geodesic';
import { makeId } from '../../src/survey/ids';
import type { Line, PathItem } from '../../src/survey/survey';
import { allIn, readXml, shownTexts, textOf } from '../figures/read-xml';
import { madeLine } from '../helpers/made-survey';

const start = { lon: 10, lat: 47 };
const leg = (from: number, bearing: number, distance: number): PathItem => ({
  id: makeId('path', 'leg', String(from)),
  kind: 'leg',
  from_chainage_m: from,
  bearing_deg: bearing,
  bearing_reference: 'true',
  distance_m: distance,
});
/** East 60 m, north 80 m: the end is known to lie 3 m west and 4 m south of where the legs lead. */
const led = geodesicDestination(geodesicDestination(start, 90, 60), 0, 80);
const known = geodesicDestination(geodesicDestination(led, 270, 3), 180, 4);
const lineWith = (
  items: readonly PathItem[],
  fixes = [
    { chainageM: 0, ...start },
    { chainageM: 140, ...known },
  ],
): Line => {
  const line = madeLine('A & B', fixes);
  return { ...line, path: [...line.path, ...items] };
};
const legs = [leg(0, 90, 60), leg(60, 0, 80)];

describe('the traverse of a line', () => {
  it('closes on the placed point at its end with the misclosure that was made (3-4-5)', () => {
    const traverse = traverseOf(lineWith(legs), []);
    if (!traverse?.ok) throw new Error('no traverse');
    const { closure, vertices, knownEnd } = traverse.value;
    expect(closure?.misclosureM).toBeCloseTo(5, 2);
    expect(closure?.ratio).toBeCloseTo(140 / 5, 1);
    expect(vertices.map(({ chainageM }) => chainageM)).toEqual([0, 60, 140]);
    expect(vertices[2]?.eastM).toBeCloseTo(60, 1);
    expect(knownEnd?.northM).toBeCloseTo(76, 1);
  });

  it('is open where nothing is known at its end, and says so', () => {
    const fixes = [{ chainageM: 0, ...start }];
    const traverse = traverseOf(lineWith(legs, fixes), []);
    expect(traverse).toMatchObject({ ok: true, value: { closure: null, knownEnd: null } });
    expect(closureWords(null)).toContain('cannot be told');
  });

  it('is none without legs, and refused where legs are apart, where nothing is known at their start or a bearing cannot be used', () => {
    expect(traverseOf(lineWith([]), [])).toBeNull();
    expect(traverseOf(lineWith([leg(0, 90, 60), leg(70, 0, 80)]), [])).toMatchObject({ ok: false, code: 'legs_apart' });
    expect(traverseOf(lineWith([leg(20, 90, 60)]), [])).toMatchObject({ ok: false, code: 'no_start' });
    const compass = { ...leg(0, 90, 60), bearing_reference: 'magnetic' } as PathItem;
    expect(traverseOf(lineWith([compass]), [])).toMatchObject({ ok: false, code: 'bearing_needs_date' });
  });
});

describe('the sketch of a traverse', () => {
  const traverse = traverseOf(lineWith(legs), []);
  if (!traverse?.ok) throw new Error('no traverse');
  const drawn = readXml(traverseSketch({ lineName: 'A & B', ...traverse.value }, fileLook(360)));

  it('shows every vertex with its chainage, true to scale, north up', () => {
    expect(shownTexts(drawn)).toEqual(['0 m', '60 m', '140 m']);
    const dots = allIn(drawn).filter(({ name, attributes }) => name === 'circle' && attributes.r === '3');
    const [a, b, c] = dots.map(({ attributes }) => ({ x: Number(attributes.cx), y: Number(attributes.cy) }));
    if (!a || !b || !c) throw new Error('three vertices are drawn');
    expect((b.x - a.x) / (b.y - c.y)).toBeCloseTo(60 / 80, 2);
    expect(c.y).toBeLessThan(b.y);
  });

  it('tells in words what it shows, and whether that is a mistake', () => {
    const summary = textOf(allIn(drawn).find(({ name }) => name === 'desc') ?? drawn);
    expect(summary).toMatch(/2 legs, north up.*misses the known end by 5 m, 1:28 of its length/);
    expect(closureWords({ misclosureM: 5, ratio: 28, sigmas: 4 })).toContain('Look for a wrong leg');
    expect(closureWords({ misclosureM: 0.5, ratio: 280, sigmas: 1 })).toContain('let expect');
    expect(closureWords({ misclosureM: 0, ratio: null, sigmas: 0 })).not.toContain('1:');
  });
});

describe('what near remotes cost', () => {
  // R·2πa/ρ = 1 − a/BP − a/CN + a/BN over uniform ground, worked out for remotes in line and square off: −13.420 % and
  // −14.907 % at ten spacings, −4.812 % and −4.997 % at thirty.
  it.each([
    [100, '13 to 15 % too low'],
    [300, '4.8 to 5 % too low'],
  ])('is said for remotes %d m away at a = 10 m', (remoteM, words) => {
    expect(remoteCostWords(10, remoteM)).toContain(words);
  });
});
