import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  factorOfPlacesM,
  type Passage,
  type Place,
  passageResponse,
  sphereResponse,
} from '../../src/ground/small-void';
import { polePole } from './over-a-void';

const HOST_OHM_M = 500;

const airSphere = (depthM: number) => ({ centre: [0, 0, -depthM] as const, radiusM: 1, fillOhmM: Infinity });

/** A long air-filled passage under the origin; 90° = square to the line. */
function airPassage(depthM: number, radiusM: number, bearingDeg = 90): Passage {
  const [x, y] = [300 * Math.cos((bearingDeg * Math.PI) / 180), 300 * Math.sin((bearingDeg * Math.PI) / 180)];
  return {
    axis: [
      [-x, -y, -depthM],
      [x, y, -depthM],
    ],
    radiusM,
    fillOhmM: Infinity,
  };
}

describe('a small sphere', () => {
  it('gives the dipole term of the first-order series', () => {
    // Closed form of the n = 1 term, computed for this project: (a, offset) = (4, 2) and (4, 0), z = 2, R = 1, air.
    expect(1 + sphereResponse(airSphere(2), HOST_OHM_M, polePole(4, 2))).toBeCloseTo(1.022361, 6);
    expect(1 + sphereResponse(airSphere(2), HOST_OHM_M, polePole(4, 0))).toBeCloseTo(1, 12);
  });

  /*
   * a, offset, depth, exact ρa/ρ₁ of an air-filled sphere of radius 1 m: multipole collocation with the mirror sphere,
   * computed for this project, converged to 1e-6.
   */
  it.each([
    [2, 0, 2, 1.047858, 0.006],
    [4, 0, 2, 0.995011, 0.006],
    [8, 0, 2, 0.987983, 0.006],
    [20, 0, 2, 0.998298, 0.006],
    [4, 2, 2, 1.020866, 0.006],
    [4, 4, 2, 1.011991, 0.006],
    [4, 0, 1.5, 0.96354, 0.008],
    [4, 0, 3, 1.008399, 0.006],
  ] as const)('at a %d m, offset %d m, depth %d m is near the exact %d', (a, offset, depth, exact, tolerance) => {
    const error = 1 + sphereResponse(airSphere(depth), HOST_OHM_M, polePole(a, offset)) - exact;
    expect(Math.abs(error)).toBeLessThan(tolerance);
  });

  it('is silent on the half-sphere over the probe pair and opposite in sign within it', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.15, max: Math.PI - 0.15, noNaN: true }),
        fc.double({ min: 0.2, max: Math.PI / 2, noNaN: true }),
        (along, tilt) => {
          const at = (r: number): Place => [
            r * Math.cos(along),
            r * Math.sin(along) * Math.cos(tilt),
            -r * Math.sin(along) * Math.sin(tilt),
          ];
          const response = (r: number) =>
            sphereResponse({ centre: at(r), radiusM: 0.01, fillOhmM: Infinity }, HOST_OHM_M, polePole(10, 0));
          expect(Math.abs(response(5))).toBeLessThan(1e-12);
          expect(response(4.5)).toBeLessThan(0);
          expect(response(5.5)).toBeGreaterThan(0);
        },
      ),
    );
  });

  it('does not care which pair drives the current (reciprocity)', () => {
    const [p, q, r, s]: [Place, Place, Place, Place] = [
      [-3, 0, 0],
      [7, 2, 0],
      [0.5, -1, 0],
      [4, 4, 0],
    ];
    const sphere = { centre: [1, 1, -2.5] as const, radiusM: 1, fillOhmM: 40 };
    const there = sphereResponse(sphere, HOST_OHM_M, { a: p, b: q, m: r, n: s });
    const back = sphereResponse(sphere, HOST_OHM_M, { a: r, b: s, m: p, n: q });
    expect(there).toBeCloseTo(back, 12);
    expect(there).not.toBe(0);
  });

  it('vanishes without a contrast', () => {
    expect(sphereResponse({ ...airSphere(2), fillOhmM: HOST_OHM_M }, HOST_OHM_M, polePole(4, 2))).toBe(0);
  });
});

