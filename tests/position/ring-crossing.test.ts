import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ringCrossing } from '../../src/position/ring-crossing';

type Ring = [number, number][];

describe('a ring', () => {
  it('that is a square, a star round its middle or a comb does not cross itself', () => {
    const star = Array.from({ length: 200 }, (_, k): [number, number] => {
      const [angle, r] = [(2 * Math.PI * k) / 200, k % 2 === 0 ? 10 : 4];
      return [r * Math.cos(angle), r * Math.sin(angle)];
    });
    const comb: Ring = [
      ...Array.from({ length: 50 }, (_, k): [number, number] => [k, k % 2 === 0 ? 5 : 1]),
      [49, 0],
      [0, 0],
    ];
    expect(
      ringCrossing([
        [0, 0],
        [1, 0],
        [1, 1],
        [0, 1],
      ]),
    ).toBeNull();
    expect(ringCrossing(star)).toBeNull();
    expect(ringCrossing(comb)).toBeNull();
  });

  it('like an eight, one that touches itself, and one that runs back on itself are found', () => {
    expect(
      ringCrossing([
        [0, 0],
        [2, 2],
        [2, 0],
        [0, 2],
      ]),
    ).not.toBeNull();
    expect(
      ringCrossing([
        [0, 0],
        [4, 0],
        [4, 4],
        [2, 0],
        [0, 4],
      ]),
    ).not.toBeNull();
    expect(
      ringCrossing([
        [0, 0],
        [4, 0],
        [2, 0],
        [2, 4],
      ]),
    ).not.toBeNull();
  });

  it('is judged as by comparing every edge with every other one', () => {
    const corner = fc.tuple(fc.integer({ min: 0, max: 9 }), fc.integer({ min: 0, max: 9 }));
    fc.assert(
      fc.property(fc.uniqueArray(corner, { minLength: 3, maxLength: 8, selector: ([x, y]) => x * 10 + y }), (ring) => {
        expect(ringCrossing(ring) !== null).toBe(crossesByBruteForce(ring));
      }),
      { numRuns: 2000, seed: 3 },
    );
  });
});

/** By solving for the point that two edges share, in whole numbers: another way than turns. */
function crossesByBruteForce(ring: Ring): boolean {
  const n = ring.length;
  for (let i = 0; i < n; i += 1) {
    for (let j = i + 1; j < n; j += 1) {
      const [p, q] = [ring[i], ring[(i + 1) % n]] as Ring as [[number, number], [number, number]];
      const [r, s] = [ring[j], ring[(j + 1) % n]] as Ring as [[number, number], [number, number]];
      const shared = j === i + 1 ? q : i === 0 && j === n - 1 ? p : null;
      const [ux, uy, vx, vy] = [q[0] - p[0], q[1] - p[1], s[0] - r[0], s[1] - r[1]];
      const det = ux * vy - uy * vx;
      if (det !== 0) {
        const t = ((r[0] - p[0]) * vy - (r[1] - p[1]) * vx) / det;
        const w = ((r[0] - p[0]) * uy - (r[1] - p[1]) * ux) / det;
        if (t >= 0 && t <= 1 && w >= 0 && w <= 1 && !shared) return true;
        continue;
      }
      if ((r[0] - p[0]) * uy !== (r[1] - p[1]) * ux) continue;
      const along = ([x, y]: [number, number]): number => ((x - p[0]) * ux + (y - p[1]) * uy) / (ux * ux + uy * uy);
      const [from, to] = [Math.min(along(r), along(s)), Math.max(along(r), along(s))];
      const overlap = Math.min(1, to) - Math.max(0, from);
      if (shared ? overlap > 0 : overlap >= 0) return true;
    }
  }
  return false;
}
