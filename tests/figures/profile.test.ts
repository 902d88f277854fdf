import { describe, expect, it } from 'vitest';
import { DEFAULT_SETTINGS } from '../../src/evidence/settings';
import { fileLook, pageLook } from '../../src/figures/look';
import { profileFigure } from '../../src/figures/profile';
import { type ProfileData, profileData, profileKind } from '../../src/figures/profile-data';
import type { MidpointFinding } from '../../src/findings';
import { demoContent } from '../app/demo-content';
import { judged, madeFinding, madeLineFindings, OVER_RANGE } from './made-findings';
import { allIn, markOf, readXml, shownTexts, textOf, type XmlElement } from './read-xml';

const look = fileLook(360);

const profileOf = (said: readonly (Partial<MidpointFinding> & { chainageM: number })[], name = 'X'): ProfileData => {
  const midpoints = said.map((one) => madeFinding(one));
  const [like] = midpoints;
  if (!like) throw new Error('a profile has midpoints');
  return profileData(madeLineFindings(midpoints, { name }), like, [like.spacingM], DEFAULT_SETTINGS);
};
const drawn = (data: ProfileData, selected: string | null = null): XmlElement =>
  readXml(profileFigure(data, look, selected));
const sid = (chainageM: number): string => `line-x:${chainageM * 1000}:2000:pole_pole`;
const partsOf = (mark: XmlElement, name: string): XmlElement[] => allIn(mark).filter((part) => part.name === name);
const summaryOf = (root: XmlElement): string => textOf(allIn(root).find(({ name }) => name === 'desc') ?? root);

describe('the data of a profile', () => {
  it('are the midpoints of one spacing and kind by growing chainage', () => {
    const data = profileOf([
      { chainageM: 5 },
      { chainageM: 3 },
      { chainageM: 4, spacingM: 5 },
      { chainageM: 6, hookup: 'two_probe' },
    ]);
    expect(data.strips.map(({ points }) => points.map(({ chainageM }) => chainageM))).toEqual([[3, 5]]);
    expect(data).toMatchObject({ fromM: 0, toM: 20, bendsM: [8], probesM: [9, 11], zThreshold: 2, leastRatio: 1.1 });
  });

  it('keep readings apart whose dipoles were farther from each other, though their spacing is the same', () => {
    const key = (n: number) => ({ key: `line-x:5000:2000:dipole_dipole:n${n}`, hookup: 'dipole_dipole' as const });
    const data = profileOf([
      { chainageM: 5, ...key(1) },
      { chainageM: 5, ...key(2) },
    ]);
    expect(data.strips[0]?.points).toHaveLength(1);
    expect(profileKind(madeFinding({ chainageM: 5, ...key(2) }))).toBe('dipole_dipole:n2');
  });
});

describe('a line with more midpoints than a figure can show', () => {
  it('is shown about the reading that was asked for, and the summary says so', () => {
    const midpoints = Array.from({ length: 5000 }, (_, i) => madeFinding({ chainageM: i * 0.7, spacingM: null }));
    const like = midpoints[2500];
    if (!like) throw new Error('there are midpoints');
    const data = profileData(madeLineFindings(midpoints), like, [null], DEFAULT_SETTINGS);
    expect(data.strips[0]?.points.length).toBeGreaterThanOrEqual(300);
    expect(data.strips[0]?.points.length).toBeLessThanOrEqual(301);
    expect((data.fromM + data.toM) / 2).toBeCloseTo(1750, 6);
    expect(data.whole).toBe(false);
    const root = drawn(data, like.key);
    expect(summaryOf(root)).toContain('only a part of it');
    markOf(root, like.key);
    expect(profileOf([{ chainageM: 3 }]).whole).toBe(true);
  });
});

