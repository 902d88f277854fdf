import { geometricFactorM } from './geometric-factor';
import { layeredReadings } from './layered-earth';
import type { LayeredGround } from './layered-kernel';
import { type Layout, nominalDistances } from './layout';
import { FITTING_RULE } from './ray-rule';

/*
 * What a change of soil thickness under one place of a line does to each of its readings: the first-order answer of two
 * layers. Where the soil is thicker by δh, ground of ρ₂ becomes soil of ρ₁, and the potential at M of a unit current at A
 * changes by −∫ δh [(1/ρ₁ − 1/ρ₂) E_A·E_M + (ρ₂ − ρ₁) J_A J_M] over the rock surface, E the electric field along it and J
 * the current density through it, both continuous there (reciprocity and first-order perturbation; Geselowitz 1971,
 * IEEE Trans. Biomed. Eng. 18:38, with the boundary values of a thin slab). Both fields are sums of images.
 */

/** Soil over rock. */
export interface SoilOverRock {
  readonly soilOhmM: number;
  readonly rockOhmM: number;
  readonly thicknessM: number;
}

/** Places along a line, evenly apart. */
export interface EvenPlaces {
  readonly fromM: number;
  readonly stepM: number;
  readonly count: number;
}

/** Images are added until what is left is less than this share. */
const LEFT_OVER = 1e-6;
const MOST_IMAGES = 4000;
/** Nodes of the radial tables, even in asinh(r/h). */
const RADIAL_NODES = 400;
/** Nodes across the line, to either side, even in asinh. */
const ACROSS_NODES = 24;
/** The kernel is integrated so far across, in longest distances of a reading and thicknesses. */
const ACROSS_REACH = 3;

/** The first two layers of a ground as soil over rock; null where there is only one. */
export function soilOverRock({ resistivitiesOhmM: [soilOhmM, rockOhmM], thicknessesM: [thicknessM] }: LayeredGround) {
  return soilOhmM === undefined || rockOhmM === undefined || thicknessM === undefined
    ? null
    : { soilOhmM, rockOhmM, thicknessM };
}

/**
 * Change of ln ρa of each reading for a change of 1 in ln thickness over one step of the line, the soil alike across it:
 * readings × places. Its sum along the whole line is the change for soil that is thicker everywhere. Electrodes on the line.
 */
export function soilKernel(
  { soilOhmM, rockOhmM, thicknessM }: SoilOverRock,
  layouts: readonly Layout[],
  { fromM, stepM, count }: EvenPlaces,
): Float64Array {
  const reachM = farthestOf(layouts, fromM, stepM, count);
  const fields = radialFields({ soilOhmM, rockOhmM, thicknessM }, reachM);
  const across = acrossRule(thicknessM, reachM);
  const tangential = 1 / soilOhmM - 1 / rockOhmM;
  const normal = rockOhmM - soilOhmM;
  const pair = (from: number, to: number, x: number): number => {
    let sum = 0;
    const [u, v] = [x - from, x - to];
    for (let k = 0; k < across.y.length; k += 1) {
      const y2 = (across.y[k] as number) ** 2;
      const [p, q] = [Math.sqrt(u * u + y2), Math.sqrt(v * v + y2)];
      const along = fields.eOverR(p) * fields.eOverR(q) * (u * v + y2);
      sum -= (across.weight[k] as number) * (tangential * along + normal * fields.j(p) * fields.j(q));
    }
    return sum;
  };
  const distances = layouts.map(nominalDistances);
  const apparent = new Float64Array(layouts.length);
  layeredReadings(distances, FITTING_RULE).respond(
    { resistivitiesOhmM: [soilOhmM, rockOhmM], thicknessesM: [thicknessM] },
    apparent,
  );
  const kernel = new Float64Array(layouts.length * count);
  for (const [i, { a, b, m, n }] of layouts.entries()) {
    const pairs = (
      [
        [a, m, 1],
        [a, n, -1],
        [b, m, -1],
        [b, n, 1],
      ] as const
    ).flatMap(([from, to, sign]) => (from === null || to === null ? [] : [[from, to, sign] as const]));
    const factor =
      (geometricFactorM(distances[i] as (typeof distances)[number]) * thicknessM * stepM) / (apparent[i] as number);
    for (let k = 0; k < count; k += 1) {
      const x = fromM + k * stepM;
      let value = 0;
      for (const [from, to, sign] of pairs) value += sign * pair(from, to, x);
      kernel[i * count + k] = factor * value;
    }
  }
  return kernel;
}

function farthestOf(layouts: readonly Layout[], fromM: number, stepM: number, count: number): number {
  const ends = [fromM, fromM + stepM * count];
  const chainages = layouts.flatMap(({ a, b, m, n }) => [a, b, m, n]).filter((chainage) => chainage !== null);
  const [low, high] = [Math.min(...ends, ...chainages), Math.max(...ends, ...chainages)];
  return high - low;
}

interface Radial {
  /** Radial field along the rock surface over the distance, for a unit current. */
  eOverR(rM: number): number;
  /** Current density through the rock surface, downwards. */
  j(rM: number): number;
}

function radialFields({ soilOhmM, rockOhmM, thicknessM: h }: SoilOverRock, reachM: number): Radial {
  const k = (rockOhmM - soilOhmM) / (rockOhmM + soilOhmM);
  const end = Math.asinh((reachM * (1 + ACROSS_REACH)) / h);
  const step = end / (RADIAL_NODES - 1);
  const eTable = new Float64Array(RADIAL_NODES);
  const jTable = new Float64Array(RADIAL_NODES);
  for (let i = 0; i < RADIAL_NODES; i += 1) {
    const r = h * Math.sinh(i * step);
    let [e, j, power] = [0, 0, 1];
    for (let n = 0; n < MOST_IMAGES; n += 1) {
      const depth = (2 * n + 1) * h;
      const cube = (r * r + depth * depth) ** -1.5;
      e += power * cube;
      j += power * depth * cube;
      power *= k;
      if (Math.abs(power) * cube < LEFT_OVER * Math.abs(e) * (1 - Math.abs(k))) break;
    }
    eTable[i] = (e * soilOhmM * (1 + k)) / (2 * Math.PI);
    jTable[i] = (j * (1 - k)) / (2 * Math.PI);
  }
  const read = (table: Float64Array, r: number): number => {
    const at = Math.min(RADIAL_NODES - 1.000001, Math.asinh(r / h) / step);
    const i = Math.floor(at);
    return (table[i] as number) + (at - i) * ((table[i + 1] as number) - (table[i] as number));
  };
  return { eOverR: (r) => read(eTable, r), j: (r) => read(jTable, r) };
}

/** Distances across the line and their weights, both sides counted: the trapezoidal rule in asinh(y/h). */
function acrossRule(h: number, reachM: number) {
  const end = Math.asinh((reachM * ACROSS_REACH) / h);
  const step = end / (ACROSS_NODES - 1);
  const y = Float64Array.from({ length: ACROSS_NODES }, (_, i) => h * Math.sinh(i * step));
  const weight = y.map((_, i) => 2 * h * Math.cosh(i * step) * step * (i === 0 || i === ACROSS_NODES - 1 ? 0.5 : 1));
  return { y, weight };
}
