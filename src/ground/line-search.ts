import { type LineErrors, type LineReading, lineErrors } from './line-errors';
import { createScanner, type Scanner } from './line-scan';
import type { SoilOverRock } from './soil-kernel';
import { profiledRange } from './void-grid';
import { LARGEST_SHARE, SMALLEST_SHARE, type VoidTable } from './void-table';
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
 * Bounds (choice): the middle of a void from eight tenths of the smallest spacing to six tenths of the widest, which is where
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

/** A value with what the readings leave of it (95 %); open where that reaches the bounds. */
export interface Range {
  readonly best: number;
  readonly low95: number;
  readonly high95: number;
  readonly openLow: boolean;
  readonly openHigh: boolean;
}

/** Where a void may lie that is taken to be there. */
export interface Posterior {
  /** Equal tails of the posterior. */
  readonly chainageM: Range;
  /** What everything else can be fitted to (profile likelihood), as of the radius. */
  readonly depthM: Range;
  readonly radiusM: Range;
  /** Angle between passage and line; as the chainage. */
  readonly bearingDeg: Range | null;
  /** Weight of each of `KINDS`. */
  readonly kinds: readonly number[];
  /** ln of the profile likelihood at each of `depthsM`, for joining lines. */
  readonly lnOfDepth: readonly number[];
  readonly depthsM: readonly number[];
  readonly likeliest: Template;
  /** ln(ratio) of the likeliest. */
  readonly lnRatio: Float64Array;
  /** Twice the gain in log likelihood of the likeliest, with the search's own errors. */
  readonly gain: number;
}

const FINE_REACH_M = 2.5;
const FINE_PLACES = 21;
const FINE_DEPTHS = 20;

/**
 * What the readings leave of a void near a place, under the errors of the best fit without the search's margin on noise.
 * Place, kind and bearing: a posterior with an even prior over place, ln depth, ln of radius over depth, and kind (choice).
 * Depth and radius make up for each other along a valley, and whatever prior lies over it would widen both: they get the
 * profile likelihood (χ² up to 3.84 over the lowest). `depthWeights`: ln weights of the fine depths that other lines give.
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
  // Radii over depth in the steps of the depths, so that all depths have the same radii.
  const lnStep = Math.log(bounds.deepestM / bounds.shallowestM) / (FINE_DEPTHS - 1);
  const sizes = Math.floor(Math.log(LARGEST_SHARE / SMALLEST_SHARE) / lnStep + 1e-9) + 1;
  const shareOf = (size: number): number => SMALLEST_SHARE * Math.exp(size * lnStep);
  const chainagesM = evenSteps(nearM - FINE_REACH_M, nearM + FINE_REACH_M, FINE_PLACES);
  const templates = voidTemplates(
    table,
    line.readings.map(({ layout }) => layout),
    { ...line.grid, chainagesM, depthsM, shares: Array.from({ length: sizes }, (_, size) => shareOf(size)) },
  );
  const own = line.errors[errors] as LineErrors;
  const scanner = createScanner(lineErrors(line.readings, line.soil, [own.uneven], 1), templates);
  const placeOf = new Map(chainagesM.map((chainage, i) => [chainage, i]));
  const depthOf = new Map(depthsM.map((depth, i) => [depth, i]));
  const gains = scanner
    .gains(lnRatio)
    .map((gain, t) => gain + 2 * (depthWeights?.[depthOf.get((templates.list[t] as Template).depthM) as number] ?? 0));
  const top = gains.reduce((most, value) => Math.max(most, value), -Infinity);
  const likeliest = gains.indexOf(top);
  const byPlace = new Float64Array(chainagesM.length);
  const byKind = new Float64Array(KINDS.length);
  const overDepth = new Float64Array(depthsM.length).fill(Infinity);
  const radii = Array.from({ length: depthsM.length + sizes }, (_, i) => bounds.shallowestM * shareOf(i));
  const overRadius = new Float64Array(radii.length).fill(Infinity);
  for (const [t, { tried, chainageM, depthM, radiusM }] of templates.list.entries()) {
    const over = top - (gains[t] as number);
    const weight = Math.exp(-over / 2);
    // A passage along the line is under all of it: its one place says nothing of where.
    const place = placeOf.get(chainageM) as number;
    byPlace[place] = (byPlace[place] as number) + weight;
    byKind[tried] = (byKind[tried] as number) + weight;
    const depth = depthOf.get(depthM) as number;
    overDepth[depth] = Math.min(overDepth[depth] as number, over);
    const radius = Math.round(Math.log(radiusM / (radii[0] as number)) / lnStep);
    overRadius[radius] = Math.min(overRadius[radius] as number, over);
  }
  const kinds = shares(byKind);
  const passages = kinds.slice(1);
  const found = {
    list: [templates.list[likeliest] as Template],
    lnRatio: templates.lnRatio.slice(likeliest * n, (likeliest + 1) * n),
  };
  return {
    chainageM: rangeOf(chainagesM, byPlace),
    depthM: withTableError(profiledRange(overDepth, depthsM, 0)),
    radiusM: withTableError(profiledRange(overRadius, radii, 0)),
    bearingDeg: (kinds[0] as number) > 0.5 ? null : bearingRange(passages),
    kinds,
    lnOfDepth: [...overDepth].map((over) => -over / 2),
    depthsM,
    likeliest: found.list[0] as Template,
    lnRatio: found.lnRatio,
    gain: createScanner([own], found).gains(lnRatio)[0] as number,
  };
}

/**
 * The table of voids is right to 4 % of what a void does (its tests), which is no part of the readings' errors. That grows
 * about with the square of radius over depth, so that each of them is off by half as much.
 */
const TABLE_ERROR = 0.04 / 2;

const withTableError = ({ middle, low95, high95, openLow, openHigh }: ReturnType<typeof profiledRange>): Range => ({
  best: middle,
  low95: low95 * (1 - TABLE_ERROR),
  high95: high95 * (1 + TABLE_ERROR),
  openLow,
  openHigh,
});

const shares = (weights: Float64Array): number[] => {
  const whole = weights.reduce((sum, weight) => sum + weight, 0);
  return [...weights].map((weight) => weight / whole);
};

/** The median of a distribution over values in a row, and what holds 95 % of it between equal tails; cells are cut evenly. */
export function rangeOf(values: readonly number[], weights: Float64Array): Range {
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

/** A range is open at a bound whose own cell holds more than this. */
const OPEN_SHARE = 0.01;

/** Angles of passages tried: 90, 60, 30, 0. */
function bearingRange(passages: readonly number[]): Range {
  const weights = Float64Array.from([...passages].reverse());
  return rangeOf([0, 30, 60, 90], weights);
}