describe('a profile', () => {
  it('puts its marks where chainage and the logarithm of the ratio put them', () => {
    const root = drawn(profileOf([{ chainageM: 10 }, { chainageM: 15, ...judged(1.3, 'none') }]));
    const centre = (chainageM: number) => {
      const { cx, cy } = partsOf(markOf(root, sid(chainageM)), 'circle')[0]?.attributes ?? {};
      return [Number(cx), Number(cy)];
    };
    // By hand. Ratios up to 1.3 e^0.05 and down to 1/1.3, padded by 4 %: 0.749 to 1.40, labels of 3 characters: left edge
    // 3 × 14 × 0.55 + 10 = 33.1, right 356; 20 m padded by 0.4 m: 10 m is in the middle, 15 m at 15.4/20.8.
    // Upright from 161 (14 above the lower edge at 175) to 23.8; ln from −0.2874 to 0.3374.
    const span = Math.log(1.3) * 2 + 0.05;
    const yOf = (ratio: number) => 161 - (137.2 * (Math.log(ratio) + Math.log(1.3) + 0.04 * span)) / (1.08 * span);
    expect(centre(10)).toEqual([expect.closeTo(194.55, 1), expect.closeTo(yOf(1), 1)]);
    expect(centre(15)).toEqual([expect.closeTo(33.1 + (322.9 * 15.4) / 20.8, 1), expect.closeTo(yOf(1.3), 1)]);
    expect(yOf(1)).toBeCloseTo(97.9, 1);
  });

  it('breaks its line and its band where no reading is', () => {
    const chainages = [1, 2, 3, 4, 8, 9, 10];
    const root = drawn(profileOf(chainages.map((chainageM) => ({ chainageM }))));
    const areas = allIn(root).filter(({ attributes }) => attributes['fill-opacity'] !== undefined);
    // Two stretches and the sample of the key.
    expect(areas).toHaveLength(3);
    const traces = allIn(root).filter(
      ({ name, attributes }) => name === 'path' && attributes['stroke-width'] === '1.1',
    );
    expect(traces.map(({ attributes }) => attributes.d?.split('L').length)).toEqual([4, 3]);
  });

  it('has a band of two standard errors about 1', () => {
    const root = drawn(profileOf([{ chainageM: 5 }, { chainageM: 6 }]));
    const area = allIn(root).find(({ attributes }) => attributes['fill-opacity'] !== undefined);
    const numbers = area?.attributes.d?.match(/-?[\d.]+/g)?.map(Number) ?? [];
    // All ratios 1 ± 0.05: the axis reaches to 1.3 either way, padded by 4 %, over 137.2 px about 92.4.
    const perLn = 137.2 / (2 * Math.log(1.3) * 1.08);
    expect(numbers[1]).toBeCloseTo(92.4 - 0.1 * perLn, 1);
    expect(numbers.at(-1)).toBeCloseTo(92.4 + 0.1 * perLn, 1);
  });

  it('marks bends, the places of probes, and the electrodes of the reading that is open', () => {
    const root = drawn(profileOf([{ chainageM: 10 }, { chainageM: 11 }]), sid(10));
    const bend = allIn(root).find(({ attributes }) => attributes['stroke-dasharray'] === '7 4')?.attributes;
    expect(Number(bend?.x1)).toBeCloseTo(33.1 + (322.9 * 8.4) / 20.8, 1);
    expect(shownTexts(root)).toEqual(expect.arrayContaining(['bend', 'its electrodes', '10 m: ratio 1.00 ± 0.05']));
    const rods = allIn(root).filter(
      ({ attributes }) => attributes['stroke-width'] === '4' && attributes.stroke === look.accent,
    );
    // At 9 m and 11 m, and in the key.
    expect(rods.slice(0, 2).map(({ attributes }) => Number(attributes.x1))).toEqual([
      expect.closeTo(33.1 + (322.9 * 9.4) / 20.8, 1),
      expect.closeTo(33.1 + (322.9 * 11.4) / 20.8, 1),
    ]);
    expect(rods).toHaveLength(3);
  });

  it('draws over range as an arrow up from the ratio of its limit', () => {
    const root = drawn(
      profileOf([
        { chainageM: 5, ...judged(1.5, 'none') },
        { chainageM: 6, ...OVER_RANGE, figureAboveOhmM: 600 },
      ]),
    );
    const numbers =
      partsOf(markOf(root, sid(6)), 'path')[0]
        ?.attributes.d?.match(/-?[\d.]+/g)
        ?.map(Number) ?? [];
    expect(numbers[1]).toBeCloseTo(Number(partsOf(markOf(root, sid(5)), 'circle')[0]?.attributes.cy), 1);
    expect(summaryOf(root)).toContain('6 m: over range, ratio above 1.50');
  });

  it('has a strip for every spacing, all on one axis', () => {
    const midpoints = [1, 2, 5].flatMap((spacingM) => [5, 6].map((chainageM) => madeFinding({ chainageM, spacingM })));
    const [like] = midpoints;
    if (!like) throw new Error('there are midpoints');
    const data = profileData(madeLineFindings(midpoints), like, [1, 2, 5], DEFAULT_SETTINGS);
    const root = drawn(data);
    expect(shownTexts(root)).toEqual(expect.arrayContaining(['spacing 1 m', 'spacing 2 m', 'spacing 5 m']));
    const places = midpoints
      .filter(({ chainageM }) => chainageM === 5)
      .map(({ key }) => partsOf(markOf(root, key), 'circle')[0]?.attributes);
    expect(new Set(places.map((place) => place?.cx)).size).toBe(1);
    const [first, second, third] = places.map((place) => Number(place?.cy));
    expect((second ?? 0) - (first ?? 0)).toBeGreaterThan(60);
    expect((third ?? 0) - (second ?? 0)).toBeCloseTo((second ?? 0) - (first ?? 0), 1);
    expect(shownTexts(root).filter((words) => words === 'chainage (m)')).toHaveLength(1);
  });

  it('says in its summary what stands out', () => {
    const root = drawn(
      profileOf([
        { chainageM: 3 },
        { chainageM: 4, ...judged(1.4, 'clear') },
        { chainageM: 5, ...judged(0.5, 'strong') },
      ]),
    );
    expect(summaryOf(root)).toBe(
      'Ratios to the reference, from 0 m to 20 m along the line. Spacing 2 m, 3 midpoints, 2 of them stand out: ' +
        '4 m: ratio 1.40 ± 0.07, clearly above the reference; 5 m: ratio 0.50 ± 0.03, strongly below the reference. Bends at 8 m.',
    );
    expect(summaryOf(drawn(profileOf([{ chainageM: 3 }, { chainageM: 4 }])))).toContain('none stands out');
  });

  it('never calls a two-probe figure a resistivity', () => {
    const said = { hookup: 'two_probe', figureKind: 'two_probe' } as const;
    const text = profileFigure(
      profileOf([
        { chainageM: 3, ...said },
        { chainageM: 4, ...said },
      ]),
      look,
      null,
    );
    expect(text).not.toMatch(/resistivity/i);
    expect(text).toContain('mostly the contact of the rods');
  });

  it('keeps a line of any name as text', () => {
    const name = '<img src=x onerror=alert(1)> & "co"';
    const root = drawn(profileOf([{ chainageM: 3 }, { chainageM: 4 }], name));
    expect(allIn(root).some((part) => part.name === 'img')).toBe(false);
    expect(textOf(allIn(root)[1] ?? root)).toContain(name);
  });

  it('stands for a line where nothing could be compared', () => {
    const bare = { referenceOhmM: null, ratio: null, ratioStandardError: null, grade: null, sign: null };
    const text = profileFigure(
      profileOf([
        { chainageM: 3, ...bare },
        { chainageM: 4, ...bare },
      ]),
      look,
      null,
    );
    expect(text).not.toMatch(/NaN|Infinity/);
    expect(shownTexts(readXml(text))).toContain('not graded');
  });
});

describe('every profile of the demo', () => {
  const { findings } = demoContent();

  it.each(['light', 'dark', 'sunlight'] as const)('is well-formed (%s)', (theme) => {
    for (const line of findings.lines) {
      for (const spacingM of new Set(line.midpoints.map((finding) => finding.spacingM))) {
        const like = line.midpoints.find((finding) => finding.spacingM === spacingM);
        if (!like) continue;
        const data = profileData(line, like, [spacingM], findings.provenance.settings);
        const text = profileFigure(data, pageLook(theme), like.key);
        expect(text).not.toMatch(/NaN|Infinity|undefined|null|style=|url\(|<style|<script/);
        const root = readXml(text);
        for (const { sid: key } of data.strips[0]?.points ?? []) markOf(root, key);
      }
    }
  });
});
