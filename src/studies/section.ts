import { medianDepthM } from '../ground/depth';
import { nominalDistances } from '../ground/layout';
import { factorOf, type MeshReading } from '../ground/section-factor';
import { sectionForward } from '../ground/section-forward';
import { fitSection, type SectionFit } from '../ground/section-inversion';
import { type SectionMesh, sectionMesh } from '../ground/section-mesh';
import { smoothnessOf } from '../ground/section-smoothness';
import { wavenumbersFor } from '../ground/section-wavenumbers';
import type { Hookup } from '../survey/hookup';
import { done, type Outcome, refuse } from '../survey/outcome';
import { groundLineOf } from './section-ground';
import type { SectionInput, SectionReading } from './section-input';
import { sectionRemarks } from './section-words';
import { studyKey, type Tick } from './study-key';

/** A block of ground under the line, endless to either side of it. Depths are below the ground surface. */
export interface SectionCell {
  readonly chainageFromM: number;
  readonly chainageToM: number;
  readonly depthTopM: number;
  readonly depthBottomM: number;
  readonly resistivityOhmM: number;
  /** 0 = the readings say nothing of it, 1 = it could not be better known. */
  readonly coverage: number;
}

export interface SectionElectrode {
  readonly chainageM: number;
  readonly elevationM: number | null;
}

export interface FittedReading {
  readonly id: string;
  /** Middle of its outermost electrodes. */
  readonly chainageM: number;
  /** Median depth in uniform ground. */
  readonly depthM: number;
  readonly measuredOhmM: number;
  readonly computedOhmM: number;
  /** ln(measured over computed) in standard errors. */
  readonly residualSigma: number;
  /** 1, or less where it was weighted down. */
  readonly weight: number;
}

export interface SectionResult {
  readonly key: string;
  readonly line: string;
  readonly hookups: readonly Hookup[];
  /** Of the uniform ground that the search started from. */
  readonly startOhmM: number;
  readonly chiSquarePerReading: number;
  readonly iterations: number;
  /** Whether the readings are explained within their errors; false = the search came to rest above that. */
  readonly converged: boolean;
  /** Readings with less than half their weight. */
  readonly downWeighted: readonly string[];
  readonly cells: readonly SectionCell[];
  readonly electrodes: readonly SectionElectrode[];
  readonly readings: readonly FittedReading[];
  /** Deepest median depth of the readings: below it nothing should be read. */
  readonly depthLimitM: number;
  /** What was taken for granted, in plain words. */
  readonly remarks: readonly string[];
}

export const sectionKey = (input: SectionInput): string => studyKey('section', input);

/** Electrodes nearer than this share of the smallest distance in use are one (choice). */
const SAME_SHARE = 0.02;
/** Thickness of the first layer of cells, in smallest distances, and growth from one to the next (choice). */
const FIRST_LAYER = 0.25;
const LAYER_GROWTH = 1.2;
/** Cells reach down to so many times the deepest median depth (choice). */
const REACH = 1.5;
/** Distances that the wavenumbers serve: from half the smallest to four times the largest in use, and how well (choice). */
const NEARER = 0.5;
const FARTHER = 4;
const WAVENUMBER_ACCURACY = 5e-5;
/** Fewer than this do not make a section. */
const FEWEST_READINGS = 3;

/**
 * The study `section`: the smoothest ground under a line, endless and alike to either side, that explains its readings
 * within their errors. Pure; seconds for 300 readings.
 * Coverage of a cell: I/(I + 1), I = (ln 2)² Σ (∂ln ρa/∂ln ρ / σ)²: by how much the readings narrow down, by variance, a
 * cell that may be off by a factor of 2 when its neighbours are known (choice).
 * Depth limit: the deepest median depth of the readings in uniform ground (Edwards 1977, Geophysics 42:1020).
 * Remotes are taken infinitely far: what a remote at its true place does in uniform ground is already in the apparent
 * resistivity, by its K.
 * Refusals: `too_few_readings`, `electrodes_coincide`, `section_too_large`, `ground_too_steep`.
 */
