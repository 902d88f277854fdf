import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { element, figureText } from '../../src/figures/svg';
import { allIn, readXml, textOf } from './read-xml';

const figure = (title: string) =>
  figureText({
    widthPx: 360,
    heightPx: 200,
    title,
    summary: 'a summary',
    children: [element('text', { x: 1 }, [title])],
  });

describe('a figure as text', () => {
  it('is an image with a name and a summary, in a box of its own size', () => {
    const root = readXml(figure('a name'));
    expect(root.attributes).toEqual({
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: '0 0 360 200',
      width: '360',
      height: '200',
      role: 'img',
    });
    expect(allIn(root).map((node) => [node.name, textOf(node)])).toEqual([
      ['svg', ''],
      ['title', 'a name'],
      ['desc', 'a summary'],
      ['text', 'a name'],
    ]);
  });

  it('keeps a name that looks like markup as text', () => {
    const name = `<img src=x onerror="alert('1')"> & ]]> &amp; "q"`;
    const root = readXml(figure(name));
    expect(allIn(root).map((node) => node.name)).toEqual(['svg', 'title', 'desc', 'text']);
    expect(textOf(allIn(root)[1] ?? root)).toBe(name);
  });

  it('is well-formed whatever a thing is called, and holds no character that XML forbids', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), fc.string({ unit: 'binary' }), (title, value) => {
        const text = figureText({
          widthPx: 1,
          heightPx: 1,
          title,
          summary: '',
          children: [element('g', { 'data-sid': value })],
        });
        readXml(text);
        // biome-ignore lint/suspicious/noControlCharactersInRegex: these must not be there
        expect(text).not.toMatch(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/);
        expect(text).not.toMatch(/\p{Surrogate}/u);
      }),
    );
    expect(figure('a\u0000b\ud800c')).toContain('a\ufffdb\ufffdc');
  });

  it('writes numbers to the hundredth, and leaves an attribute without a value out', () => {
    const text = figureText({
      widthPx: 1,
      heightPx: 1,
      title: '',
      summary: '',
      children: [element('line', { x1: 1 / 3, x2: -0.001, y1: 1e-9, y2: null })],
    });
    expect(text).toContain('<line x1="0.33" x2="0" y1="0"/>');
  });
});
