import { describe, expect, it } from 'vitest';
import { ladderFigure } from '../../src/figures/ladder';
import { type LadderData, ladderData } from '../../src/figures/ladder-data';
import { type FigureLook, fileLook, pageLook } from '../../src/figures/look';
import type { MidpointFinding } from '../../src/findings';
import type { Hookup } from '../../src/survey/hookup';
import { demoContent } from '../app/demo-content';
import { judged, madeFinding, madeLineFindings, OVER_RANGE } from './made-findings';
import { allIn, markOf, readXml, shownTexts, textOf, type XmlElement } from './read-xml';

const look = fileLook(360);

const ladderOf = (findings: readonly Partial<MidpointFinding>[], hookup: Hookup = 'pole_pole'): LadderData => {
  const midpoints = findings.map((said) => madeFinding({ chainageM: 10, hookup, ...said }));
  return ladderData(madeLineFindings(midpoints), 10, hookup, [], []);
};
const drawn = (data: LadderData, selected: string | null = null, by: FigureLook = look): XmlElement =>
  readXml(ladderFigure(data, by, selected));
const sid = (spacingM: number, hookup = 'pole_pole'): string => `line-x:10000:${spacingM * 1000}:${hookup}`;
const partsOf = (mark: XmlElement, name: string): XmlElement[] => allIn(mark).filter((part) => part.name === name);
const summaryOf = (root: XmlElement): string => textOf(allIn(root).find(({ name }) => name === 'desc') ?? root);

/** Two marks a decade apart either way, compared with nothing: nothing else decides how far the axes reach. */
const DECADE = ladderOf([
  { spacingM: 1, figureOhmM: 100, referenceOhmM: null, ratio: null, ratioStandardError: null },
  { spacingM: 10, figureOhmM: 1000, referenceOhmM: null, ratio: null, ratioStandardError: null },
]);

