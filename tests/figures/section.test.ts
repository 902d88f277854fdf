import { describe, expect, it } from 'vitest';
import { fileLook } from '../../src/figures/look';
import { classOf, resistivityClasses } from '../../src/figures/resistivity-classes';
import { type DrawnCell, type SectionDrawing, sectionFigure } from '../../src/figures/section';
import ramp from '../../styles/ramp.json';
import { COLOUR_VISIONS, colourDifference, lightness, seenBy } from '../map/colour-vision';
import { allIn, readXml, shownTexts, textOf } from './read-xml';

const cell = (column: number, row: number, more: Partial<DrawnCell> = {}): DrawnCell => ({
  chainageFromM: column,
  chainageToM: column + 1,
  depthTopM: row,
  depthBottomM: row + 1,
  resistivityOhmM: 100 * (row + 1),
  coverage: 1,
  ...more,
});

const drawing = (more: Partial<SectionDrawing> = {}): SectionDrawing => ({
  line: 'A <1>',
  cells: Array.from({ length: 20 }, (_, i) => cell(i, 0)).concat(Array.from({ length: 20 }, (_, i) => cell(i, 1))),
  electrodes: Array.from({ length: 21 }, (_, chainageM) => ({ chainageM, elevationM: null })),
  readings: [{ chainageM: 10, depthM: 1.5 }],
  depthLimitM: 1.8,
  knownFrom: 0.25,
  ...more,
});

const drawn = (more: Partial<SectionDrawing> = {}, widthPx = 520) =>
  readXml(sectionFigure(drawing(more), fileLook(widthPx)));

/** Width and height of the first piece of a path whose corners are all given in full. */
function sizeOf(d: string): readonly [number, number] {
  const [first = ''] = d.split('Z');
  const corners = first
    .slice(1)
    .split('L')
    .map((corner) => corner.split(' ').map(Number) as [number, number]);
  const [xs, ys] = [corners.map(([x]) => x), corners.map(([, y]) => y)];
  return [Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)];
}

const pathsOf = (root: ReturnType<typeof readXml>, fills: readonly string[]) =>
  allIn(root).filter(({ name, attributes }) => name === 'path' && fills.includes(attributes.fill ?? ''));

