import type { Hookup } from '../survey/hookup';
import type { Outcome } from '../survey/outcome';
import type { LeastSquaresFit, LeastSquaresProblem } from './damped-least-squares';
import type { ElectrodeDistances } from './geometric-factor';
import { akaike, SUBSTANTIAL_SUPPORT } from './information-criterion';
import { type Equivalence, equivalencesOf } from './layered-equivalence';
import { fitLayers, type LayeredBounds, type LayeredDatum, layeredProblem, spanOf } from './layered-fit';
import { parametersOf } from './layered-kernel';
import { type LogRange, rangesOf } from './layered-ranges';
import { NORMAL_95, student95 } from './student-t';

/** A reading of a ladder. */
export interface SoundingReading {
  readonly hookup: Hookup;
  /** Distances of the electrodes in metres; Infinity for remotes taken as infinitely far. */
  readonly distances: ElectrodeDistances;
  /** Apparent resistivity in Ω·m, above 0. */
  readonly apparentOhmM: number;
  /** Standard error as a share of the value, 0.03 for 3 %; null = not known, to be estimated from the scatter of all. */
  readonly relativeSigma: number | null;
}

export interface SoundingRequest {
  /** All readings of one ladder, or of several over the same ground. */
  readonly readings: readonly SoundingReading[];
  /** 1…4; 4 when not said. The fewest and the most layers to be tried. */
  readonly fewestLayers?: number;
  readonly mostLayers?: number;
  /** Limits of the search; see `usualBounds`. */
  readonly bounds?: LayeredBounds;
  /** Same seed, same starts. */
  readonly seed?: number;
}

/** A value with its 95 % range. */
export interface Ranged {
  readonly value: number;
  readonly low95: number;
  readonly high95: number;
  /** `profile` where the range by profile likelihood differs from the one by covariance, and is given instead. */
  readonly basis: 'covariance' | 'profile';
  /** True where the readings set no limit: the end is that of the search. */
  readonly openLow: boolean;
  readonly openHigh: boolean;
}

export interface LayeredModel {
  readonly layers: number;
  /** From the top, Ω·m. */
  readonly resistivities: readonly Ranged[];
  /** From the top, m; one fewer. */
  readonly thicknesses: readonly Ranged[];
  readonly equivalences: readonly Equivalence[];
  /** ρa of the model for each reading, Ω·m. */
  readonly apparentOhmM: readonly number[];
  /**
   * Root mean square of ln(model/reading), each over its σ where that was given: then about 1 is a fit, and well above
   * it flat layers do not explain the ladder.
   */
  readonly misfit: number;
  /** Akaike's, with the small-sample correction where σ is estimated; only differences count. */
  readonly criterion: number;
}

export interface Sounding {
  /** The simplest model whose criterion is within 2 of the lowest. */
  readonly model: LayeredModel;
  /** Every number of layers that was tried and came to rest. */
  readonly tried: readonly { readonly layers: number; readonly criterion: number; readonly misfit: number }[];
  /** False: σ was estimated from the scatter about the model. */
  readonly sigmaKnown: boolean;
}

/** Fewer say nothing about layers: two make one step (choice; three make a ladder). */
const FEWEST_SPACINGS = 3;
const MOST_LAYERS = 4;

/**
 * Limits of the search unless others are given (choice): resistivities to a factor 100 beyond the readings, layers from a
 * tenth of the shortest current-to-potential distance to twice the longest.
 */
export function usualBounds(readings: readonly SoundingReading[]): LayeredBounds {
  const values = readings.map(({ apparentOhmM }) => apparentOhmM);
  const spans = readings.map(({ distances }) => spanOf(distances));
  return {
    lowestOhmM: Math.min(...values) / 100,
    highestOhmM: Math.max(...values) * 100,
    thinnestM: Math.min(...spans) / 10,
    thickestM: Math.max(...spans) * 2,
  };
}

