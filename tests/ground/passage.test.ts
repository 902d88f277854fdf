import { describe, expect, it } from 'vitest';
import { emptyBody } from '../../demo-data/synthesis/empty-body';
import { type Place3, tubeMesh } from '../../demo-data/synthesis/tube-mesh';

describe('a passage meshed along its path, straight and long', () => {
  const axis: Place3[] = [
    [0, -60, 2],
    [0, 60, 2],
  ];
  const [coarse, fine] = [3, 4].map((cut) => emptyBody(tubeMesh(axis, 1, { cut, finestAt: [0, 0, 2] })));

  /*
   * Spacing, offset, exact ρa/ρ₁ of an endless empty cylinder of radius 1 m, axis 2 m down: Fourier along strike, modified
   * Bessel multipoles and mirror cylinder; computed for this project by two methods that share nothing with panels.
   */
  it.each([
    [2, 0, 1.175731],
    [4, 0, 1.023272],
    [8, 0, 0.952162],
    [20, 0, 0.982252],
    [4, 2.5, 1.10711],
    [8, 5, 1.061578],
  ])('reads the exact cylinder at a %d m, %d m off: %d', (spacingM, offsetM, exact) => {
    const electrodes = {
      a: [offsetM - spacingM / 2, 0, 0] as const,
      b: null,
      m: [offsetM + spacingM / 2, 0, 0] as const,
      n: null,
    };
    const [first, second] = [coarse?.ratio(electrodes) ?? 0, fine?.ratio(electrodes) ?? 0];
    // Richardson's, for an error that shrinks as 1/cut².
    expect(Math.abs(second + ((second - first) * 9) / 7 - exact)).toBeLessThan(0.0005);
  });
});
