import { type LineErrors, type LineReading, lineErrors } from './line-errors';
import { createScanner, type Scanner } from './line-scan';
import type { SoilOverRock } from './soil-kernel';
import type { VoidTable } from './void-table';
import { type Template, type TemplateGrid, type Templates, voidTemplates } from './void-templates';

/** Bounds of the voids that a search tries (choice). */
export interface SearchBounds {
  readonly shallowestM: number;
  readonly deepestM: number;
  readonly smallestRadiusM: number;
  readonly largestRadiusM: number;
}

/** A line made ready: its errors, the voids that are tried under it, and the scanner that holds one against the other. */
export interface PreparedLine {
  readonly readings: readonly LineReading[];
  readonly lnRatio: Float64Array;
  readonly soil: SoilOverRock;
  readonly errors: readonly LineErrors[];
  readonly grid: TemplateGrid;
  readonly templates: Templates;
  readonly scanner: Scanner;
  readonly bounds: SearchBounds;
}

const DEPTHS = 9;
const SHARES = [0.25, 0.38, 0.5, 0.62, 0.75] as const;
/** Places along a line at most; a longer line is searched in longer steps. */
const MOST_PLACES = 60;
export const KINDS = [0, 1, 2, 3, 4] as const;

/**
 * Bounds (choice): the middle of a void from six tenths of the smallest spacing to six tenths of the widest, which is where
 * these readings can see one; radius from three tenths of that to 4 m.
 */
export function searchBounds(spacingsM: readonly number[]): SearchBounds {
  const [smallest, widest] = [Math.min(...spacingsM), Math.max(...spacingsM)];
  const shallowestM = Math.max(0.3, 0.8 * smallest);
  const deepestM = Math.max(1.5 * shallowestM, 0.6 * widest);
  return { shallowestM, deepestM, smallestRadiusM: 0.3 * shallowestM, largestRadiusM: 4 };
}

export const evenSteps = (from: number, to: number, count: number): number[] =>
  Array.from({ length: count }, (_, i) => from + ((to - from) * i) / Math.max(1, count - 1));

export const evenRatios = (from: number, to: number, count: number): number[] =>
  evenSteps(Math.log(from), Math.log(to), count).map(Math.exp);

/** Places that are searched: from the first electrode to the last, a step of the stations apart or more. */
function searchedPlaces(readings: readonly LineReading[]): number[] {
  const middles = [...new Set(readings.map(({ layout }) => Math.round(1000 * middleOf(layout)) / 1000))].sort(
    (p, q) => p - q,
  );
  const gaps = middles.slice(1).map((middle, i) => middle - (middles[i] as number));
  const usual = [...gaps].sort((p, q) => p - q)[gaps.length >> 1] ?? 1;
  const [fromM, toM] = [middles[0] as number, middles[middles.length - 1] as number];
  const stepM = Math.max(usual, (toM - fromM) / (MOST_PLACES - 1));
  return evenSteps(fromM, toM, Math.max(1, Math.round((toM - fromM) / stepM)) + 1);
}

export function middleOf({ a, b, m, n }: LineReading['layout']): number {
  const chainages = [a, b, m, n].filter((chainage) => chainage !== null);
  return (Math.min(...chainages) + Math.max(...chainages)) / 2;
}

export function prepareLine(
  readings: readonly LineReading[],
  soil: SoilOverRock,
  table: VoidTable,
  bounds: SearchBounds,
): PreparedLine {
  const errors = lineErrors(readings, soil);
  const grid: TemplateGrid = {
    chainagesM: searchedPlaces(readings),
    depthsM: evenRatios(bounds.shallowestM, bounds.deepestM, DEPTHS),
    shares: SHARES,
    smallestRadiusM: bounds.smallestRadiusM,
    largestRadiusM: bounds.largestRadiusM,
    tried: KINDS,
  };
  const templates = voidTemplates(
    table,
    readings.map(({ layout }) => layout),
    grid,
  );
  return {
    readings,
    lnRatio: Float64Array.from(readings, ({ apparentOhmM, referenceOhmM }) => Math.log(apparentOhmM / referenceOhmM)),
    soil,
    errors,
    grid,
    templates,
    scanner: createScanner(errors, templates),
    bounds,
  };
}

