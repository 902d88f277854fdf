import { describe, expect, it } from 'vitest';
import { apparentOver, layersThrough } from '../helpers/section-mesh';
import { ENDLESS_PASSAGE } from './over-a-void';

const range = (from: number, to: number, step = 1): number[] =>
  Array.from({ length: Math.round((to - from) / step) + 1 }, (_, i) => from + i * step);
const share = (value: number | undefined, exact: number): number => Math.abs((value as number) / exact - 1);

/** Pole-pole and Wenner of each spacing about the middle. */
const bothOf = (spacings: readonly number[]) =>
  spacings.flatMap((a) => [[-a / 2, null, a / 2, null] as const, [-1.5 * a, 1.5 * a, -a / 2, a / 2] as const]);
const electrodesOf = (readings: readonly (readonly (number | null)[])[]): number[] =>
  [...new Set(readings.flat().filter((at) => at !== null))].sort((p, q) => p - q);

describe('a section of even ground', () => {
  const readings = [...bothOf([1, 2, 5, 10]), [0.5, 1, 2.5, 5] as const];
  const made = { readings, electrodesM: electrodesOf(readings), spacingM: 0.5, layersM: layersThrough(0.2, 8) };

  it('reads its resistivity exactly, level or tilted', () => {
    for (const tilt of [0, 0.2, -0.5]) {
      const ground = (chainageM: number) => [chainageM * Math.cos(tilt), 7 + chainageM * Math.sin(tilt)] as const;
      const { apparent } = apparentOver({ ...made, ground, ohmM: () => 420 });
      for (const value of apparent) expect(share(value, 420)).toBeLessThan(1e-9);
    }
  });
});

describe('a section of two layers', () => {
  /*
   * ρa/ρ₁ by k and a/h, pole-pole and Wenner: image sums, computed for this project and equal to the Hankel integral to
   * ten digits (method: Van Nostrand & Cook 1966, USGS Professional Paper 499).
   */
  const spacings = [0.5, 1, 2, 5, 10];
  const readings = bothOf(spacings);
  it.each([
    [0.5, [1.338534, 1.041171, 1.635897, 1.210343, 2.061451, 1.639508, 2.594684, 2.351618, 2.837751, 2.72752]],
    [-0.5, [0.804309, 0.964558, 0.64406, 0.829017, 0.459102, 0.558163, 0.348585, 0.360706, 0.336464, 0.338844]],
    [0.9, [2.135539, 1.081562, 3.189517, 1.432248, 4.946786, 2.462725, 8.363259, 5.224935, 11.501583, 8.44946]],
    [-0.9, [0.691254, 0.93901, 0.443498, 0.710827, 0.176169, 0.288053, 0.057104, 0.061013, 0.053195, 0.053625]],
  ])('with k = %d reads within 1 %% of the images', (k, exact) => {
    const layersM = layersThrough(0.125, 8, [1]);
    const below = (1 + k) / (1 - k);
    const ohmM = (_: number, depthM: number) => (depthM < 1 ? 1 : below);
    const { apparent } = apparentOver({ readings, electrodesM: electrodesOf(readings), spacingM: 0.5, layersM, ohmM });
    for (const [i, value] of exact.entries()) expect(share(apparent[i], value)).toBeLessThan(0.01);
  });
});

describe('a section of three layers', () => {
  const readings = bothOf([2, 4, 8, 20]);
  /* Pole-pole and Wenner at 2, 4, 8, 20 m: Hankel integral and power series of images, computed for this project. */
  it.each([
    [
      [100, 1000, 100],
      [1, 3],
      [253.321097, 216.494922, 290.147272, 320.904297, 259.390246, 347.057496, 146.215623, 185.481094],
    ],
    [
      [100, 10, 100],
      [1, 3],
      [33.186837, 35.07669, 31.296983, 18.723269, 43.870697, 27.48227, 65.637558, 50.443037],
    ],
    [
      [50, 200, 2000],
      [2, 5],
      [148.752305, 63.951055, 233.553554, 97.152478, 369.954629, 165.400516, 656.218552, 359.041241],
    ],
  ] as const)('%j Ω·m reads within 1 %% of the Hankel integral', (ohms, thicknesses, exact) => {
    const bottoms = [thicknesses[0], thicknesses[0] + thicknesses[1]];
    const ohmM = (_: number, depthM: number) =>
      depthM < (bottoms[0] as number) ? ohms[0] : depthM < (bottoms[1] as number) ? ohms[1] : ohms[2];
    const layersM = layersThrough(0.25, 20, bottoms);
    const { apparent } = apparentOver({ readings, electrodesM: electrodesOf(readings), spacingM: 1, layersM, ohmM });
    for (const [i, value] of exact.entries()) expect(share(apparent[i], value)).toBeLessThan(0.01);
  });
});

