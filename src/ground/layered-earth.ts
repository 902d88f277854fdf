import { type ElectrodeDistances, geometricFactorM } from './geometric-factor';
import { type LayeredGround, LayeredKernel, parametersOf } from './layered-kernel';
import { EXACT_RULE, firstNodeFrom, nodeAt, RAY_FARTHEST, RAY_NEAREST, type RayRule, rayWeight } from './ray-rule';

/*
 * Readings over flat, layered ground. A point current of 1 A on the surface gives at distance r
 *     V(r) = 1/2π · ∫ T(λ) J₀(λr) dλ
 * (Stefanescu & Schlumberger 1930; Koefoed 1979, Geosounding Principles 1), with T of layered-kernel.ts. Of T the simple
 * T₀ is integrated in closed form, ∫ e^{−cλ} J₀(λr) dλ = 1/√(r² + c²), and the rest by ray-rule.ts. Any surface array is
 * a sum of such potentials. Against sums of images the apparent resistivities of pole-pole, Wenner, Schlumberger and
 * dipole-dipole come out right to better than 1e-8 for spacings of 0.001 to 1000 thicknesses and contrasts to 1e4:1.
 */

/** Readings whose electrodes stay while the ground is tried: see `layeredReadings`. */
export interface LayeredReadings {
  /** Fills `apparentOhmM`, one value a reading. */
  respond(ground: LayeredGround, apparentOhmM: Float64Array): void;
  /**
   * The same and, reading by reading, the derivatives of ρa by the ln of every parameter (resistivities from the top,
   * then thicknesses), in Ω·m.
   */
  respondWithGradient(ground: LayeredGround, apparentOhmM: Float64Array, gradientOhmM: Float64Array): void;
}

const pairsOf = ({ am, an, bm, bn }: ElectrodeDistances) =>
  (
    [
      [am, 1],
      [an, -1],
      [bm, -1],
      [bn, 1],
    ] as const
  ).filter(([r]) => Number.isFinite(r));

/**
 * The λ below which what is left of T weighs less than `tail` of the lowest resistivity:
 * |T − T₀| ≤ λ·(ρ_n Σ h_i (ρ_n/ρ_i + ρ_i/ρ_n) + 2h₁|ρ_n − ρ₁|).
 */
function smallestNode(ground: LayeredGround, longestM: number, tail: number): number {
  const { resistivitiesOhmM: rho, thicknessesM: h } = ground;
  const base = rho[rho.length - 1] as number;
  const top = rho[0] as number;
  let slope = 2 * (h[0] ?? 0) * Math.abs(base - top);
  let lowest = base;
  let highest = base;
  for (const [i, thickness] of h.entries()) {
    const own = rho[i] as number;
    slope += thickness * ((base * base) / own + own);
    lowest = Math.min(lowest, own);
    highest = Math.max(highest, own);
  }
  const bySlope = Math.sqrt((tail * lowest) / (slope * longestM));
  const byBound = (tail * lowest) / ((highest - lowest + Number.MIN_VALUE) * longestM);
  return Math.max(bySlope, Math.min(byBound, 1 / longestM), RAY_NEAREST / longestM);
}

/** Above it e^{−2λh₁} is nothing. */
const largestNode = (ground: LayeredGround, shortestM: number): number =>
  Math.min(RAY_FARTHEST / shortestM, 30 / (ground.thicknessesM[0] ?? 1e-300));

/**
 * Prepares readings on the surface for many tries of the ground: the weights of all nodes are computed once and T only
 * once per node for all readings. Distances in metres, above 0; Infinity for remotes.
 * An array without a response (K infinite) gives NaN.
 */
export function layeredReadings(readings: readonly ElectrodeDistances[], rule: RayRule = EXACT_RULE): LayeredReadings {
  const pairs = readings.map(pairsOf);
  const all = pairs.flatMap((list) => list.map(([r]) => r));
  const shortestM = Math.min(...all);
  const longestM = Math.max(...all);
  const first = firstNodeFrom(RAY_NEAREST / longestM, rule);
  const nodes = firstNodeFrom(RAY_FARTHEST / shortestM, rule) - first;
  const count = readings.length;
  // Node by node, all readings beside each other.
  const real = new Float64Array(nodes * count);
  const imaginary = new Float64Array(nodes * count);
  for (const [k, list] of pairs.entries()) {
    const factorM = geometricFactorM(readings[k] as ElectrodeDistances);
    for (const [r, sign] of list) {
      const share = (sign * factorM) / (2 * Math.PI * r);
      for (let j = 0; j < nodes; j += 1) {
        const weight = rayWeight(nodeAt(first + j, rule) * r, rule);
        real[j * count + k] = (real[j * count + k] as number) + share * weight.real;
        imaginary[j * count + k] = (imaginary[j * count + k] as number) + share * weight.imaginary;
      }
    }
  }

  function run(ground: LayeredGround, apparent: Float64Array, gradient: Float64Array | null): void {
    const { resistivitiesOhmM: rho, thicknessesM: h } = ground;
    const layers = rho.length;
    const width = parametersOf(layers);
    const base = rho[layers - 1] as number;
    const top = rho[0] as number;
    const thicknessM = h[0] ?? 0;
    gradient?.fill(0);
    for (let k = 0; k < count; k += 1) {
      const factor = geometricFactorM(readings[k] as ElectrodeDistances) / (2 * Math.PI);
      let image = 0;
      let imageSlope = 0;
      if (layers > 1) {
        for (const [r, sign] of pairs[k] ?? []) {
          const away = Math.hypot(r, 2 * thicknessM);
          image += (factor * sign) / away;
          imageSlope -= (factor * sign * 4 * thicknessM * thicknessM) / away ** 3;
        }
      }
      apparent[k] = top + (base - top) * image;
      if (!gradient) continue;
      gradient[k * width] = top * (1 - image);
      if (layers > 1) {
        gradient[k * width + layers - 1] = base * image;
        gradient[k * width + layers] = (base - top) * imageSlope;
      }
    }
    if (layers === 1) return;
    const kernel = new LayeredKernel(layers);
    const from = Math.max(0, firstNodeFrom(smallestNode(ground, longestM, rule.tail), rule) - first);
    const to = Math.min(nodes, firstNodeFrom(largestNode(ground, shortestM), rule) - first);
    for (let j = from; j < to; j += 1) {
      kernel.evaluate(rho, h, nodeAt(first + j, rule), gradient !== null);
      const { real: tRe, imaginary: tIm, gradientReal, gradientImaginary } = kernel;
      for (let k = 0; k < count; k += 1) {
        const wRe = real[j * count + k] as number;
        const wIm = imaginary[j * count + k] as number;
        apparent[k] = (apparent[k] as number) + wRe * tRe + wIm * tIm;
        if (!gradient) continue;
        for (let p = 0; p < width; p += 1) {
          const at = k * width + p;
          gradient[at] =
            (gradient[at] as number) + wRe * (gradientReal[p] as number) + wIm * (gradientImaginary[p] as number);
        }
      }
    }
  }

  return {
    respond: (ground, apparentOhmM) => run(ground, apparentOhmM, null),
    respondWithGradient: run,
  };
}