/** Readings of such a line without a void: the errors that suit it best, drawn anew. */
export function drawnWithoutVoid({ factor }: LineErrors, n: number, normal: () => number): Float64Array {
  const z = Float64Array.from({ length: n }, normal);
  const y = new Float64Array(n);
  for (let i = 0; i < n; i += 1) {
    let sum = 0;
    for (let j = 0; j <= i; j += 1) sum += (factor[i * n + j] as number) * (z[j] as number);
    y[i] = sum;
  }
  return y;
}

/** Euler's constant. */
const GAMMA = 0.5772156649;

/** The distribution of the largest of many: fitted to simulated maxima by their mean and spread (Gumbel 1958). */
export class Maxima {
  private readonly scale: number;
  private readonly location: number;

  constructor(values: readonly number[]) {
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / Math.max(1, values.length - 1);
    this.scale = Math.max(1e-9, Math.sqrt(6 * variance) / Math.PI);
    this.location = mean - GAMMA * this.scale;
  }

  /** What only this share of maxima exceeds. */
  exceededBy(share: number): number {
    return this.location - this.scale * Math.log(-Math.log1p(-share));
  }

  /** The share of maxima that exceeds a value. */
  shareAbove(value: number): number {
    return -Math.expm1(-Math.exp(-(value - this.location) / this.scale));
  }
}

/** A value with what the readings leave of it (95 % of the posterior, equal tails); open where that reaches the bounds. */
export interface PosteriorRange {
  readonly best: number;
  readonly low95: number;
  readonly high95: number;
  readonly openLow: boolean;
  readonly openHigh: boolean;
}

/** Where a void may lie that is taken to be there. */
export interface Posterior {
  readonly chainageM: PosteriorRange;
  readonly depthM: PosteriorRange;
  readonly radiusM: PosteriorRange;
  /** Angle between passage and line. */
  readonly bearingDeg: PosteriorRange | null;
  /** Weight of each of `KINDS`. */
  readonly kinds: readonly number[];
  /** ln weight of each of `depthsM`, for joining lines. */
  readonly lnOfDepth: readonly number[];
  readonly depthsM: readonly number[];
  readonly likeliest: Template;
  /** ln(ratio) of the likeliest. */
  readonly lnRatio: Float64Array;
  /** Twice the gain in log likelihood of the likeliest. */
  readonly gain: number;
}

const FINE_REACH_M = 2.5;
const FINE_PLACES = 21;
const FINE_DEPTHS = 20;
const FINE_SHARES = evenSteps(0.16, 0.8, 11);

/**
 * The posterior of a void near a place: even prior over place, ln depth, radius over depth and kind (choice), the errors of
 * the best fit. `depthWeights`: ln weights of the fine depths that other lines give.
 */