describe('a passage', () => {
  /*
   * a, offset, exact ρa/ρ₁ of a long air-filled cylinder of radius 1 m, axis 2 m down, square to the line: Fourier along
   * strike, modified Bessel multipoles and mirror cylinder; computed for this project by two methods. The tolerances
   * are the errors that the docstring states.
   */
  it.each([
    [2, 0, 1.175731, 0.0145],
    [4, 0, 1.023272, 0.0115],
    [8, 0, 0.952162, 0.0025],
    [20, 0, 0.982252, 0.001],
    [4, 2.5, 1.10711, 0.0075],
    [8, 5, 1.061578, 0.004],
  ] as const)('at a %d m, offset %d m is near the exact %d', (a, offset, exact, tolerance) => {
    const error = 1 + passageResponse(airPassage(2, 1), HOST_OHM_M, polePole(a, offset)) - exact;
    expect(Math.abs(error)).toBeLessThan(tolerance);
  });

  /* Depth, a, offset of the midpoint, exact change rounded to 0.1 %: the same computation. */
  it.each([
    [1.5, 2, 1.25, 0.277, 0.052],
    [1.5, 4, 2.5, 0.163, 0.022],
    [1.5, 4, 0, -0.062, 0.03],
    [3, 2, 0, 0.079, 0.0075],
    [3, 4, 2, 0.061, 0.0025],
    [3, 4, 0, 0.055, 0.001],
    [4, 2, 0, 0.037, 0.002],
  ] as const)(
    'with its axis %d m down, a %d m, offset %d m, is near the exact %d',
    (depth, a, offset, exact, tolerance) => {
      const error = passageResponse(airPassage(depth, 1), HOST_OHM_M, polePole(a, offset)) - exact;
      expect(Math.abs(error)).toBeLessThan(tolerance);
    },
  );

  it('changes an even field across it by 2 (R/z)² (closed form of a cylinder in an even field and its mirror)', () => {
    const far = { a: [-1e5, 0, 0], b: [1e5, 0, 0], m: [-0.001, 0, 0], n: [0.001, 0, 0] } as const;
    const passage = {
      ...airPassage(5, 1),
      axis: [
        [0, -5000, -5],
        [0, 5000, -5],
      ] as const,
    };
    expect(passageResponse(passage, HOST_OHM_M, far)).toBeCloseTo(2 / 25, 4);
  });

  it('does not depend on how its axis is cut into pieces, nor on the frame', () => {
    const whole = airPassage(2, 1);
    const axis = Array.from({ length: 601 }, (_, i): Place => [0, i - 300, -2]);
    const electrodes = polePole(4, 2.5);
    const response = passageResponse(whole, HOST_OHM_M, electrodes);
    expect(passageResponse({ ...whole, axis }, HOST_OHM_M, electrodes)).toBeCloseTo(response, 5);

    const turn = ([x, y, z]: Place): Place => [0.6 * x - 0.8 * y + 40, 0.8 * x + 0.6 * y - 7, z + 231];
    const turned = { ...whole, axis: whole.axis.map(turn) };
    const there = { ...electrodes, a: turn(electrodes.a), m: turn(electrodes.m) };
    expect(passageResponse(turned, HOST_OHM_M, there)).toBeCloseTo(response, 9);
  });

  it('is the same as a row of small bodies when the contrast is weak', () => {
    const weak = HOST_OHM_M * 1.001;
    const passage: Passage = {
      axis: [
        [0, -3, -4],
        [0, 3, -4],
      ],
      radiusM: 0.1,
      fillOhmM: weak,
    };
    const slices = 600;
    const volumeM3 = (Math.PI * 0.1 ** 2 * 6) / slices;
    const radiusM = Math.cbrt((3 * volumeM3) / (4 * Math.PI));
    let sum = 0;
    for (let i = 0; i < slices; i += 1) {
      const centre = [0, -3 + (6 * (i + 0.5)) / slices, -4] as const;
      sum += sphereResponse({ centre, radiusM, fillOhmM: weak }, HOST_OHM_M, polePole(6, 1));
    }
    expect(passageResponse(passage, HOST_OHM_M, polePole(6, 1)) / sum).toBeCloseTo(1, 3);
  });

  it('answers more strongly along the line than across it', () => {
    const along = passageResponse(airPassage(2, 1, 0), HOST_OHM_M, polePole(2, 0));
    expect(along).toBeGreaterThan(passageResponse(airPassage(2, 1, 90), HOST_OHM_M, polePole(2, 0)));
  });
});

describe('the factor of electrodes given by place', () => {
  it('is the published one of four scattered electrodes', () => {
    // K = 2π/(1/AM − 1/AN − 1/BM + 1/BN) (Singha et al. 2022, eq. 6a), value computed for this project.
    const k = factorOfPlacesM({ a: [0, 0, 0], b: [30, 5, 0], m: [4, 3, 0], n: [12, -5, 0] });
    expect(k).toBeCloseTo(47.138161, 5);
  });
});
