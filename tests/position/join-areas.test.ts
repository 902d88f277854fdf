import type { Feature, Polygon, Position } from 'geojson';
import { describe, expect, it } from 'vitest';
import { joinAreas } from '../../src/position/join-areas';

const CORNERS = 32;

/** A polygon round a circle, its corners on whole millimetres. */
function circle(x: number, y: number, radiusM: number): Feature<Polygon> {
  const ring = Array.from({ length: CORNERS }, (_, k): Position => {
    const angle = (2 * Math.PI * k) / CORNERS;
    return [x + radiusM * Math.cos(angle), y + radiusM * Math.sin(angle)].map((m) => Math.round(m * 1000) / 1000);
  });
  return {
    type: 'Feature',
    properties: {},
    geometry: { type: 'Polygon', coordinates: [[...ring, ring[0] as Position]] },
  };
}

function areaM2(feature: ReturnType<typeof joinAreas>): number {
  const { geometry } = feature as NonNullable<typeof feature>;
  const polygons = geometry.type === 'Polygon' ? [geometry.coordinates] : geometry.coordinates;
  let twice = 0;
  for (const [i, ring] of polygons.flatMap((rings) => rings.map((ring, k) => [k, ring] as const))) {
    let own = 0;
    for (let k = 1; k < ring.length; k += 1) {
      const [px = 0, py = 0] = ring[k - 1] as Position;
      const [qx = 0, qy = 0] = ring[k] as Position;
      own += px * qy - qx * py;
    }
    twice += i === 0 ? Math.abs(own) : -Math.abs(own);
  }
  return twice / 2;
}

/** Area of two circles of one radius together: 2πr² less their lens (elementary geometry). */
const unionOfTwoM2 = (radiusM: number, apartM: number): number =>
  2 * Math.PI * radiusM ** 2 -
  (2 * radiusM ** 2 * Math.acos(apartM / (2 * radiusM)) - (apartM / 2) * Math.sqrt(4 * radiusM ** 2 - apartM ** 2));

describe('areas joined in a plane', () => {
  it('have the area that two circles have together', () => {
    // A polygon of 32 corners in a circle has sin(2π/32)/(2π/32) of its area.
    const share = Math.sin((2 * Math.PI) / CORNERS) / ((2 * Math.PI) / CORNERS);
    for (const apart of [5, 20, 35]) {
      const joined = areaM2(joinAreas([circle(0, 0, 20), circle(apart, 0, 20)]));
      expect(joined / (unionOfTwoM2(20, apart) * share)).toBeCloseTo(1, 2);
    }
  });

  it('come out whole where edges of circles nearly meet, which exact arithmetic does not manage', () => {
    // Three circles about these places: found among a hundred thousand.
    const near = [circle(0, 0, 43), circle(13.963, 7.896, 59), circle(-86.478, 23.141, 62.5)];
    expect(areaM2(joinAreas(near))).toBeGreaterThan(Math.PI * 62 ** 2);
  });

  it('are at least the largest and at most the sum, however circles lie', () => {
    let seed = 7;
    const chance = (): number => {
      seed = (seed * 48271) % 2147483647;
      return seed / 2147483647;
    };
    for (let k = 0; k < 300; k += 1) {
      const circles = Array.from({ length: 3 + (k % 5) }, () =>
        circle(chance() * 150, chance() * 150, 10 + Math.round(chance() * 50)),
      );
      const areas = circles.map(areaM2);
      const joined = areaM2(joinAreas(circles));
      expect(joined).toBeGreaterThanOrEqual(Math.max(...areas) - 0.01);
      expect(joined).toBeLessThanOrEqual(areas.reduce((p, q) => p + q) + 0.01);
    }
  });
});