/**
 * The layers under a ladder, or under several ladders over the same ground: flat layers that best explain ln ρa in the
 * sense of least squares, by damped steps in ln ρ and ln h from several starts (Inman 1975, Geophysics 40:798, for
 * layered ground), 95 % ranges by covariance or profile likelihood, number of layers by Akaike's criterion.
 * With σ given the ranges take it at its word; with any σ unknown one common σ is estimated and widens them. That takes
 * readings: two layers need six without σ, and three with it.
 * Refusals: `no_resistivity_from_two_probes`, `too_few_spacings`, `reading_not_positive`, `did_not_converge`.
 */
export function soundLayers(request: SoundingRequest): Outcome<Sounding> {
  const { readings } = request;
  if (readings.some(({ hookup }) => hookup === 'two_probe' || hookup === 'unknown')) {
    return refusal(
      'no_resistivity_from_two_probes',
      'There is no resistivity from two probes: what they read is mostly the contact of the two rods. ' +
        'Layers need a pole-pole or four-electrode ladder.',
    );
  }
  const fewest = request.fewestLayers ?? 1;
  const spacings = countSpacings(readings);
  const sigmaKnown = readings.every(({ relativeSigma }) => relativeSigma !== null && relativeSigma > 0);
  const needed = Math.max(FEWEST_SPACINGS, spacingsFor(fewest, sigmaKnown));
  if (spacings < needed) {
    return refusal(
      'too_few_spacings',
      `Layers need ${needed} different spacings or more; this ladder has ${spacings}. Read more spacings here.`,
    );
  }
  if (!readings.every(({ apparentOhmM }) => apparentOhmM > 0 && Number.isFinite(apparentOhmM))) {
    return refusal(
      'reading_not_positive',
      'A reading that is not above 0 cannot be explained by flat layers: leave it out or read it again.',
    );
  }
  const data = readings.map(({ distances, apparentOhmM, relativeSigma }) => ({
    distances,
    apparentOhmM,
    relativeSigma: sigmaKnown ? (relativeSigma as number) : 1,
  }));
  const bounds = request.bounds ?? usualBounds(readings);
  const candidates = fitEach(data, bounds, request, spacings, sigmaKnown);
  const lowest = Math.min(...candidates.map(({ criterion }) => criterion));
  const chosen = candidates.find(({ criterion }) => criterion <= lowest + SUBSTANTIAL_SUPPORT) ?? candidates[0];
  if (!chosen) {
    return refusal(
      'did_not_converge',
      'No layered ground was found that explains this ladder: the search did not come to rest.',
    );
  }
  return {
    ok: true,
    value: {
      model: describe(chosen, data, sigmaKnown),
      tried: candidates.map(({ layers, criterion, fit }) => ({ layers, criterion, misfit: misfitOf(fit) })),
      sigmaKnown,
    },
  };
}

interface Candidate {
  readonly layers: number;
  readonly problem: LeastSquaresProblem;
  readonly fit: LeastSquaresFit;
  readonly criterion: number;
}

/** As many spacings as parameters; one more to estimate σ from what is left. */
const spacingsFor = (layers: number, sigmaKnown: boolean): number => parametersOf(layers) + (sigmaKnown ? 0 : 1);

/** Parameters that one layer more brings. */
const WIDTH_OF_A_LAYER = 2;

function fitEach(
  data: readonly LayeredDatum[],
  bounds: LayeredBounds,
  request: SoundingRequest,
  spacings: number,
  sigmaKnown: boolean,
): Candidate[] {
  const found: Candidate[] = [];
  const most = Math.min(request.mostLayers ?? MOST_LAYERS, MOST_LAYERS);
  for (let layers = request.fewestLayers ?? 1; layers <= most; layers += 1) {
    if (spacingsFor(layers, sigmaKnown) > spacings) break;
    const problem = layeredProblem(data, layers, bounds);
    const simpler = found[found.length - 1];
    const fit = fitLayers(problem, data, layers, request.seed ?? 1, simpler ? splits(simpler) : []);
    if (!fit) continue;
    const criterion = akaike({
      sumOfSquares: fit.sumOfSquares,
      observations: data.length,
      parameters: parametersOf(layers),
      sigmaKnown,
    });
    found.push({ layers, problem, fit, criterion });
    // A perfect fit of one layer more would still not be better by enough.
    if (sigmaKnown && fit.sumOfSquares <= 2 * WIDTH_OF_A_LAYER + SUBSTANTIAL_SUPPORT) break;
  }
  return found;
}