export function posteriorNear(
  line: PreparedLine,
  table: VoidTable,
  lnRatio: Float64Array,
  { nearM, errors, depthWeights }: { nearM: number; errors: number; depthWeights?: readonly number[] },
): Posterior {
  const n = line.readings.length;
  const { bounds } = line;
  const depthsM = evenRatios(bounds.shallowestM, bounds.deepestM, FINE_DEPTHS);
  const chainagesM = evenSteps(nearM - FINE_REACH_M, nearM + FINE_REACH_M, FINE_PLACES);
  const templates = voidTemplates(
    table,
    line.readings.map(({ layout }) => layout),
    { ...line.grid, chainagesM, depthsM, shares: FINE_SHARES },
  );
  const own = line.errors[errors] as LineErrors;
  const gains = createScanner([own], templates).gains(lnRatio);
  const depthOf = new Map(depthsM.map((depth, i) => [depth, i]));
  const lnWeights = gains.map((gain, t) => {
    const depth = depthOf.get((templates.list[t] as (typeof templates.list)[number]).depthM) as number;
    return gain / 2 + (depthWeights?.[depth] ?? 0);
  });
  const top = lnWeights.reduce((most, value) => Math.max(most, value), -Infinity);
  const likeliest = lnWeights.indexOf(top);
  const byPlace = new Float64Array(chainagesM.length);
  const byDepth = new Float64Array(depthsM.length);
  const byKind = new Float64Array(KINDS.length);
  const radii = evenRatios(bounds.smallestRadiusM, bounds.largestRadiusM, 40);
  const byRadius = new Float64Array(radii.length);
  const placeOf = new Map(chainagesM.map((chainage, i) => [chainage, i]));
  const radiusStep = Math.log((radii[1] as number) / (radii[0] as number));
  for (const [t, { tried, chainageM, depthM, radiusM }] of templates.list.entries()) {
    const weight = Math.exp((lnWeights[t] as number) - top);
    // A passage along the line is under all of it: its one place says nothing of where.
    const place = placeOf.get(chainageM) as number;
    const radius = Math.round(Math.log(radiusM / bounds.smallestRadiusM) / radiusStep);
    byPlace[place] = (byPlace[place] as number) + weight;
    byDepth[depthOf.get(depthM) as number] = (byDepth[depthOf.get(depthM) as number] as number) + weight;
    byKind[tried] = (byKind[tried] as number) + weight;
    byRadius[radius] = (byRadius[radius] as number) + weight;
  }
  const kinds = shares(byKind);
  const passages = kinds.slice(1);
  return {
    chainageM: rangeOf(chainagesM, byPlace),
    depthM: withTableError(rangeOf(depthsM, byDepth)),
    radiusM: withTableError(rangeOf(radii, byRadius)),
    bearingDeg: (kinds[0] as number) > 0.5 ? null : bearingRange(passages),
    kinds,
    lnOfDepth: [...byDepth].map((weight) => Math.log(weight + Number.MIN_VALUE)),
    depthsM,
    likeliest: templates.list[likeliest] as Template,
    lnRatio: templates.lnRatio.slice(likeliest * n, (likeliest + 1) * n),
    gain: gains[likeliest] as number,
  };
}

const shares = (weights: Float64Array): number[] => {
  const whole = weights.reduce((sum, weight) => sum + weight, 0);
  return [...weights].map((weight) => weight / whole);
};

/** The median of a distribution over values in a row, and what holds 95 % of it between equal tails; cells are cut evenly. */
export function rangeOf(values: readonly number[], weights: Float64Array): PosteriorRange {
  const whole = weights.reduce((sum, weight) => sum + weight, 0);
  const edge = (i: number): number => {
    const [below, above] = [values[i - 1], values[i]];
    if (below === undefined) return values[0] as number;
    if (above === undefined) return values[values.length - 1] as number;
    return (below + above) / 2;
  };
  const at = (share: number): number => {
    let sum = 0;
    for (const [i, weight] of weights.entries()) {
      if (sum + weight >= share * whole) {
        const part = weight > 0 ? (share * whole - sum) / weight : 0;
        return edge(i) + part * (edge(i + 1) - edge(i));
      }
      sum += weight;
    }
    return values[values.length - 1] as number;
  };
  const last = weights.length - 1;
  return {
    best: at(0.5),
    low95: at(0.025),
    high95: at(0.975),
    openLow: (weights[0] as number) > OPEN_SHARE * whole,
    openHigh: (weights[last] as number) > OPEN_SHARE * whole,
  };
}

/** The table of voids is right to so much of what a void does (its tests), which is no part of the readings' errors. */
const TABLE_ERROR = 0.04;

const withTableError = (range: PosteriorRange): PosteriorRange => ({
  ...range,
  low95: range.low95 * (1 - TABLE_ERROR),
  high95: range.high95 * (1 + TABLE_ERROR),
});

/** A range is open at a bound whose own cell holds more than this. */
const OPEN_SHARE = 0.01;

/** Angles of passages tried: 90, 60, 30, 0. */
function bearingRange(passages: readonly number[]): PosteriorRange {
  const weights = Float64Array.from([...passages].reverse());
  return rangeOf([0, 30, 60, 90], weights);
}
