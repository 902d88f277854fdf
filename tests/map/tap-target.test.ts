import type { FeatureCollection } from 'geojson';
import { describe, expect, it } from 'vitest';
import { besidePath, distanceToPathPx, nearestSid } from '../../src/map/tap-target';

/** Two strokes on one line that runs east, in lanes 0 and 1; a degree is a pixel, north is up. */
const strokes: FeatureCollection = {
  type: 'FeatureCollection',
  features: [0, 1].map((lane) => ({
    type: 'Feature',
    properties: { sid: `lane ${lane}`, lane },
    geometry: {
      type: 'LineString',
      coordinates: [
        [0, 0],
        [100, 0],
      ],
    },
  })),
};
const project = ([lon, lat]: number[]) => ({ x: lon ?? 0, y: -(lat ?? 0) });
const offset = ({ lane }: Record<string, unknown>) => (Number(lane) + 1) * 11;
const all = new Set(['lane 0', 'lane 1']);

describe('a tap', () => {
  it('takes the stroke that is drawn nearest, to the right of the line', () => {
    expect(nearestSid({ x: 50, y: 12 }, all, strokes, project, offset)).toBe('lane 0');
    expect(nearestSid({ x: 50, y: 20 }, all, strokes, project, offset)).toBe('lane 1');
  });

  it('takes only what was found at it', () => {
    expect(nearestSid({ x: 50, y: 12 }, new Set(['lane 1']), strokes, project, offset)).toBe('lane 1');
    expect(nearestSid({ x: 50, y: 12 }, new Set(), strokes, project, offset)).toBeNull();
  });

  it('is measured to the nearest part of a path', () => {
    const path = [
      { x: 0, y: 0 },
      { x: 10, y: 0 },
    ];
    expect(distanceToPathPx({ x: 5, y: 3 }, path)).toBe(3);
    expect(distanceToPathPx({ x: 14, y: 3 }, path)).toBe(5);
    expect(distanceToPathPx({ x: 3, y: 4 }, [{ x: 0, y: 0 }])).toBe(5);
    expect(distanceToPathPx({ x: 3, y: 4 }, [])).toBe(Number.POSITIVE_INFINITY);
  });

  it('moves a path to the right as seen along it', () => {
    const northward = [
      { x: 0, y: 0 },
      { x: 0, y: -10 },
    ];
    expect(besidePath(northward, 4).map(({ x }) => x)).toEqual([4, 4]);
  });
});
