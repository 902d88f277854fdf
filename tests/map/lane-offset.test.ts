import { describe, expect, it } from 'vitest';
import { LANE_STOPS, laneOffsetPx } from '../../src/map/lane-offset';
import { mapLayers } from '../../src/map/map-style';
import { look } from './look';

describe('a lane', () => {
  it('lies on its line far out, apart from the others near by, and never in the way of the next', () => {
    expect(laneOffsetPx('light', 12, 3)).toBe(0);
    expect(laneOffsetPx('light', 18, -2.5)).toBe(-17.5);
    expect(laneOffsetPx('light', 16.75, 1)).toBe(3.5);
    expect(laneOffsetPx('light', 23, 1)).toBe(15);
  });

  it('without a side of its own stays on the line at every zoom', () => {
    for (const zoom of [10, 16, 18, 22]) expect(laneOffsetPx('sunlight', zoom, 0)).toBe(0);
  });

  it('is told to the map by the same stops', () => {
    const segments = mapLayers(look).find(({ id }) => id === 'segments');
    const offset = segments?.type === 'line' ? segments.paint?.['line-offset'] : undefined;
    expect(offset).toEqual([
      'interpolate',
      ['linear'],
      ['zoom'],
      ...LANE_STOPS.flatMap(([zoom, px]) => [zoom, ['*', ['get', 'lane'], px]]),
    ]);
  });
});
