import { describe, expect, it } from 'vitest';
import { DEFAULT_SETTINGS } from '../../src/evidence/settings';
import { fileLook } from '../../src/figures/look';
import { tilesFigure } from '../../src/figures/tiles';
import { type TilesData, tilesData } from '../../src/figures/tiles-data';
import type { MidpointFinding } from '../../src/findings';
import { judged, madeFinding, madeLineFindings, OVER_RANGE } from './made-findings';
import { allIn, markOf, readXml, shownTexts, textOf, type XmlElement } from './read-xml';

const tilesOf = (said: readonly (Partial<MidpointFinding> & { chainageM: number })[]): TilesData => {
  const midpoints = said.map((one) => madeFinding(one));
  return tilesData(madeLineFindings(midpoints, { name: 'X' }), midpoints[0] as MidpointFinding, DEFAULT_SETTINGS);
};
const drawn = (data: TilesData, selected: string | null = null): XmlElement =>
  readXml(tilesFigure(data, fileLook(360), selected));
const sid = (chainageM: number, spacingM = 2): string => `line-x:${chainageM * 1000}:${spacingM * 1000}:pole_pole`;
const named = (root: XmlElement, wanted: string): string => {
  const part = allIn(root).find(({ name }) => name === wanted);
  return part ? textOf(part) : '';
};
const boxesOf = (tile: XmlElement): XmlElement[] => allIn(tile).filter(({ name }) => name === 'rect');
const number = (part: XmlElement | undefined, name: string): number => Number(part?.attributes[name]);

describe('the tiles of a line', () => {
  it('are its readings of one kind, a row for each spacing from small to wide, with the depth of each', () => {
    const data = tilesOf([
      { chainageM: 5, spacingM: 8, depthM: 6.9 },
      { chainageM: 9, depthM: 1.7 },
      { chainageM: 4, depthM: 1.7 },
      { chainageM: 4, hookup: 'two_probe' },
    ]);
    expect(data.rows.map(({ spacingM, depthM, tiles }) => [spacingM, depthM, tiles.map((t) => t.chainageM)])).toEqual([
      [2, 1.7, [4, 9]],
      [8, 6.9, [5]],
    ]);
    expect(data.whole).toBe(true);
  });

  it('keep to those about the reading where a line has more than a figure can show', () => {
    const data = tilesOf(Array.from({ length: 4000 }, (_, i) => ({ chainageM: i })));
    expect(data.rows[0]?.tiles).toHaveLength(1500);
    expect(data.rows[0]?.tiles.at(0)?.chainageM).toBe(0);
    expect(data.whole).toBe(false);
  });
});

describe('the figure of tiles', () => {
  it('makes each tile as wide as its stretch, in the row of its spacing', () => {
    const root = drawn(
      tilesOf([
        { chainageM: 4, fromM: 3, toM: 5 },
        { chainageM: 7, fromM: 5, toM: 9 },
        { chainageM: 7, spacingM: 5, fromM: 4, toM: 10 },
      ]),
    );
    const box = (id: string) => boxesOf(markOf(root, id))[1];
    const perMetre = number(box(sid(4)), 'width') / 2;
    expect(number(box(sid(7)), 'width')).toBeCloseTo(4 * perMetre, 1);
    expect(number(box(sid(7, 5)), 'width')).toBeCloseTo(6 * perMetre, 1);
    expect(number(box(sid(4)), 'y')).toBe(number(box(sid(7)), 'y'));
    expect(number(box(sid(7, 5)), 'y')).toBeGreaterThan(number(box(sid(7)), 'y') + 20);
    expect(number(box(sid(7)), 'x')).toBeCloseTo(number(box(sid(4)), 'x') + 2 * perMetre, 1);
  });

  it('tells grades by shape as well as by colour, and says each in words', () => {
    const root = drawn(
      tilesOf([
        { chainageM: 4, ...judged(1.7, 'strong') },
        { chainageM: 5 },
        { chainageM: 6, ...OVER_RANGE },
        { chainageM: 7, ...judged(0.7, 'clear') },
      ]),
    );
    const shapes = [4, 5, 6, 7].map((at) =>
      allIn(markOf(root, sid(at))).filter(({ name }) => /path|circle/.test(name)),
    );
    expect(shapes.map((parts) => parts.map(({ name }) => name))).toEqual([
      ['path'],
      ['circle'],
      ['path'],
      ['path', 'path'],
    ]);
    expect(named(markOf(root, sid(4)), 'title')).toContain('4 m, spacing 2 m: ratio 1.7');
    expect(named(markOf(root, sid(6)), 'title')).toContain('over range');
    expect(shownTexts(root)).toEqual(expect.arrayContaining(['above', 'like', 'below', 'over range']));
  });

  it('has no depth for two probes, and says so', () => {
    const root = drawn(tilesOf([{ chainageM: 4, hookup: 'two_probe' }]));
    expect(shownTexts(root)).toContain('spacing (no depth from two probes)');
    expect(named(root, 'desc')).toContain('mostly the contact of the rods');
  });

  it('marks the reading that is open, and it alone', () => {
    const root = drawn(tilesOf([{ chainageM: 4 }, { chainageM: 5 }]), sid(4));
    expect(boxesOf(markOf(root, sid(4)))).toHaveLength(3);
    expect(boxesOf(markOf(root, sid(5)))).toHaveLength(2);
  });
});