/** Weights at x = u for a distance of 1 m: all that single readings need. */
let single: { readonly first: number; readonly real: Float64Array; readonly imaginary: Float64Array } | null = null;

function singleRule() {
  if (single) return single;
  const first = firstNodeFrom(RAY_NEAREST, EXACT_RULE);
  const nodes = firstNodeFrom(RAY_FARTHEST, EXACT_RULE) - first;
  const real = new Float64Array(nodes);
  const imaginary = new Float64Array(nodes);
  for (let j = 0; j < nodes; j += 1) {
    const weight = rayWeight(nodeAt(first + j, EXACT_RULE), EXACT_RULE);
    real[j] = weight.real;
    imaginary[j] = weight.imaginary;
  }
  single = { first, real, imaginary };
  return single;
}

/**
 * Apparent resistivity in Ω·m of a pole-pole pair `distanceM` apart (above 0) over layered ground, both remotes
 * infinitely far: 2πr·V(r).
 */
export function layeredPolePoleOhmM(ground: LayeredGround, distanceM: number): number {
  const { resistivitiesOhmM: rho, thicknessesM: h } = ground;
  const layers = rho.length;
  const top = rho[0] as number;
  const base = rho[layers - 1] as number;
  if (layers === 1) return top;
  const { first, real, imaginary } = singleRule();
  let sum = top + ((base - top) * distanceM) / Math.hypot(distanceM, 2 * (h[0] as number));
  const kernel = new LayeredKernel(layers);
  // In units of the distance: u = x/r.
  const smallest = smallestNode(ground, distanceM, EXACT_RULE.tail) * distanceM;
  const from = Math.max(0, firstNodeFrom(smallest, EXACT_RULE) - first);
  const to = Math.min(real.length, firstNodeFrom(largestNode(ground, distanceM) * distanceM, EXACT_RULE) - first);
  for (let j = from; j < to; j += 1) {
    kernel.evaluate(rho, h, nodeAt(first + j, EXACT_RULE) / distanceM, false);
    sum += (real[j] as number) * kernel.real + (imaginary[j] as number) * kernel.imaginary;
  }
  return sum;
}

/**
 * Apparent resistivity in Ω·m of a Schlumberger reading with potential electrodes close together (MN → 0), `halfAbM` =
 * AB/2, above 0: ρ_S = ρ_pp − s·dρ_pp/ds (Koefoed 1979). Since ρ_pp depends on lengths only by h/s, −s·d/ds is the sum of
 * the derivatives by ln h.
 */
export function idealSchlumbergerOhmM(ground: LayeredGround, halfAbM: number): number {
  const layers = ground.resistivitiesOhmM.length;
  const polePole = { am: halfAbM, an: Infinity, bm: Infinity, bn: Infinity };
  const apparent = new Float64Array(1);
  const gradient = new Float64Array(parametersOf(layers));
  layeredReadings([polePole]).respondWithGradient(ground, apparent, gradient);
  let sum = apparent[0] as number;
  for (let i = layers; i < gradient.length; i += 1) sum += gradient[i] as number;
  return sum;
}

/** R in ohms of four electrodes on the surface of layered ground; remotes at Infinity count nothing. */
export function layeredResistanceOhm(ground: LayeredGround, distances: ElectrodeDistances): number {
  let sum = 0;
  for (const [r, sign] of pairsOf(distances)) sum += (sign * layeredPolePoleOhmM(ground, r)) / (2 * Math.PI * r);
  return sum;
}

/** Apparent resistivity K·R in Ω·m of any four electrodes on the surface of layered ground. */
export function layeredApparentOhmM(ground: LayeredGround, distances: ElectrodeDistances): number {
  return geometricFactorM(distances) * layeredResistanceOhm(ground, distances);
}
