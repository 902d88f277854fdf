import { median } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { fileLook, pageLook } from '../../src/figures/look';
import { siteFigure } from '../../src/figures/site';
import { type SiteData, siteData, standsOut } from '../../src/figures/site-data';
import type { Findings, LineFindings, MidpointFinding, ReferenceCurve } from '../../src/findings';
import { demoContent } from '../app/demo-content';
import { madeFinding, madeLineFindings } from './made-findings';
import { allIn, readXml, shownTexts, textOf, type XmlElement } from './read-xml';

const { findings: demo } = demoContent();

/** 400 Ω·m at 1, 2 and 4 m, with a scatter of 10 %. */
const curve: ReferenceCurve = {
  references: [],
  hookup: 'pole_pole',
  day: null,
  wetting: null,
  kind: 'reference',
  points: [1, 2, 4].map((spacingM) => ({ spacingM, figureOhmM: 400, scatterLn: 0.1, stations: 5 })),
};

/** Three places at each of the spacings 1, 2 and 4 m, the middle one `factor` times the reference. */
const lineOf = (name: string, factor: number, said: Partial<MidpointFinding> = {}, more: Partial<LineFindings> = {}) =>
  madeLineFindings(
    [1, 2, 4].flatMap((spacingM) =>
      [0.7, 1, 3].map((apart, i) =>
        madeFinding({ chainageM: 5 + i, spacingM, figureOhmM: 400 * factor * apart, referenceOhmM: 400, ...said }),
      ),
    ),
    { name, ...more },
  );

const made = (lines: readonly LineFindings[], references: readonly ReferenceCurve[] = [curve]): Findings => ({
  ...demo,
  lines,
  references,
});
const only = (findings: Findings): SiteData => {
  const [data, ...others] = siteData(findings);
  if (!data || others.length > 0) throw new Error('one chart was expected');
  return data;
};
const drawn = (data: SiteData, widthPx = 360): XmlElement => readXml(siteFigure(data, fileLook(widthPx)));
const marksOf = (root: XmlElement): XmlElement[] =>
  allIn(root).filter(
    ({ name, children }) => name === 'g' && typeof children[0] !== 'string' && children[0]?.name === 'title',
  );
const titleOf = (mark: XmlElement): string => textOf(mark.children[0] as XmlElement);

describe('the lines against their reference', () => {
  it('have the median of their figures and the median of their ratios, spacing by spacing', () => {
    for (const data of siteData(demo)) {
      for (const { name, medians } of data.lines) {
        const line = demo.lines.find((one) => one.name === name);
        for (const { spacingM, figureOhmM, ratio, places } of medians) {
          const here = line?.midpoints.filter(
            (finding) => finding.spacingM === spacingM && finding.figureOhmM !== null,
          );
          // By an independent library; in logarithms, since that is where the middle of two is taken.
          const lnFigures = here?.map((finding) => Math.log(finding.figureOhmM as number)) ?? [];
          expect(places).toBe(lnFigures.length);
          expect(Math.log(figureOhmM)).toBeCloseTo(median(lnFigures), 9);
          const lnRatios = here?.flatMap((finding) => (finding.ratio === null ? [] : [Math.log(finding.ratio)])) ?? [];
          expect(Math.log(ratio ?? 0)).toBeCloseTo(median(lnRatios), 9);
        }
      }
    }
  });

  it('are one chart for each hookup of the demo, with every line in one of them', () => {
    const charts = siteData(demo);
    expect(charts.map(({ hookup }) => hookup)).toEqual(['pole_pole', 'wenner_alpha', 'two_probe']);
    expect(charts.map(({ lines }) => lines.map(({ name }) => name))).toEqual([
      ['A', 'B', 'C', 'D', 'R1'],
      ['E', 'R3'],
      ['R2', 'T'],
    ]);
    // Only pole-pole was read on two days.
    expect(charts.map(({ days }) => days.length)).toEqual([2, 0, 0]);
  });

  it('stand above, within or below the scatter of the stations, and a few strong places do not move them', () => {
    const { lines } = only(made([lineOf('A', 1.2), lineOf('B', 1.05), lineOf('C', 0.8)]));
    expect(lines.map(({ medians }) => medians.map(({ standing }) => standing))).toEqual([
      ['above', 'above', 'above'],
      ['within', 'within', 'within'],
      ['below', 'below', 'below'],
    ]);
    expect(lines.map(({ times }) => times?.toFixed(2))).toEqual(['1.20', '1.05', '0.80']);
    expect(lines.map(standsOut)).toEqual([true, false, true]);
  });

  it('keep the level of a whole line that was taken out of its ratios', () => {
    const level = {
      hookup: 'pole_pole',
      factor: 1.5,
      standardErrorLn: 0.02,
      stations: 9,
      takenOut: true,
      sentence: '',
    };
    const { lines } = only(
      made([lineOf('A', 1.5, { referenceOhmM: 600 }, { levels: [{ ...level, hookup: 'pole_pole' }] })]),
    );
    expect(lines[0]?.times).toBeCloseTo(1.5, 9);
    expect(lines[0] && standsOut(lines[0])).toBe(true);
  });

  it('are in no chart where nothing is there to compare with', () => {
    expect(siteData(made([lineOf('A', 1)], []))).toEqual([]);
    const { lines } = only(made([lineOf('A', 1, { referenceOhmM: null })]));
    expect(lines[0]?.medians.map(({ standing }) => standing)).toEqual(['not_compared', 'not_compared', 'not_compared']);
    expect(lines[0]?.times).toBeNull();
  });

  it('say so where the median of the site stands in for a reference', () => {
    const data = only(made([lineOf('A', 1)], [{ ...curve, kind: 'site_median' }]));
    expect(shownTexts(drawn(data))).toContain('median of the site ± its scatter');
  });
});