describe('a section across an upright contact', () => {
  it('reads within 1 % of the image', () => {
    /* C, P, ρa at 100 | 900 Ω·m, contact at 0: images, computed for this project. */
    const rows = [
      [-10, -8, 108.888889],
      [-6, -4, 116],
      [-3, -1, 140],
      [-1, 1, 180],
      [-3, 5, 180],
      [1, 3, 540],
      [8, 10, 820],
    ] as const;
    const readings = rows.map(([c, p]) => [c, null, p, null] as const);
    const { apparent } = apparentOver({
      readings,
      electrodesM: range(-10, 10),
      spacingM: 1,
      layersM: layersThrough(0.25, 12),
      ohmM: (x) => (x < 0 ? 100 : 900),
    });
    for (const [i, [, , value]] of rows.entries()) expect(share(apparent[i], value)).toBeLessThan(0.01);
  });
});

describe('a section across a passage', () => {
  it('reads within 1 % of the exact cylinder', () => {
    const readings = ENDLESS_PASSAGE.map(([a, x]) => [x - a / 2, null, x + a / 2, null] as const);
    const { apparent } = apparentOver({
      readings,
      electrodesM: electrodesOf(readings),
      spacingM: 1,
      fineness: 2,
      layersM: [...range(0.25, 3.25, 0.25), ...layersThrough(0.3, 12).map((depth) => depth + 3.25)],
      ohmM: (x, depthM) => (Math.hypot(x, depthM - 2) < 1 ? 1e5 : 1),
    });
    for (const [i, [, , value]] of ENDLESS_PASSAGE.entries()) expect(share(apparent[i], value)).toBeLessThan(0.01);
  });
});

describe('a section over a ridge', () => {
  it('with a right angle reads within 1 % of the images of a quarter of space', () => {
    /*
     * Both faces mirror: with s and p the distances of the electrodes from the edge, R = ρ/2π·(1/r + 1/r′), r′ = s + p on
     * one face, r′ = r = √(s² + p²) across the edge (method of images; worked out for this test).
     */
    const half = Math.SQRT1_2;
    const electrodesM = range(-10, 10).map((at) => at + 0.5);
    const readings = [
      [0.5, 1.5],
      [0.5, 4.5],
      [2.5, 7.5],
      [-0.5, 0.5],
      [-1.5, 0.5],
      [-4.5, 6.5],
      [-7.5, -5.5],
    ].map(([a, m]) => [a as number, null, m as number, null] as const);
    // A node stands on the edge, half-way between two electrodes.
    const { apparent } = apparentOver({
      readings,
      electrodesM,
      spacingM: 1,
      layersM: layersThrough(0.25, 12),
      ground: (chainageM) => [chainageM * half, -Math.abs(chainageM) * half],
      knownM: [-1000, 1000],
      ohmM: () => 1,
    });
    for (const [i, [a, , m]] of readings.entries()) {
      const [s, p] = [Math.abs(a), Math.abs(m)];
      const r = a * m > 0 ? Math.abs(s - p) : Math.hypot(s, p);
      const mirrored = a * m > 0 ? s + p : r;
      expect(share(apparent[i], r * (1 / r + 1 / mirrored))).toBeLessThan(0.01);
    }
  });
});

describe('a section of any ground', () => {
  const electrodesM = range(0, 12);
  const forth = [
    [0, 1, 4, 5],
    [2, null, 9, null],
    [3, null, 6, 11],
  ] as const;
  const ohmM = (x: number, depthM: number) => 300 * Math.exp(Math.sin(x) * Math.cos(depthM)) * (x > 6 ? 4 : 1);
  const made = { electrodesM, spacingM: 1, layersM: layersThrough(0.25, 8) };

  it('reads the same with current and potential exchanged', () => {
    const back = forth.map(([a, b, m, n]) => [m, n, a, b] as const);
    const there = apparentOver({ ...made, readings: forth, ohmM });
    const again = apparentOver({ ...made, readings: back, ohmM });
    for (const [i, value] of there.apparent.entries()) expect(share(again.apparent[i], value)).toBeLessThan(1e-9);
  });

  it('keeps its readings when it and its electrodes grow alike, and when turned end to end', () => {
    const small = apparentOver({ ...made, readings: forth, ohmM });
    const large = apparentOver({
      electrodesM: electrodesM.map((at) => 10 * at),
      spacingM: 10,
      layersM: made.layersM.map((at) => 10 * at),
      readings: forth.map((each) => each.map((at) => at && 10 * at) as unknown as (typeof forth)[number]),
      ohmM: (x, depthM) => 3 * ohmM(x / 10, depthM / 10),
    });
    const turned = apparentOver({
      ...made,
      readings: forth.map(
        (each) => each.map((at) => (at === null ? null : 12 - at)) as unknown as (typeof forth)[number],
      ),
      ohmM: (x, depthM) => ohmM(12 - x, depthM),
    });
    for (const [i, value] of small.apparent.entries()) {
      expect(share(large.apparent[i], 3 * value)).toBeLessThan(1e-6);
      expect(share(turned.apparent[i], value)).toBeLessThan(1e-6);
    }
  });
});