describe('a section', () => {
  it('is well formed, and says in words what it shows, with where the lowest and highest are', () => {
    const root = drawn({ cells: [...drawing().cells, cell(4, 2, { resistivityOhmM: 20 })], depthLimitM: 3 });
    const [title, desc] = root.children as [typeof root, typeof root];
    expect(textOf(title)).toBe('Section under line A <1>');
    expect(textOf(desc)).toContain('the lowest is 20 Ω·m at 4.5 m, 2.5 m down');
    expect(textOf(desc)).toContain('from 1 reading.');
    expect(sectionFigure(drawing(), fileLook())).not.toMatch(/NaN|Infinity/);
  });

  it('has its colours told by a legend in Ω·m, with limits that part the values', () => {
    const texts = shownTexts(drawn());
    expect(texts).toContain('resistivity, Ω·m');
    const limits = texts.map(Number).filter((limit) => limit > 100 && limit < 200);
    expect(limits.length).toBeGreaterThanOrEqual(1);
  });

  it('shrinks a cell to paper as the readings say less of it, and keeps its colour', () => {
    // Known from 0.25: paper at a fifth of that, whole at four times that, half in the middle of the two by ratio.
    const { resistivity } = fileLook();
    const full = pathsOf(drawn({ cells: [cell(0, 0)] }), resistivity)[0];
    const half = pathsOf(drawn({ cells: [cell(0, 0, { coverage: Math.sqrt(0.05) })] }), resistivity)[0];
    if (!full || !half) throw new Error('a cell is missing');
    expect(half.attributes.fill).toBe(full.attributes.fill);
    const [[fullWidth, fullHeight], [width, height]] = [
      sizeOf(full.attributes.d ?? ''),
      sizeOf(half.attributes.d ?? ''),
    ];
    expect((width * height) / (fullWidth * fullHeight)).toBeCloseTo(0.5, 1);
    expect(pathsOf(drawn({ cells: [cell(0, 0, { coverage: 0 })] }), resistivity)).toHaveLength(0);
  });

  it('draws one scale both ways where that leaves enough to see, and else says by how much it does not', () => {
    const deep = Array.from({ length: 20 }, (_, i) => cell(i, 0, { depthBottomM: 10 }));
    expect(shownTexts(drawn({ cells: deep, depthLimitM: 10 }))).toContain('one scale both ways');
    const flat = drawn();
    const [words = ''] = shownTexts(flat).filter((text) => text.includes('as large as length'));
    const told = Number(/drawn ([\d.]+) ×/.exec(words)?.[1]);
    const look = fileLook();
    const [width, height] = sizeOf(pathsOf(flat, look.resistivity)[0]?.attributes.d ?? '');
    expect(height / width / told).toBeGreaterThan(0.93);
    expect(height / width / told).toBeLessThan(1.07);
  });

  it('follows the heights of the electrodes, where they are known', () => {
    const electrodes = [0, 20].map((chainageM) => ({ chainageM, elevationM: 200 + chainageM / 10 }));
    const root = drawn({ electrodes });
    expect(shownTexts(root)).toContain('height');
    expect(shownTexts(root).some((text) => /^20\d m$/.test(text))).toBe(true);
    const surface = allIn(root).find(({ attributes }) => attributes.fill === 'none' && attributes.d?.includes('L'));
    const ends = (surface?.attributes.d ?? '')
      .slice(1)
      .split('L')
      .map((corner) => Number(corner.split(' ')[1]));
    // Uphill is upwards.
    expect(ends.at(-1)).toBeLessThan(ends[0] as number);
    expect(shownTexts(drawn())).toContain('depth');
  });

  it('keeps all its text at 11 px or more and within its width', () => {
    for (const widthPx of [360, 520]) {
      for (const { name, attributes } of allIn(drawn({}, widthPx))) {
        if (name !== 'text') continue;
        expect(Number(attributes['font-size'])).toBeGreaterThanOrEqual(11);
        expect(Number(attributes.x)).toBeLessThanOrEqual(widthPx);
      }
    }
  });
});

describe('the classes of resistivity', () => {
  it.each([
    [[100, 104], 'nearly even ground is not torn apart'],
    [[90, 700], 'a usual range'],
    [[1, 90_000], 'five decades'],
    [[0.5, 5e8], 'nine decades'],
  ])('of %j are few and round: %s', (values) => {
    const { limitsOhmM, colours } = resistivityClasses(values, ramp.resistivity.light);
    expect(colours).toHaveLength(limitsOhmM.length + 1);
    expect(colours.length).toBeLessThanOrEqual(ramp.resistivity.light.length);
    expect([...limitsOhmM]).toEqual([...limitsOhmM].sort((p, q) => p - q));
    for (const limit of limitsOhmM) expect(Number(limit.toPrecision(2))).toBe(limit);
    const [low, high] = values.map((value) => classOf(value, { limitsOhmM, colours })) as [number, number];
    expect(high).toBeGreaterThanOrEqual(low);
    if ((values[1] as number) > 3 * (values[0] as number)) expect(high).toBeGreaterThan(low);
  });

  it.each(COLOUR_VISIONS)('keep their neighbours apart under %s, darker or lighter step by step', (vision) => {
    for (const theme of ['light', 'dark', 'sunlight'] as const) {
      const scale = ramp.resistivity[theme];
      const away = theme === 'dark' ? 1 : -1;
      scale.slice(1).forEach((colour, i) => {
        const before = scale[i] as string;
        expect(colourDifference(seenBy(vision, colour), seenBy(vision, before))).toBeGreaterThan(8);
        expect((lightness(colour) - lightness(before)) * away).toBeGreaterThan(5);
      });
    }
  });
});
