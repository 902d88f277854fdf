import { describe, expect, it } from 'vitest';
import { laneOffsetPx, sturdiness, WIDEST_REACH_PX } from '../../src/map/lane-offset';
import { lanes } from '../../src/map/lanes';
import { RAMP_WIDTH_PX } from '../../src/map/ramp';

describe('lanes', () => {
  it('lie evenly about the line, the narrowest spacing on its left', () => {
    const items = [
      { line: 'A', spacingM: 5 },
      { line: 'A', spacingM: 1 },
      { line: 'A', spacingM: 2 },
      { line: 'A', spacingM: 1 },
      { line: 'B', spacingM: 5 },
    ];
    expect(lanes(items)).toEqual([1, -1, 0, -1, 0]);
  });

  it('put readings that do not say their spacing rightmost', () => {
    expect(
      lanes([
        { line: 'A', spacingM: null },
        { line: 'A', spacingM: 12 },
      ]),
    ).toEqual([0.5, -0.5]);
  });

  it('share the room of seven where there are more, so that none leaves the reach of its tiles', () => {
    const eleven = lanes(Array.from({ length: 11 }, (_, i) => ({ line: 'A', spacingM: i + 1 })));
    expect(eleven[0]).toBeCloseTo(-3, 9);
    expect(eleven[10]).toBeCloseTo(3, 9);
    const halfStrokePx = (1.3 * sturdiness('sunlight') * Math.max(...Object.values(RAMP_WIDTH_PX))) / 2;
    expect(laneOffsetPx('sunlight', 24, 3) + halfStrokePx).toBeLessThanOrEqual(WIDEST_REACH_PX + 1);
  });
});
