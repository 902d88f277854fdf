import { describe, expect, it } from 'vitest';
import { type ChangesDrawing, changesFigure, type DrawnChange } from '../../src/figures/changes';
import { fileLook } from '../../src/figures/look';
import { allIn, readXml, shownTexts, textOf, type XmlElement } from './read-xml';

const point = (chainageM: number, change: number, more: Partial<DrawnChange> = {}): DrawnChange => ({
  sid: `m${chainageM}:${more.spacingM ?? 4}`,
  chainageM,
  spacingM: 4,
  change,
  standardErrorLn: 0.1,
  verdict: 'no_change_shown',
  ...more,
});

const ofLine = (more: Partial<ChangesDrawing> = {}): ChangesDrawing => ({
  line: 'A & B',
  earlier: 'dry <season>',
  hookup: 'wenner_alpha',
  zShown: 2.5,
  points: [
    point(10, 1),
    point(12, 2, { verdict: 'higher_than_before' }),
    point(14, 0.5, { verdict: 'lower_than_before' }),
    point(40, 1.1),
  ],
  ...more,
});

const drawn = (more: Partial<ChangesDrawing> = {}): XmlElement => readXml(changesFigure(ofLine(more), fileLook()));
const number = ({ attributes }: XmlElement, name: string): number => Number(attributes[name]);
const groups = (root: XmlElement): XmlElement[] => allIn(root).filter(({ attributes }) => attributes['data-sid']);

/** Where a change is drawn, read from the labels of the upright axis itself: even steps of its logarithm. */
function axisOf(root: XmlElement): (change: number) => number {
  const at = (words: string): number => {
    const found = allIn(root).find((each) => each.name === 'text' && textOf(each) === words);
    if (!found) throw new Error(`no label ${words}`);
    return number(found, 'y') - 0.35 * number(found, 'font-size');
  };
  const [one, two] = [at('×1'), at('×2')];
  return (change) => one + ((two - one) * Math.log(change)) / Math.log(2);
}

describe('changes along a line', () => {
  it('are well formed whatever things are called, and told in words', () => {
    const root = drawn();
    const [title, desc] = root.children as [XmlElement, XmlElement];
    expect(textOf(title)).toContain('Change since “dry <season>”, line A & B');
    expect(textOf(desc)).toContain('2 changed beyond chance: spacing 4 m at 12 m: ×2.00 ± 0.20, higher than before');
    expect(textOf(desc)).toContain('A change of less than 2.5 standard errors would not have shown.');
  });

  it('stand at their factor, with a bar of one standard error of its logarithm either way', () => {
    const root = drawn();
    const y = axisOf(root);
    for (const [sid, change] of [
      ['m12:4', 2],
      ['m14:4', 0.5],
      ['m40:4', 1.1],
    ] as const) {
      const group = groups(root).find(({ attributes }) => attributes['data-sid'] === sid);
      const bar = allIn(group as XmlElement).find(({ attributes }) => attributes['stroke-width'] === '1.3');
      const [, top, bottom] = /^M[\d.]+ ([\d.]+)L[\d.]+ ([\d.]+)/.exec(bar?.attributes.d ?? '') ?? [];
      expect(Number(top)).toBeCloseTo(y(change * Math.exp(0.1)), 0);
      expect(Number(bottom)).toBeCloseTo(y(change / Math.exp(0.1)), 0);
    }
  });

  it('are told apart without colour: up and full, down and hollow, round', () => {
    const shapes = groups(drawn()).map((group) =>
      allIn(group)
        .filter(({ name, attributes }) => name === 'circle' || (name === 'path' && attributes['stroke-linejoin']))
        .map(({ name, attributes }) =>
          name === 'circle' ? 'round' : attributes.fill === '#fbf7ec' ? 'hollow' : 'full',
        ),
    );
    expect(shapes).toEqual([['round'], ['full'], ['hollow', 'hollow'], ['round']]);
  });

  it('lie before a band of what would not have shown, which stops where nothing was read', () => {
    const root = drawn();
    const y = axisOf(root);
    // The last one is the sample of the key: before it 10 to 14 m, and 40 m by itself.
    const bands = allIn(root)
      .filter(({ attributes }) => attributes['fill-opacity'] === '0.14')
      .slice(0, -1);
    expect(bands.length).toBe(2);
    for (const band of bands) {
      const heights = [...(band.attributes.d ?? '').matchAll(/[ML][\d.]+ ([\d.]+)/g)].map(([, height]) =>
        Number(height),
      );
      expect(Math.min(...heights)).toBeCloseTo(y(Math.exp(0.25)), 0);
      expect(Math.max(...heights)).toBeCloseTo(y(Math.exp(-0.25)), 0);
    }
  });

  it('have a strip for each spacing, and an axis that never makes scatter look large', () => {
    const points = [point(10, 1.01), point(12, 0.99), point(10, 1.02, { spacingM: 8 })];
    const root = drawn({ points: points.map((each) => ({ ...each, standardErrorLn: 0.01 })) });
    const texts = shownTexts(root);
    expect(texts.filter((words) => words.startsWith('spacing'))).toEqual(['spacing 4 m', 'spacing 8 m']);
    const ticks = texts.filter((words) => words.startsWith('×')).map((words) => Number(words.slice(1)));
    expect(Math.max(...ticks)).toBeGreaterThanOrEqual(1.2);
  });

  it('of two probes are hints: diamonds without a band', () => {
    const root = drawn({
      hookup: 'two_probe',
      points: [point(10, 3, { verdict: 'hint' }), point(12, 0.4, { verdict: 'hint' })],
    });
    expect(allIn(root).some(({ attributes }) => attributes['fill-opacity'] === '0.14')).toBe(false);
    expect(shownTexts(root)).toContain('a hint');
    expect(shownTexts(root)).not.toContain('would not have shown');
    expect(textOf(root.children[1] as XmlElement)).toContain('mostly the contact of the rods');
  });

  it('that reach far stay within the figure', () => {
    const root = drawn({ points: [point(10, 1, { standardErrorLn: 9 }), point(12, 30)] });
    const height = number(root, 'height');
    for (const { name, attributes } of allIn(root)) {
      if (name !== 'path') continue;
      for (const [, , at] of (attributes.d ?? '').matchAll(/[ML]([\d.-]+) ([\d.-]+)/g)) {
        expect(Number(at)).toBeGreaterThanOrEqual(0);
        expect(Number(at)).toBeLessThanOrEqual(height);
      }
    }
  });
});
