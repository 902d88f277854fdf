import { geometricFactorM } from '../../src/ground/geometric-factor';
import { layeredApparentOhmM } from '../../src/ground/layered-earth';
import type { LayeredGround } from '../../src/ground/layered-kernel';
import { type Layout, nominalDistances } from '../../src/ground/layout';

/*
 * For tests: written apart from src/ground/soil-kernel.ts, which it checks and whose searches it makes surveys for.
 *
 * What an uneven rock surface does to a reading, to first order. Where the interface of two flat layers lies deeper by
 * δh(x, y), R changes by
 *     δR = ∫∫ δh [ (ρ₁ − ρ₂) Jₙ Jₙ′ + (1/ρ₂ − 1/ρ₁) E_t · E_t′ ] dx dy,
 * J and E of 1 A into the current and into the potential electrode (perturbation of an interface across which E_t and Jₙ
 * are continuous). With images, k = (ρ₂ − ρ₁)/(ρ₂ + ρ₁) and zₙ = (2n + 1)h, at the interface
 *     φ = ρ₁(1 + k)/2π · Σ kⁿ/√(r² + zₙ²),   Jₙ = (1 − k)/2π · Σ kⁿ zₙ/(r² + zₙ²)^{3/2}.
 * Tests hold its sum over x against the derivative of the layered forward.
 */

/** Weights of ln(thickness) along a line, evenly spaced. */
export interface ReliefGrid {
  readonly fromM: number;
  readonly stepM: number;
  readonly count: number;
}

/** Images beyond which kⁿ is nothing, at most (choice). */
const MOST_IMAGES = 60;
const ACROSS = 32;

/** dφ/dr over r, and Jₙ, by r² in steps even in ln. */
function fieldTable(ground: LayeredGround, nearestM: number, farthestM: number) {
  const [top, base] = ground.resistivitiesOhmM as [number, number];
  const h = ground.thicknessesM[0] as number;
  const k = (base - top) / (base + top);
  const count = 240;
  const start = Math.log(nearestM * nearestM);
  const step = (Math.log(farthestM * farthestM) - start) / (count - 1);
  const along = new Float64Array(count);
  const down = new Float64Array(count);
  for (let i = 0; i < count; i += 1) {
    const square = Math.exp(start + i * step);
    let strength = 1;
    for (let n = 0; n < MOST_IMAGES && Math.abs(strength) > 1e-7; n += 1) {
      const z = (2 * n + 1) * h;
      const inverse = (square + z * z) ** -1.5;
      along[i] = (along[i] as number) + strength * inverse;
      down[i] = (down[i] as number) + strength * z * inverse;
      strength *= k;
    }
    along[i] = ((along[i] as number) * top * (1 + k)) / (2 * Math.PI);
    down[i] = ((down[i] as number) * (1 - k)) / (2 * Math.PI);
  }
  return (square: number): readonly [number, number] => {
    const t = Math.min(count - 1.001, Math.max(0, (Math.log(square) - start) / step));
    const i = Math.floor(t);
    const f = t - i;
    return [
      (along[i] as number) * (1 - f) + (along[i + 1] as number) * f,
      (down[i] as number) * (1 - f) + (down[i + 1] as number) * f,
    ];
  };
}

/**
 * ∂ ln ρa / ∂ ln h(x), summed over the cell of each place of the grid, reading by reading (readings × places): what soil
 * that is thicker there, all across the line, does. Ground of two layers; with more the second has no bottom.
 */
export function reliefWeights(ground: LayeredGround, layouts: readonly Layout[], grid: ReliefGrid): Float64Array {
  const [top, base] = ground.resistivitiesOhmM as [number, number];
  const h = ground.thicknessesM[0] as number;
  const two: LayeredGround = { resistivitiesOhmM: [top, base], thicknessesM: [h] };
  const reachM = grid.count * grid.stepM;
  const fields = fieldTable(two, h / 30, 4 * (reachM + h * 40));
  // Places across the line, even in asinh(y/h), by the midpoint rule; both sides at once.
  const most = Math.asinh((2 * reachM) / h);
  const across = Array.from({ length: ACROSS }, (_, i) => {
    const u = ((i + 0.5) / ACROSS) * most;
    return { square: (h * Math.sinh(u)) ** 2, weight: (2 * h * Math.cosh(u) * most) / ACROSS };
  });
  const [serial, parallel] = [top - base, 1 / base - 1 / top];
  const pairs = new Map<string, Float64Array>();
  /** Parts of a cell: near an electrode the weight changes within the soil's thickness. */
  const parts = Math.max(1, Math.ceil(grid.stepM / (0.4 * h)));
  const pairWeights = (c: number, p: number): Float64Array => {
    const key = c < p ? `${c} ${p}` : `${p} ${c}`;
    const known = pairs.get(key);
    if (known) return known;
    const weights = new Float64Array(grid.count);
    for (let i = 0; i < grid.count; i += 1) {
      let sum = 0;
      for (let part = 0; part < parts; part += 1) {
        const x = grid.fromM + (i - 0.5 + (part + 0.5) / parts) * grid.stepM;
        const [dc, dp] = [x - c, x - p];
        for (const { square, weight } of across) {
          const [alongC, downC] = fields(dc * dc + square);
          const [alongP, downP] = fields(dp * dp + square);
          sum += weight * (serial * downC * downP + parallel * alongC * alongP * (dc * dp + square));
        }
      }
      weights[i] = (sum * grid.stepM) / parts;
    }
    pairs.set(key, weights);
    return weights;
  };
  const result = new Float64Array(layouts.length * grid.count);
  for (const [row, layout] of layouts.entries()) {
    const distances = nominalDistances(layout);
    const scale = (geometricFactorM(distances) * h) / layeredApparentOhmM(two, distances);
    for (const [c, p, sign] of [
      [layout.a, layout.m, 1],
      [layout.a, layout.n, -1],
      [layout.b, layout.m, -1],
      [layout.b, layout.n, 1],
    ] as const) {
      if (c === null || p === null) continue;
      const weights = pairWeights(c, p);
      for (let i = 0; i < grid.count; i += 1) {
        const at = row * grid.count + i;
        result[at] = (result[at] as number) + sign * scale * (weights[i] as number);
      }
    }
  }
  return result;
}

/** Places under all electrodes of the readings and some way beyond. */
export function reliefGridUnder(layouts: readonly Layout[], stepM: number, beyondM: number): ReliefGrid {
  const all = layouts.flatMap(({ a, b, m, n }) => [a, b, m, n].filter((place) => place !== null));
  const fromM = Math.min(...all) - beyondM;
  return { fromM, stepM, count: Math.ceil((Math.max(...all) + beyondM - fromM) / stepM) + 1 };
}
