import { describe, expect, it } from 'vitest';
import { fileLook } from '../../src/figures/look';
import { rose } from '../../src/figures/rose';

const classes = [
  { fromDeg: 0, toDeg: 90, count: 4 },
  { fromDeg: 90, toDeg: 180, count: 1 },
];
const lengths = (svg: string) => [...svg.matchAll(/A([\d.]+) /g)].map(([, radius]) => Number(radius));

describe('the rose of long axes', () => {
  it('draws each class on both sides of the middle, its area by its count', () => {
    const [first = 0, second, third = 0] = lengths(rose({ classes, meanDeg: null, summary: 'five axes' }, fileLook()));
    expect(second).toBe(first);
    // A quarter of the area is half the length.
    expect(third / first).toBeCloseTo(0.5, 3);
  });

  it('has north up and says what it shows', () => {
    const svg = rose({ classes, meanDeg: 45, summary: 'five axes' }, fileLook());
    expect(svg).toContain('<desc>five axes</desc>');
    const letter = (name: string) => new RegExp(`<text x="([\\d.]+)" y="([\\d.]+)"[^>]*>${name}</text>`).exec(svg);
    expect(Number(letter('N')?.[2])).toBeLessThan(Number(letter('S')?.[2]));
    expect(Number(letter('W')?.[1])).toBeLessThan(Number(letter('E')?.[1]));
  });
});