describe('the figure of it', () => {
  it('puts marks where the logarithm of the figure puts them, and lines side by side in one order', () => {
    const root = drawn(only(made([lineOf('B', 0.8), lineOf('A', 1.25)])));
    const tips = marksOf(root).map((mark) => {
      const path = allIn(mark).find(({ name }) => name === 'path');
      const [, x = '', y = ''] = /^M([\d.]+) ([\d.]+)L/.exec(path?.attributes.d ?? '') ?? [];
      return { title: titleOf(mark), x: Number(x), y: Number(y) };
    });
    const [a, , , b] = tips;
    expect(a?.title).toBe('Line A, 1 m: 500 Ω·m, 1.25 times its reference, above the scatter (3 places)');
    expect(b?.title).toBe('Line B, 1 m: 320 Ω·m, 0.80 times its reference, below the scatter (3 places)');
    // By hand: 320 and 500 Ω·m are all that is shown but the band 400 × e^±0.1; ln(500/320) spans less than the least
    // factor of 1.6, padded by 6 % at either end. The plot is 360 × 0.56 = 201.6 px high; tips are 7.5 × 0.72 px off.
    const perLn = 201.6 / (Math.log(1.6) * 1.12);
    const reach = 7.5 * 0.72;
    expect((b?.y ?? 0) - (a?.y ?? 0) - 2 * reach).toBeCloseTo(perLn * Math.log(500 / 320), 0);
    expect((b?.x ?? 0) - (a?.x ?? 0)).toBeCloseTo(9, 1);
    expect(shownTexts(root)).toContain('from left to right: A, B');
  });

  it('names every line with how many times its reference it is, apart from each other', () => {
    const names = ['A', 'B', 'C', 'D', 'E', 'F'];
    const root = drawn(only(made(names.map((name) => lineOf(name, 1.001)))));
    expect(shownTexts(root)).toEqual(expect.arrayContaining(names.map((name) => `${name} ×1.00`)));
    const heights = allIn(root)
      .filter((part) => part.name === 'text' && textOf(part).includes('×1.00'))
      .map(({ attributes }) => Number(attributes.y))
      .sort((p, q) => p - q);
    for (const [i, y] of heights.slice(1).entries()) expect(y - (heights[i] as number)).toBeGreaterThanOrEqual(14);
  });

  it('names the lines that stand farthest off where there is no room for all, and says how many more there are', () => {
    const lines = Array.from({ length: 40 }, (_, i) => lineOf(`Line ${i + 1} & on`, 1 + i / 100));
    const texts = shownTexts(drawn(only(made(lines))));
    const named = texts.filter((words) => words.includes('×1.'));
    expect(named).toContain('Line 40… ×1.39');
    expect(named.some((words) => words.startsWith('Line 1 '))).toBe(false);
    expect(texts).toContain(`${40 - named.length} more`);
  });

  it('tells shapes apart without colour: filled up, hollow down, round', () => {
    const root = drawn(only(made([lineOf('A', 1.2), lineOf('B', 1), lineOf('C', 0.8)])));
    const shapes = marksOf(root).map((mark) =>
      allIn(mark)
        .slice(2)
        .map(({ name }) => name)
        .join(),
    );
    expect([shapes[0], shapes[3], shapes[6]]).toEqual(['path', 'circle', 'path,path']);
  });

  it('never calls a two-probe figure a resistivity', () => {
    const data = siteData(demo).find(({ twoProbe }) => twoProbe);
    if (!data) throw new Error('the demo has two-probe lines');
    const text = siteFigure(data, fileLook());
    expect(text).not.toMatch(/resistivity/i);
    expect(shownTexts(readXml(text))).toContain('mostly contact of the rods');
  });

  it.each(['light', 'dark', 'sunlight'] as const)('is well-formed and within its frame (%s)', (theme) => {
    const charts = siteData(demo);
    expect(charts).toHaveLength(3);
    for (const data of charts) {
      const text = siteFigure(data, pageLook(theme));
      expect(text).not.toMatch(/NaN|Infinity|undefined|null|style=|url\(|<style|<script/);
      const root = readXml(text);
      expect(marksOf(root)).toHaveLength(data.lines.length * 6);
      for (const { name, attributes } of allIn(root)) {
        if (name === 'circle') {
          expect(Number(attributes.cx)).toBeGreaterThan(0);
          expect(Number(attributes.cx)).toBeLessThan(360);
        }
        if (name === 'text') expect(Number(attributes['font-size'])).toBeGreaterThanOrEqual(12);
      }
    }
  });
});
