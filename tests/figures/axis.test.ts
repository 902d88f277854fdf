import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { linearScale, linearTicks, logDomain, logScale, logTicks } from '../../src/figures/axis';

describe('scales', () => {
  it('put even steps, or even ratios, evenly on paper', () => {
    const linear = linearScale([10, 20], [0, 100]);
    expect([10, 12.5, 20].map(linear)).toEqual([0, 25, 100]);
    const log = logScale([1, 100], [200, 0]);
    expect(log(1)).toBeCloseTo(200, 9);
    expect(log(10)).toBeCloseTo(100, 9);
    expect(log(100)).toBeCloseTo(0, 9);
  });
});

describe('ticks of a linear axis', () => {
  it('are round numbers within it', () => {
    expect(linearTicks([0, 36], 6)).toEqual([0, 10, 20, 30]);
    expect(linearTicks([-0.4, 20.4], 6)).toEqual([0, 5, 10, 15, 20]);
    expect(linearTicks([0.1, 0.42], 5)).toEqual([0.1, 0.2, 0.3, 0.4]);
  });

  it('are never more than asked for', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e4, max: 1e4, noNaN: true }),
        fc.double({ min: 1e-2, max: 1e5, noNaN: true }),
        fc.integer({ min: 2, max: 12 }),
        (from, span, most) => {
          const ticks = linearTicks([from, from + span], most);
          expect(ticks.length).toBeGreaterThan(0);
          expect(ticks.length).toBeLessThanOrEqual(most);
        },
      ),
    );
  });
});

describe('ticks of a logarithmic axis', () => {
  it('are 1-2-5 in every decade', () => {
    expect(logTicks([80, 2500], 6)).toEqual([100, 200, 500, 1000, 2000]);
    expect(logTicks([0.45, 11], 6)).toEqual([0.5, 1, 2, 5, 10]);
  });

  it('are powers of ten where 1-2-5 would be a crowd', () => {
    expect(logTicks([1, 1e5], 6)).toEqual([1, 10, 100, 1000, 10000, 100000]);
    expect(logTicks([1, 1e8], 5)).toEqual([1, 100, 10000, 1000000, 100000000]);
  });

  it('become finer where the axis is short, and keep 1 for ratios', () => {
    expect(logTicks([0.75, 1.33], 6)).toEqual([0.8, 0.9, 1, 1.1, 1.2, 1.3]);
    expect(logTicks([280, 720], 6)).toEqual([300, 400, 500, 600, 700]);
    expect(logTicks([0.6, 4.2], 6)).toEqual([0.7, 1, 1.5, 2, 3]);
  });
});

describe('the range of a logarithmic axis', () => {
  it('holds all values with a little room, and is no shorter than asked', () => {
    const [low, high] = logDomain([100, 1000], 2, 0.1);
    expect(Math.log10(low)).toBeCloseTo(1.9, 9);
    expect(Math.log10(high)).toBeCloseTo(3.1, 9);
    const [from, to] = logDomain([400], 4, 0);
    expect([from, to]).toEqual([expect.closeTo(200, 9), expect.closeTo(800, 9)]);
  });

  it('stands firm where nothing is there to be shown', () => {
    expect(logDomain([], 2)).toEqual([1, 2]);
    expect(logDomain([0, -3, Number.NaN], 3)).toEqual([1, 3]);
  });
});