/** Starts with one layer more: each layer of a simpler fit cut in two, so that the fit can only get better. */
function splits({ layers, fit, problem }: Candidate): Float64Array[] {
  const { parameters } = fit;
  return Array.from({ length: layers }, (_, cut) => {
    const rho = Array.from(parameters.slice(0, layers));
    const thickness = Array.from(parameters.slice(layers));
    rho.splice(cut, 0, parameters[cut] as number);
    const own = thickness[cut];
    // The base is cut at the depth of all that lies over it, a lone layer in the middle of the search.
    const above = thickness.reduce((sum, log) => sum + Math.exp(log), 0);
    const middle = above > 0 ? Math.log(above) : ((problem.lower[layers] ?? 0) + (problem.upper[layers] ?? 0)) / 2;
    if (own === undefined) thickness.push(middle);
    else thickness.splice(cut, 1, own - Math.LN2, own - Math.LN2);
    return Float64Array.from([...rho, ...thickness]);
  });
}

const MOST_BETTER = 3;

function describe(candidate: Candidate, data: readonly LayeredDatum[], sigmaKnown: boolean): LayeredModel {
  const { layers, problem } = candidate;
  let { fit } = candidate;
  const degrees = data.length - parametersOf(layers);
  const halfWidth = sigmaKnown ? NORMAL_95 : student95(degrees);
  const sigmaOf = (of: LeastSquaresFit) => (sigmaKnown ? 1 : Math.sqrt(of.sumOfSquares / degrees));
  let found = rangesOf(problem, fit, halfWidth, sigmaOf(fit));
  for (let i = 0; i < MOST_BETTER && found.better; i += 1) {
    fit = found.better;
    found = rangesOf(problem, fit, halfWidth, sigmaOf(fit));
  }
  const ranged = fit.parameters.length === found.ranges.length ? found.ranges : [];
  const values = Array.from(fit.parameters, (value, i) => rangedOf(value, ranged[i]));
  return {
    layers,
    resistivities: values.slice(0, layers),
    thicknesses: values.slice(layers),
    equivalences: equivalencesOf(problem, fit, found, halfWidth, sigmaOf(fit)),
    apparentOhmM: data.map(
      ({ apparentOhmM, relativeSigma }, k) => apparentOhmM * Math.exp((fit.residuals[k] as number) * relativeSigma),
    ),
    misfit: misfitOf(fit),
    criterion: akaike({
      sumOfSquares: fit.sumOfSquares,
      observations: data.length,
      parameters: parametersOf(layers),
      sigmaKnown,
    }),
  };
}

const rangedOf = (value: number, range: LogRange | undefined): Ranged => ({
  value: Math.exp(value),
  low95: range ? Math.exp(range.low) : 0,
  high95: range ? Math.exp(range.high) : Infinity,
  basis: range?.basis ?? 'profile',
  openLow: range?.openLow ?? true,
  openHigh: range?.openHigh ?? true,
});

const misfitOf = ({ sumOfSquares, residuals }: LeastSquaresFit): number => Math.sqrt(sumOfSquares / residuals.length);

function countSpacings(readings: readonly SoundingReading[]): number {
  const seen = new Set(
    readings.map(({ distances: { am, an, bm, bn } }) => [am, an, bm, bn].map((r) => r.toPrecision(6)).join(' ')),
  );
  return seen.size;
}

const refusal = (code: string, sentence: string) => ({ ok: false, code, sentence }) as const;