export function section(input: SectionInput, tick: Tick = () => {}): Outcome<SectionResult> {
  const { line, hookups, robust } = input;
  const distances = input.readings.flatMap(({ layout }) =>
    Object.values(nominalDistances(layout)).filter(Number.isFinite),
  );
  const nearest = Math.min(...distances);
  if (input.readings.length < FEWEST_READINGS) {
    return refuse(
      'too_few_readings',
      `A section takes ${FEWEST_READINGS} readings at least; line ${line} has ${input.readings.length}.`,
    );
  }
  if (!(nearest > 0)) {
    return refuse('electrodes_coincide', `On line ${line} a reading has current and potential on the same electrode.`);
  }
  const electrodesM = distinct(input.readings, SAME_SHARE * nearest);
  const ground = groundLineOf(input.heights);
  if (!ground.ok) return ground;
  const deepest = Math.max(...input.readings.map(depthOf));
  const layersM = layersTo(REACH * deepest, FIRST_LAYER * nearest);
  const heights = input.heights.length < 2 ? [] : [input.heights[0], input.heights[input.heights.length - 1]];
  const [knownFrom, knownTo] = heights.map((height) => height?.chainageM as number);
  const mesh = sectionMesh({
    electrodesM,
    ground: ground.value,
    ...(knownFrom !== undefined && knownTo !== undefined ? { knownM: [knownFrom, knownTo] as const } : {}),
    spacingM: nearest,
    layersM,
  });
  if (!mesh.ok) return mesh;
  const onMesh = input.readings.map((reading) => meshReading(reading, electrodesM));
  const usable = onMesh.map((reading) => Number.isFinite(factorOf(mesh.value, reading)));
  const readings = input.readings.filter((_, i) => usable[i]);
  const forward = sectionForward(
    mesh.value,
    onMesh.filter((_, i) => usable[i]),
    wavenumbersFor(NEARER * nearest, FARTHER * Math.max(...distances), WAVENUMBER_ACCURACY),
  );
  const { widthsM, thicknessesM } = sizesOf(mesh.value);
  const fit = fitSection(forward, smoothnessOf(widthsM, thicknessesM), {
    lnApparent: Float64Array.from(readings, ({ apparentOhmM }) => Math.log(apparentOhmM)),
    sigmaLn: Float64Array.from(readings, ({ sigmaLn }) => sigmaLn),
    robust,
    tick,
  });
  const downWeighted = readings.filter((_, i) => (fit.weights[i] as number) < 0.5).map(({ id }) => id);
  return done({
    key: sectionKey(input),
    line,
    hookups,
    startOhmM: fit.startOhmM,
    chiSquarePerReading: fit.chiSquarePerReading,
    iterations: fit.iterations,
    converged: fit.converged,
    downWeighted,
    cells: cellsOf(mesh.value, fit),
    electrodes: electrodesM.map((chainageM) => ({
      chainageM,
      elevationM: input.heights.length > 0 ? ground.value(chainageM)[1] : null,
    })),
    readings: readings.map((reading, i) => fitted(reading, fit, i)),
    depthLimitM: deepest,
    remarks: sectionRemarks(input, readings.length, downWeighted.length, fit.converged, fit.chiSquarePerReading),
  });
}

const chainagesOf = ({ layout: { a, b, m, n } }: SectionReading): number[] => [a, b, m, n].filter((at) => at !== null);

function distinct(readings: readonly SectionReading[], sameM: number): number[] {
  const all = readings.flatMap(chainagesOf).sort((p, q) => p - q);
  const kept: number[] = [];
  for (const chainage of all) {
    if (kept.length === 0 || chainage - (kept[kept.length - 1] as number) > sameM) kept.push(chainage);
  }
  return kept;
}

function meshReading({ layout: { a, b, m, n } }: SectionReading, electrodesM: readonly number[]): MeshReading {
  const at = (chainageM: number | null): number | null => {
    if (chainageM === null) return null;
    let [low, high] = [0, electrodesM.length - 1];
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((electrodesM[middle] as number) <= chainageM) low = middle;
      else high = middle - 1;
    }
    return low;
  };
  return { a: at(a), b: at(b), m: at(m), n: at(n) };
}

const depthOf = ({ layout }: SectionReading): number => medianDepthM(nominalDistances(layout)) ?? 0;

function layersTo(depthM: number, firstM: number): number[] {
  const layers: number[] = [];
  let [bottom, thickness] = [0, firstM];
  while (bottom < depthM || layers.length < 3) {
    bottom += thickness;
    layers.push(bottom);
    thickness *= LAYER_GROWTH;
  }
  return [...layers, Infinity];
}

/** Cells at the edges go on for ever; they count as large as their neighbours. */
function sizesOf({ chainageM, depthM, cellColumns, cellRows }: SectionMesh) {
  const sizes = (places: Float64Array, bounds: readonly number[]): number[] =>
    bounds.slice(1).map((to, i) => (places[to] as number) - (places[bounds[i] as number] as number));
  const widthsM = sizes(chainageM, cellColumns);
  const thicknessesM = sizes(depthM, cellRows);
  const last = widthsM.length - 1;
  widthsM[0] = widthsM[1] as number;
  widthsM[last] = widthsM[last - 1] as number;
  const bottom = thicknessesM.length - 1;
  thicknessesM[bottom] = LAYER_GROWTH * (thicknessesM[bottom - 1] as number);
  return { widthsM, thicknessesM };
}

/** All but those that go on for ever: what stands in these is about nothing that was read. */
function cellsOf({ chainageM, depthM, cellColumns, cellRows }: SectionMesh, fit: SectionFit): SectionCell[] {
  const layers = cellRows.length - 1;
  const cells: SectionCell[] = [];
  for (let p = 1; p + 2 < cellColumns.length; p += 1) {
    for (let q = 0; q + 1 < layers; q += 1) {
      const information = Math.LN2 ** 2 * (fit.information[p * layers + q] as number);
      cells.push({
        chainageFromM: chainageM[cellColumns[p] as number] as number,
        chainageToM: chainageM[cellColumns[p + 1] as number] as number,
        depthTopM: depthM[cellRows[q] as number] as number,
        depthBottomM: depthM[cellRows[q + 1] as number] as number,
        resistivityOhmM: fit.ohmM[p * layers + q] as number,
        coverage: information / (information + 1),
      });
    }
  }
  return cells;
}

function fitted(reading: SectionReading, fit: SectionFit, i: number): FittedReading {
  const chainages = chainagesOf(reading);
  return {
    id: reading.id,
    chainageM: (Math.min(...chainages) + Math.max(...chainages)) / 2,
    depthM: depthOf(reading),
    measuredOhmM: reading.apparentOhmM,
    computedOhmM: fit.computedOhmM[i] as number,
    residualSigma: fit.residuals[i] as number,
    weight: fit.weights[i] as number,
  };
}
