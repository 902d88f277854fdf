import { describe, expect, it } from 'vitest';
import { fileLook } from '../../src/figures/look';
import { type DrawnCandidate, type SearchDrawing, searchFigure } from '../../src/figures/search';
import type { DrawnFindable } from '../../src/figures/search-contours';
import { allIn, readXml, shownTexts, textOf, type XmlElement } from './read-xml';

/** Radius found = half the depth, down to 5 m; nothing deeper. */
const findable: readonly DrawnFindable[] = [0, 10, 20, 30].flatMap((chainageM) =>
  [1, 2, 3, 4, 5, 6].map((depthM) => ({ chainageM, depthM, radiusM: depthM > 5 ? null : depthM / 2 })),
);

const candidate: DrawnCandidate = {
  chainageM: { best: 12, low95: 10, high95: 15 },
  depthM: { best: 2, low95: 1.5, high95: 3 },
  radiusM: { best: 1, low95: 0.6, high95: 1.4 },
  words: 'a passage',
  isVoid: true,
};

const drawn = (more: Partial<SearchDrawing> = {}, widthPx = 520): XmlElement =>
  readXml(
    searchFigure(
      { line: 'A & B', electrodesM: [0, 10, 20, 30], candidates: [candidate], findable, ...more },
      fileLook(widthPx),
    ),
  );

const number = ({ attributes }: XmlElement, name: string): number => Number(attributes[name]);

/** Where a chainage or a depth is drawn, read from the axes of the figure itself. */
function axesOf(root: XmlElement) {
  const texts = allIn(root).filter(({ name }) => name === 'text');
  const at = (words: string): XmlElement => {
    const found = texts.find((text) => textOf(text) === words);
    if (!found) throw new Error(`no label ${words}`);
    return found;
  };
  const [x0, x10] = [number(at('0'), 'x'), number(at('10'), 'x')];
  const [y0, y2] = [number(at('0 m'), 'y'), number(at('2 m'), 'y')];
  const half = Number(at('0 m').attributes['font-size']) * 0.35;
  return {
    x: (chainageM: number) => x0 + ((x10 - x0) * chainageM) / 10,
    y: (depthM: number) => y0 - half + ((y2 - y0) * depthM) / 2,
  };
}

describe('what a search could have found', () => {
  it('is well formed, and says in words what it shows', () => {
    const root = drawn();
    const [title, desc] = root.children as [XmlElement, XmlElement];
    expect(textOf(title)).toBe('What a search of line A & B could have found');
    expect(textOf(desc)).toContain('Candidate 1, a passage: at 12 m (10 m to 15 m), 2 m down (1.5 m to 3 m)');
    expect(textOf(desc)).toContain('Radius 1 m: down to 2 m');
    expect(textOf(desc)).toContain('Below and beside that nothing is known');
  });

  it('draws the contour of a radius at the depth down to which it would have shown', () => {
    const root = drawn({ candidates: [] });
    const { y } = axesOf(root);
    const depths = allIn(root)
      .filter(
        ({ name, attributes }) => name === 'path' && attributes.fill === 'none' && attributes['stroke-width'] === '1.2',
      )
      .map(({ attributes }) => Number(/^M[\d.-]+ ([\d.-]+)/.exec(attributes.d ?? '')?.[1]));
    const labels = shownTexts(root).filter((text) => text.startsWith('r '));
    expect(labels.length).toBeGreaterThanOrEqual(2);
    const expected = labels.map((text) => y(2 * Number(/r ([\d.]+) m/.exec(text)?.[1])));
    for (const wanted of expected)
      expect(depths.some((depth) => Math.abs(depth - Math.min(wanted, y(5))) < 0.2)).toBe(true);
  });

  it('puts a candidate with its size where it is best, in a box of all that is not excluded', () => {
    const root = drawn();
    const { x, y } = axesOf(root);
    const box = allIn(root).find(({ name, attributes }) => name === 'rect' && attributes['fill-opacity'] === '0.16');
    const ring = allIn(root).find(({ name }) => name === 'ellipse');
    if (!box || !ring) throw new Error('the candidate is not drawn');
    expect(number(box, 'x')).toBeCloseTo(x(10), 0);
    expect(number(box, 'x') + number(box, 'width')).toBeCloseTo(x(15), 0);
    expect(number(box, 'y')).toBeCloseTo(y(1.5), 0);
    expect(number(box, 'y') + number(box, 'height')).toBeCloseTo(y(3), 0);
    expect(number(ring, 'cx')).toBeCloseTo(x(12), 0);
    expect(number(ring, 'cy')).toBeCloseTo(y(2), 0);
    expect(number(ring, 'rx')).toBeCloseTo(x(1) - x(0), 0);
    expect(number(ring, 'ry')).toBeCloseTo(y(1) - y(0), 0);
    expect(box.attributes['stroke-dasharray']).toBeUndefined();
  });

  it('dashes what may well be something else, and says so in the key', () => {
    const root = drawn({ candidates: [{ ...candidate, isVoid: false }] });
    expect(
      allIn(root).filter(({ name, attributes }) => name === 'ellipse' && attributes['stroke-dasharray']),
    ).toHaveLength(1);
    expect(shownTexts(root)).toContain('or of another cause');
    expect(shownTexts(root)).not.toContain('middle of a void (95 %)');
  });

  it('keeps a range that leaves the picture within it', () => {
    const wide = {
      ...candidate,
      chainageM: { best: 2, low95: -40, high95: 90 },
      depthM: { best: 2, low95: 0, high95: 99 },
    };
    const root = drawn({ candidates: [wide] });
    const box = allIn(root).find(({ name, attributes }) => name === 'rect' && attributes['fill-opacity'] === '0.16');
    if (!box) throw new Error('the candidate is not drawn');
    expect(number(box, 'x')).toBeGreaterThanOrEqual(0);
    expect(number(box, 'x') + number(box, 'width')).toBeLessThanOrEqual(520);
    expect(number(box, 'y') + number(box, 'height')).toBeLessThanOrEqual(number(root, 'height'));
  });

  it('leaves paper where nothing would have been found, and says that too', () => {
    const root = drawn({ candidates: [], findable: findable.map((place) => ({ ...place, radiusM: null })) });
    expect(textOf(root.children[1] as XmlElement)).toContain('No passage that was tried would have been found');
    expect(allIn(root).filter(({ attributes }) => attributes['fill-opacity'] !== undefined)).toEqual([]);
  });

  it('keeps all its text at 11 px or more and within its width', () => {
    for (const widthPx of [360, 520]) {
      for (const text of allIn(drawn({}, widthPx)).filter(({ name }) => name === 'text')) {
        expect(number(text, 'font-size')).toBeGreaterThanOrEqual(11);
        expect(number(text, 'x')).toBeLessThanOrEqual(widthPx);
      }
    }
  });
});
