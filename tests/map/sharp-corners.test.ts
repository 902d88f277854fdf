import { describe, expect, it } from 'vitest';
import { cornerAngleDeg, cutAtSharpCorners } from '../../src/map/sharp-corners';

/** A corner at the origin between legs to the east and at `angleDeg` from it, at 60° north. */
function corner(angleDeg: number): [number, number][] {
  const angle = (angleDeg * Math.PI) / 180;
  const shrink = Math.cos((60 * Math.PI) / 180);
  return [
    [0.0001 / shrink, 60],
    [0, 60],
    [(0.0001 * Math.cos(angle)) / shrink, 60 + 0.0001 * Math.sin(angle)],
  ];
}

describe('sharp corners', () => {
  it('are measured on the ground, not in degrees', () => {
    for (const angle of [20, 60, 120, 180]) {
      const [before, here, after] = corner(angle);
      if (!before || !here || !after) throw new Error('three places');
      expect(cornerAngleDeg(before, here, after)).toBeCloseTo(angle, 1);
    }
  });

  it('cut a path in two that share the corner', () => {
    const path = corner(20);
    expect(cutAtSharpCorners(path)).toEqual([
      [path[0], path[1]],
      [path[1], path[2]],
    ]);
  });

  it('leave every other path in one piece, with all its bends', () => {
    for (const angle of [60, 120, 179]) expect(cutAtSharpCorners(corner(angle))).toEqual([corner(angle)]);
  });
});
