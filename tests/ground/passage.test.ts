import { describe, expect, it } from 'vitest';
import { emptyBody } from '../../demo-data/synthesis/empty-body';
import { type Place3, tubeMesh } from '../../demo-data/synthesis/tube-mesh';
import { ENDLESS_PASSAGE, polePole } from './over-a-void';

describe('a passage meshed along its path, straight and long', () => {
  const axis: Place3[] = [
    [0, -60, 2],
    [0, 60, 2],
  ];
  const [coarse, fine] = [3, 4].map((cut) => emptyBody(tubeMesh(axis, 1, { cut, finestAt: [0, 0, 2] })));

  it.each(ENDLESS_PASSAGE)('reads the exact cylinder at a %d m, %d m off: %d', (spacingM, offsetM, exact) => {
    const electrodes = polePole(spacingM, offsetM);
    const [first, second] = [coarse?.ratio(electrodes) ?? 0, fine?.ratio(electrodes) ?? 0];
    // Richardson's, for an error that shrinks as 1/cut².
    expect(Math.abs(second + ((second - first) * 9) / 7 - exact)).toBeLessThan(0.0005);
  });
});
