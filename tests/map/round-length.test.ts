import { describe, expect, it } from 'vitest';
import { lengthLabel, roundLengthDown, roundLengthUp } from '../../src/map/round-length';
import { scaleBar } from '../../src/map/scale-bar';

describe('round lengths', () => {
  it('go down and up to 1, 2 or 5 of a power of ten', () => {
    expect([0.7, 1, 3, 49, 51, 1999].map(roundLengthDown)).toEqual([0.5, 1, 2, 20, 50, 1000]);
    expect([0.7, 1, 3, 49, 51, 1999].map(roundLengthUp)).toEqual([1, 1, 5, 50, 100, 2000]);
  });

  it('are written in metres, from a thousand on in kilometres', () => {
    expect([0.5, 20, 1000, 2000].map(lengthLabel)).toEqual(['0.5 m', '20 m', '1 km', '2 km']);
  });

  it('make a scale bar as long as fits', () => {
    expect(scaleBar(0.21, 110)).toEqual({ label: '20 m', widthPx: 20 / 0.21 });
  });
});
