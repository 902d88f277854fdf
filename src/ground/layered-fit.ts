import { dampedLeastSquares, type LeastSquaresFit, type LeastSquaresProblem } from './damped-least-squares';
import type { ElectrodeDistances } from './geometric-factor';
import { layeredReadings } from './layered-earth';
import { type LayeredGround, parametersOf } from './layered-kernel';
import { FITTING_RULE } from './ray-rule';

/** A reading to be explained by layers. */
export interface LayeredDatum {
  /** Distances of the electrodes in metres; Infinity for remotes. */
  readonly distances: ElectrodeDistances;
  /** Apparent resistivity in Ω·m, above 0. */
  readonly apparentOhmM: number;
  /** Standard error as a share of the value, 0.03 for 3 %; 1 for all where it is to be estimated from the scatter. */
  readonly relativeSigma: number;
}

export interface LayeredBounds {
  readonly lowestOhmM: number;
  readonly highestOhmM: number;
  readonly thinnestM: number;
  readonly thickestM: number;
}

/** Parameters as ln ρ_i from the top, then ln h_i. */
export function groundOf(parameters: ArrayLike<number>): LayeredGround {
  const layers = (parameters.length + 1) / 2;
  const values = Array.from(parameters, Math.exp);
  return { resistivitiesOhmM: values.slice(0, layers), thicknessesM: values.slice(layers) };
}

/** Residuals (ln model − ln reading)/σ of a ground of so many layers within bounds. */
export function layeredProblem(
  data: readonly LayeredDatum[],
  layers: number,
  bounds: LayeredBounds,
): LeastSquaresProblem {
  const width = parametersOf(layers);
  const readings = layeredReadings(
    data.map(({ distances }) => distances),
    FITTING_RULE,
  );
  const apparent = new Float64Array(data.length);
  const gradient = new Float64Array(data.length * width);
  const isThickness = (p: number) => p >= layers;
  return {
    observations: data.length,
    lower: Float64Array.from({ length: width }, (_, p) =>
      Math.log(isThickness(p) ? bounds.thinnestM : bounds.lowestOhmM),
    ),
    upper: Float64Array.from({ length: width }, (_, p) =>
      Math.log(isThickness(p) ? bounds.thickestM : bounds.highestOhmM),
    ),
    evaluate(parameters, residuals, jacobian) {
      readings.respondWithGradient(groundOf(parameters), apparent, gradient);
      for (const [k, { apparentOhmM, relativeSigma }] of data.entries()) {
        const value = apparent[k] as number;
        // A dipole array over strong contrasts can read below 0, where there is no logarithm.
        if (!(value > 0)) return false;
        residuals[k] = Math.log(value / apparentOhmM) / relativeSigma;
        for (let p = 0; p < width; p += 1) {
          jacobian[k * width + p] = (gradient[k * width + p] as number) / (value * relativeSigma);
        }
      }
      return true;
    },
  };
}

/** Number of starts by number of layers (choice: more are not seen to find better fits of noisy ladders). */
const STARTS = [0, 1, 4, 8, 12];

/** Starts only have to show where the lowest is; the best of them is then followed to its end. */
const ROUGHLY = 1e-3;

/** Lowest of the fits from several starts; null when none comes to rest. Starts are the same for the same seed. */
export function fitLayers(
  problem: LeastSquaresProblem,
  data: readonly LayeredDatum[],
  layers: number,
  seed: number,
  more: readonly Float64Array[] = [],
): LeastSquaresFit | null {
  const chance = sequence(seed + layers);
  const count = STARTS[layers] ?? 12;
  let best: LeastSquaresFit | null = null;
  for (let s = 0; s < count + more.length; s += 1) {
    const start = s < count ? startOf(data, problem, layers, s, chance) : (more[s - count] as Float64Array);
    const fit = dampedLeastSquares(problem, start, { mostIterations: 40, shareLeft: ROUGHLY });
    if (fit && (!best || fit.sumOfSquares < best.sumOfSquares)) best = fit;
  }
  if (!best) return null;
  const polished = dampedLeastSquares(problem, best.parameters, { mostIterations: 300 });
  return polished?.converged ? polished : null;
}

/**
 * A start: interfaces spread evenly in ln depth over what the spacings see, each layer as resistive as the reading whose
 * spacing is about twice its depth; from the second start on moved by chance.
 */
function startOf(
  data: readonly LayeredDatum[],
  { lower, upper }: LeastSquaresProblem,
  layers: number,
  number: number,
  chance: () => number,
): Float64Array {
  const reach = data
    .map(({ distances, apparentOhmM }) => ({ spanM: spanOf(distances), logOhmM: Math.log(apparentOhmM) }))
    .sort((p, q) => p.spanM - q.spanM);
  const shallow = Math.log((reach[0]?.spanM ?? 1) * 0.3);
  const deep = Math.log((reach[reach.length - 1]?.spanM ?? 1) * 0.4);
  const depths = Array.from({ length: layers - 1 }, (_, i) => {
    const even = (i + 1) / layers;
    const place = number === 0 ? even : (i + 0.1 + 0.8 * chance()) / (layers - 1);
    return Math.exp(shallow + place * (deep - shallow));
  });
  const parameters = new Float64Array(parametersOf(layers));
  for (let i = 0; i < layers; i += 1) {
    const above = depths[i - 1] ?? (depths[0] ?? 1) / 3;
    const below = depths[i] ?? above * 3;
    const spanM = 2 * Math.sqrt(above * below);
    let nearest = reach[0];
    for (const one of reach) {
      if (Math.abs(Math.log(one.spanM / spanM)) < Math.abs(Math.log((nearest?.spanM ?? 1) / spanM))) nearest = one;
    }
    const moved = number === 0 ? 0 : 3 * (chance() - 0.5);
    parameters[i] = (nearest?.logOhmM ?? 0) + moved;
  }
  for (const [i, depth] of depths.entries()) {
    parameters[layers + i] = Math.log(Math.max(depth - (depths[i - 1] ?? 0), depth / 5));
  }
  for (let p = 0; p < parameters.length; p += 1) {
    parameters[p] = Math.min(upper[p] as number, Math.max(lower[p] as number, parameters[p] as number));
  }
  return parameters;
}

/** A length that says how far down a reading looks: the shortest distance between current and potential. */
export const spanOf = ({ am, an, bm, bn }: ElectrodeDistances): number => Math.min(am, an, bm, bn);

/** Numbers in 0…1, the same for the same seed (mulberry32, public domain, T. Ettinger 2017). */
function sequence(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}
