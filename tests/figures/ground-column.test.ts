import { describe, expect, it } from 'vitest';
import { type GroundColumn, groundColumnFigure } from '../../src/figures/ground-column';
import { fileLook } from '../../src/figures/look';
import { readXml } from './read-xml';

const range = (value: number, spread: number) => ({ value, low95: value / spread, high95: value * spread });

const column: GroundColumn = {
  resistivities: [range(180, 1.2), range(600, 1.1)],
  thicknesses: [range(0.7, 1.5)],
  voidDepthM: { value: 2.5, low95: 1, high95: 6 },
  title: 'The ground <here>',
  summary: 'Two layers.',
};

const numbersOf = (svg: string, pattern: RegExp) => [...svg.matchAll(pattern)].map((found) => Number(found[1]));

describe('the column of the ground', () => {
  it('is a well-formed figure with its name and what it shows in words', () => {
    const svg = groundColumnFigure(column, fileLook());
    expect(() => readXml(svg)).not.toThrow();
    expect(svg).toContain('The ground &lt;here&gt;');
    expect(svg).toContain('Two layers.');
    expect(svg).not.toContain('NaN');
  });

  it('reaches below the deepest thing that it speaks of', () => {
    const depths = (one: GroundColumn) => numbersOf(groundColumnFigure(one, fileLook()), />([\d.]+) m</g);
    expect(Math.max(...depths(column))).toBeGreaterThanOrEqual(6);
    expect(Math.max(...depths({ ...column, voidDepthM: null }))).toBeLessThan(3);
  });

  it('has a ring for a void only where one is spoken of', () => {
    expect(groundColumnFigure(column, fileLook())).toContain('void?');
    expect(groundColumnFigure({ ...column, voidDepthM: null }, fileLook())).not.toContain('<circle');
  });

  it('keeps its scale when a range is open to one side', () => {
    const open = { ...column, resistivities: [{ value: 180, low95: 1e-3, high95: 200 }, range(600, 1.1)] };
    const widths = numbersOf(groundColumnFigure(open, fileLook()), /<rect x="([\d.-]+)"/g);
    expect(widths.every((x) => x >= 0 && Number.isFinite(x))).toBe(true);
    const labels = numbersOf(groundColumnFigure(open, fileLook()), />(\d+)</g);
    expect(Math.min(...labels)).toBeGreaterThanOrEqual(10);
  });
});
