import { layeredReadings } from './layered-earth';
import { type LayeredGround, parametersOf } from './layered-kernel';
import { type Layout, nominalDistances } from './layout';
import { FITTING_RULE } from './ray-rule';
import { invertSymmetric } from './small-cholesky';

/**
 * How uneven soil over rock is taken to be where nothing else is known: standard deviation of ln(thickness), and the
 * length along the line over which thicknesses forget each other (choice: karst soils are uneven within metres; no source).
 */
export const USUAL_UNEVENNESS = { lnThickness: 0.15, lengthM: 5 } as const;

/** What is off in a ladder that is compared with a reference, before any cause is looked for. */
export interface LadderErrors {
  /** χ² of what is left of ln(ratio), a level shift of the whole ladder taken out of it as well as it goes. */
  chiSquare(rest: ArrayLike<number>): number;
  /** The level shift that this takes out, in ln. */
  shift(rest: ArrayLike<number>): number;
  /** Standard error of each ln(ratio) by itself, uneven soil included. */
  readonly sigmaLn: Float64Array;
}

/** Change of ln ρa over that of ln thickness of the uppermost layer, reading by reading; 0 without layers. */
export function soilEffect(ground: LayeredGround, layouts: readonly Layout[]): Float64Array {
  const layers = ground.resistivitiesOhmM.length;
  if (layers === 1) return new Float64Array(layouts.length);
  const width = parametersOf(layers);
  const apparent = new Float64Array(layouts.length);
  const gradient = new Float64Array(layouts.length * width);
  layeredReadings(layouts.map(nominalDistances), FITTING_RULE).respondWithGradient(ground, apparent, gradient);
  return apparent.map((value, k) => (gradient[k * width + layers] as number) / value);
}

/** The same ground with its uppermost layer thicker by a factor; ground without layers stays. */
export function thickened(ground: LayeredGround, factor: number): LayeredGround {
  const [first, ...others] = ground.thicknessesM;
  return first === undefined ? ground : { ...ground, thicknessesM: [first * factor, ...others] };
}

const PLACES = 9;

/** Places from end to end of the electrodes on the line, whose mean thickness a reading is taken to see. */
function placesUnder({ a, b, m, n }: Layout): readonly number[] {
  const chainages = [a, b, m, n].filter((chainage) => chainage !== null);
  const [fromM, toM] = [Math.min(...chainages), Math.max(...chainages)];
  return Array.from({ length: PLACES }, (_, i) => fromM + ((toM - fromM) * (i + 0.5)) / PLACES);
}

/**
 * Errors of ln(ratio) of a ladder: `sigmaLn` of each reading by itself, uneven soil that is shared by spacings as far as
 * they see the same ground (generalised least squares; thickness along the line with an exponential covariance, its mean
 * between the outer electrodes taken), and a level shift that is left free.
 */
export function ladderErrors(
  ground: LayeredGround,
  layouts: readonly Layout[],
  sigmaLn: ArrayLike<number>,
  uneven: { readonly lnThickness: number; readonly lengthM: number } = USUAL_UNEVENNESS,
): LadderErrors {
  const n = layouts.length;
  const effect = soilEffect(ground, layouts);
  const places = layouts.map(placesUnder);
  const covariance = new Float64Array(n * n);
  for (let i = 0; i < n; i += 1) {
    for (let j = 0; j < n; j += 1) {
      let alike = 0;
      for (const p of places[i] ?? [])
        for (const q of places[j] ?? []) alike += Math.exp(-Math.abs(p - q) / uneven.lengthM);
      const soil = uneven.lnThickness ** 2 * (effect[i] as number) * (effect[j] as number) * (alike / PLACES ** 2);
      covariance[i * n + j] = soil + (i === j ? (sigmaLn[i] as number) ** 2 : 0);
    }
  }
  const inverse = invertSymmetric(covariance, n);
  if (!inverse) throw new Error('errors above 0 have an inverse');
  const towards = new Float64Array(n);
  let whole = 0;
  for (let i = 0; i < n; i += 1) {
    for (let j = 0; j < n; j += 1) towards[i] = (towards[i] as number) + (inverse[i * n + j] as number);
    whole += towards[i] as number;
  }
  const weights = inverse.map((value, at) => {
    const [i, j] = [Math.floor(at / n), at % n];
    return value - ((towards[i] as number) * (towards[j] as number)) / whole;
  });
  return {
    sigmaLn: Float64Array.from({ length: n }, (_, i) => Math.sqrt(covariance[i * n + i] as number)),
    chiSquare(rest) {
      let sum = 0;
      for (let i = 0; i < n; i += 1) {
        let row = 0;
        for (let j = 0; j < n; j += 1) row += (weights[i * n + j] as number) * (rest[j] as number);
        sum += row * (rest[i] as number);
      }
      return Math.max(0, sum);
    },
    shift(rest) {
      let sum = 0;
      for (let i = 0; i < n; i += 1) sum += (towards[i] as number) * (rest[i] as number);
      return sum / whole;
    },
  };
}