describe('a ladder', () => {
  it('puts its marks where the logarithms of spacing and figure put them', () => {
    const round = { ...DECADE, points: DECADE.points.map((point) => ({ ...point, key: 'none' as const })) };
    const root = drawn(round);
    const centre = (spacingM: number) => {
      const { cx, cy } = partsOf(markOf(root, sid(spacingM)), 'circle')[0]?.attributes ?? {};
      return [Number(cx), Number(cy)];
    };
    // By hand. Left edge: labels of 4 digits, 4 × 14 × 0.55 + 10 = 40.8; right 356. Decade padded by 7 % at either end:
    // 40.8 + 315.2 × 0.07/1.14 and × 1.07/1.14. Plot from 23.8 to 232.6, padded by 6 %: 232.6 − 208.8 × 0.06/1.12 and
    // × 1.06/1.12.
    expect(centre(1)).toEqual([expect.closeTo(60.15, 1), expect.closeTo(221.41, 1)]);
    expect(centre(10)).toEqual([expect.closeTo(336.65, 1), expect.closeTo(34.99, 1)]);
  });

  it('names its axes with units, and labels the spacings that were read', () => {
    const texts = shownTexts(drawn(ladderOf([{ spacingM: 1.5 }, { spacingM: 3 }, { spacingM: 7 }])));
    expect(texts).toEqual(expect.arrayContaining(['apparent resistivity (Ω·m)', 'spacing (m)', '1.5', '3', '7']));
  });

  it('tells grade and side by shape and size as well as by colour', () => {
    const root = drawn(
      ladderOf([
        { spacingM: 1, ...judged(1.2, 'slight') },
        { spacingM: 2, ...judged(1.9, 'strong') },
        { spacingM: 3, ...judged(0.5, 'strong') },
        { spacingM: 5, ...judged(1.02, 'none') },
      ]),
    );
    // The mark is the last path of its group that is closed.
    const outline = (spacingM: number): number[] => {
      const closed = partsOf(markOf(root, sid(spacingM)), 'path').filter(({ attributes }) =>
        attributes.d?.endsWith('Z'),
      );
      return (closed.at(-1)?.attributes.d ?? '').match(/-?[\d.]+/g)?.map(Number) ?? [];
    };
    const tipAboveBase = (points: number[]) => (points[1] ?? 0) < (points[3] ?? 0);
    expect(tipAboveBase(outline(1))).toBe(true);
    expect(tipAboveBase(outline(3))).toBe(false);
    const width = (points: number[]) => (points[2] ?? 0) - (points[4] ?? 0);
    expect(width(outline(2))).toBeGreaterThan(width(outline(1)) * 1.3);
    expect(partsOf(markOf(root, sid(5)), 'circle')).toHaveLength(1);
    const hollow = partsOf(markOf(root, sid(3)), 'path').at(-1)?.attributes;
    expect([hollow?.fill, hollow?.stroke]).toEqual([look.paper, look.stroke.strong_below]);
  });

  it('draws one standard error of the ratio either way: 5 % of 400 Ω·m is a bar from 381 to 421', () => {
    const data = ladderOf([{ spacingM: 1, figureOhmM: 100, ratioStandardError: null }, { spacingM: 10 }]);
    const root = drawn(data);
    const mark = markOf(root, sid(10));
    const cy = Number(partsOf(mark, 'circle')[0]?.attributes.cy);
    const bar =
      partsOf(mark, 'path')[0]
        ?.attributes.d?.match(/-?[\d.]+/g)
        ?.map(Number) ?? [];
    const at100 = Number(partsOf(markOf(root, sid(1)), 'circle')[0]?.attributes.cy);
    const perLn = (at100 - cy) / Math.log(4);
    expect(cy - (bar[1] ?? 0)).toBeCloseTo(0.05 * perLn, 1);
    expect((bar[3] ?? 0) - cy).toBeCloseTo(0.05 * perLn, 1);
  });

  it('draws over range as an arrow up from the limit, never as a figure', () => {
    const data = ladderOf([
      { spacingM: 1 },
      { spacingM: 2, ...OVER_RANGE, figureAboveOhmM: 400 },
      { spacingM: 3, ...OVER_RANGE },
    ]);
    const root = drawn(data);
    const arrow = markOf(root, sid(2));
    const numbers =
      partsOf(arrow, 'path')[0]
        ?.attributes.d?.match(/-?[\d.]+/g)
        ?.map(Number) ?? [];
    const limitY = Number(partsOf(markOf(root, sid(1)), 'circle')[0]?.attributes.cy);
    // The sill lies at the limit, which is the figure of its neighbour, and nothing of the arrow below it.
    expect(numbers[1]).toBeCloseTo(limitY, 1);
    const ys = numbers.filter((_, i) => i % 2 === 1);
    expect(Math.max(...ys)).toBeCloseTo(limitY, 1);
    expect(Math.min(...ys)).toBeLessThan(limitY - 20);
    expect(partsOf(arrow, 'circle')).toEqual([]);
    expect(summaryOf(root)).toContain('2 m: over range, above 400 Ω·m (reference 400 Ω·m)');
    expect(summaryOf(root)).toContain('3 m: over range, limit not said');
    // The line through the figures does not run on to them.
    const traces = allIn(root).filter(
      ({ name, attributes }) => name === 'path' && attributes['stroke-width'] === '1.2',
    );
    expect(traces).toEqual([]);
  });

  it('gives a rejected reading no mark', () => {
    const data = ladderOf([{ spacingM: 1 }, { spacingM: 2, ...OVER_RANGE, doubts: [] }]);
    expect(() => markOf(drawn(data), sid(2))).toThrow();
  });

  it('never calls a two-probe figure a resistivity, and cuts its marks across', () => {
    const data = ladderOf([{ spacingM: 1, ...judged(1.6, 'slight') }, { spacingM: 2 }], 'two_probe');
    const text = ladderFigure(data, look, null);
    expect(text).not.toMatch(/resistivity/i);
    const root = readXml(text);
    expect(shownTexts(root)).toContain('two-probe figure 2πaR (Ω·m), mostly contact');
    expect(summaryOf(root)).toContain('a hint, slightly above the reference');
    expect(partsOf(markOf(root, sid(1, 'two_probe')), 'line')).toHaveLength(1);
    const unknown = ladderOf([{ spacingM: 1 }, { spacingM: 2 }], 'unknown');
    expect(ladderFigure(unknown, look, null)).not.toMatch(/resistivity/i);
  });

  it('shows how contact alone would climb for pole-pole and two-probe: in proportion to spacing', () => {
    const root = drawn(DECADE);
    const guide = allIn(root).find(({ attributes }) => attributes['stroke-dasharray'] === '1.5 4')?.attributes;
    // From 100 Ω·m at 1 m it reaches 1000 Ω·m at 10 m and goes on to the edge: its slope is a decade a decade.
    const slope = (Number(guide?.y1) - Number(guide?.y2)) / (Number(guide?.x2) - Number(guide?.x1));
    expect(slope).toBeCloseTo((221.41 - 34.99) / (336.65 - 60.15), 2);
    expect(shownTexts(root)).toContain('contact alone');
    expect(shownTexts(drawn(ladderOf([{ spacingM: 1 }, { spacingM: 2 }], 'wenner_alpha')))).not.toContain(
      'contact alone',
    );
  });

  it('hatches the reference between level times and over its half-width', () => {
    const data: LadderData = {
      ...DECADE,
      reference: [1, 10].map((spacingM) => ({ spacingM, levelOhmM: 300, halfWidthLn: 0.1, basis: 'scatter' })),
    };
    const root = drawn(data);
    const area = allIn(root).find(({ attributes }) => attributes['fill-opacity'] !== undefined);
    const numbers = area?.attributes.d?.match(/-?[\d.]+/g)?.map(Number) ?? [];
    const yOf = (figure: number) => 221.41 - (Math.log10(figure) - 2) * (221.41 - 34.99);
    expect(numbers[1]).toBeCloseTo(yOf(300 * Math.exp(0.1)), 1);
    expect(numbers.at(-1)).toBeCloseTo(yOf(300 * Math.exp(-0.1)), 1);
    const hatch = allIn(root).find(({ attributes }) => attributes['stroke-opacity'] === '0.6');
    expect(hatch?.attributes.d?.split('M').length).toBeGreaterThan(20);
    expect(shownTexts(root)).toContain('reference ± its scatter');
  });

  it('emphasises the reading that is open and tells its figure to three digits', () => {
    const root = drawn(DECADE, sid(10));
    const rings = allIn(root).filter(({ name, attributes }) => name === 'circle' && attributes.stroke === look.accent);
    expect(rings).toHaveLength(1);
    expect(shownTexts(root)).toContain('10 m: 1000 Ω·m');
    expect(allIn(drawn(DECADE)).some(({ attributes }) => attributes.stroke === look.accent)).toBe(false);
  });

  it('tells all of it in its summary', () => {
    const root = drawn(
      ladderOf([
        { spacingM: 1, ...judged(1.264, 'clear') },
        { spacingM: 2, ...judged(0.97, 'none') },
      ]),
    );
    expect(summaryOf(root)).toBe(
      'Apparent resistivity against spacing, 2 spacings. 1 m: 506 Ω·m, clearly above the reference (ratio 1.26 ± 0.06); ' +
        '2 m: 388 Ω·m, like the reference (ratio 0.97 ± 0.05). The hatched band is the reference ± error. ' +
        'The dotted line climbs as contact alone would, in proportion to spacing.',
    );
    expect(textOf(allIn(root)[1] ?? root)).toBe('Ladder, line X at 10 m, pole-pole');
  });

  it('has a column for a thumb at every mark, half-way to its neighbours', () => {
    const root = drawn(DECADE);
    const columns = [1, 10].map((spacingM) => partsOf(markOf(root, sid(spacingM)), 'rect')[0]?.attributes);
    expect(columns.map((column) => Number(column?.x))).toEqual([40.8, expect.closeTo((60.15 + 336.65) / 2, 1)]);
    expect(Number(columns[0]?.height)).toBeCloseTo(208.8, 1);
  });
});

describe('every ladder of the demo', () => {
  const { survey, findings } = demoContent();

  it.each(['light', 'dark', 'sunlight'] as const)('is well-formed and within its frame (%s)', (theme) => {
    let seen = 0;
    for (const line of findings.lines) {
      const ladders = new Map(line.midpoints.map((finding) => [`${finding.hookup}/${finding.chainageM}`, finding]));
      for (const { chainageM, hookup, key } of ladders.values()) {
        const data = ladderData(line, chainageM, hookup, findings.references, survey.readings);
        const text = ladderFigure(data, pageLook(theme), key);
        expect(text).not.toMatch(/NaN|Infinity|undefined|null|style=|url\(|<style|<script/);
        const root = readXml(text);
        seen += 1;
        for (const { name, attributes } of allIn(root)) {
          if (name === 'text') expect(Number(attributes['font-size'])).toBeGreaterThanOrEqual(12);
          if (name === 'circle') {
            expect(Number(attributes.cx)).toBeGreaterThan(0);
            expect(Number(attributes.cx)).toBeLessThan(360);
            expect(Number(attributes.cy)).toBeGreaterThan(0);
          }
        }
      }
    }
    expect(seen).toBeGreaterThan(200);
  });
});
