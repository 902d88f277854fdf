import { layeredApparentOhmM } from '../../src/ground/layered-earth';
import { type Layout, layoutOf, nominalDistances } from '../../src/ground/layout';
import type { LineReading } from '../../src/ground/line-errors';
import { placesUnder } from '../../src/ground/line-errors';
import type { Place } from '../../src/ground/small-void';
import { soilKernel } from '../../src/ground/soil-kernel';
import { createVoidModel } from '../../src/ground/void-response';
import { roundPassage } from '../../src/ground/void-shape';

/*
 * Blind lines: a line of pole-pole readings over uneven soil, with or without a passage under it, made up from a seed.
 * Soil of 180 Ω·m over rock of 600 Ω·m, 0.7 m thick; ln thickness is a sum of waves of 2 to 10 m with a standard
 * deviation of 0.1 to 0.3; noise 3 %. The passage is by boundary elements of its own mesh, at its own bearing.
 */

export const SOIL = { soilOhmM: 180, rockOhmM: 600, thicknessM: 0.7 } as const;
export const SPACINGS_M = [1, 2, 3, 5, 8, 12] as const;
const STATIONS = 24;
const NOISE_LN = 0.03;
const WAVES = 9;
const REFERENCE_STATIONS = 5;

export interface BlindVoid {
  readonly chainageM: number;
  readonly depthM: number;
  readonly radiusM: number;
  readonly bearingDeg: number;
}

export interface BlindLine {
  readonly readings: readonly LineReading[];
  readonly truth: BlindVoid | null;
  readonly relief: number;
}

/** Uniform numbers, the same for the same seed: a Weyl counter through the finaliser of MurmurHash3. */
export function uniformFrom(seed: number): () => number {
  let state = Math.imul(seed + 1, 0x85ebca6b) >>> 0;
  return () => {
    state = (state + 0x9e3779b9) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 16), 0x85ebca6b);
    mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
    return ((mixed ^ (mixed >>> 16)) >>> 0) / 2 ** 32;
  };
}

export function normalFrom(uniform: () => number): () => number {
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}

const LAYOUTS: readonly Layout[] = Array.from({ length: STATIONS }, (_, midpointM) =>
  SPACINGS_M.map((spacingM) => {
    const layout = layoutOf({ hookup: 'pole_pole', midpointM, spacingM });
    if (!layout.ok) throw new Error(layout.sentence);
    return layout.value;
  }),
).flat();
const PLACES = placesUnder(LAYOUTS);
let kernel: Float64Array | null = null;

/** A line from a seed. `truth`: `null` for none, else with a passage drawn from the stated ranges. */
export function blindLine(seed: number, withVoid: boolean): BlindLine {
  const uniform = uniformFrom(seed);
  const normal = normalFrom(uniform);
  const relief = 0.1 + 0.2 * uniform();
  const waves = Array.from({ length: WAVES }, () => ({
    lengthM: 2 * 5 ** uniform(),
    phase: 2 * Math.PI * uniform(),
  }));
  const lnThickness = (x: number): number =>
    relief *
    Math.sqrt(2 / WAVES) *
    waves.reduce((sum, { lengthM, phase }) => sum + Math.cos((2 * Math.PI * x) / lengthM + phase), 0);
  const ofSoil = soilAnswers(lnThickness);
  const truth = withVoid ? drawnVoid(uniform) : null;
  const ofVoid = truth ? voidAnswers(truth) : LAYOUTS.map(() => 0);
  const referenceErrors = new Map(
    SPACINGS_M.map((spacingM) => {
      const sigma = Math.sqrt((NOISE_LN ** 2 + (0.3 * relief * 0.4) ** 2) * (1.5 / REFERENCE_STATIONS));
      return [spacingM, { sigma, error: sigma * normal() }];
    }),
  );
  const readings = LAYOUTS.map((layout, i): LineReading => {
    const spacingM = SPACINGS_M[i % SPACINGS_M.length] as number;
    const { sigma, error } = referenceErrors.get(spacingM as (typeof SPACINGS_M)[number]) as {
      sigma: number;
      error: number;
    };
    const quiet = layeredApparentOhmM(GROUND, nominalDistances(layout));
    return {
      layout,
      apparentOhmM: quiet * Math.exp((ofSoil[i] as number) + (ofVoid[i] as number) + NOISE_LN * normal()),
      referenceOhmM: quiet * Math.exp(error),
      noiseLn: NOISE_LN,
      referenceLn: sigma,
      group: String(spacingM),
    };
  });
  return { readings, truth, relief };
}

const GROUND = { resistivitiesOhmM: [SOIL.soilOhmM, SOIL.rockOhmM], thicknessesM: [SOIL.thicknessM] };

function soilAnswers(lnThickness: (x: number) => number): Float64Array {
  kernel ??= soilKernel(SOIL, LAYOUTS, PLACES);
  const { fromM, stepM, count } = PLACES;
  const g = Float64Array.from({ length: count }, (_, k) => lnThickness(fromM + k * stepM));
  return Float64Array.from(LAYOUTS, (_, i) => {
    let sum = 0;
    for (let k = 0; k < count; k += 1) sum += ((kernel as Float64Array)[i * count + k] as number) * (g[k] as number);
    return sum;
  });
}

function drawnVoid(uniform: () => number): BlindVoid {
  const radiusM = 1 + 0.5 * uniform();
  return {
    radiusM,
    depthM: radiusM * (1.5 + 1.5 * uniform()),
    chainageM: 1 + (STATIONS - 3) * uniform(),
    bearingDeg: 60 + 30 * uniform(),
  };
}

function voidAnswers({ chainageM, depthM, radiusM, bearingDeg }: BlindVoid): readonly number[] {
  const model = createVoidModel(roundPassage(radiusM, 40), depthM, { refine: false, mostPanels: 900 });
  if (!model.ok) throw new Error(model.sentence);
  const at = (x: number | null) => (x === null ? null : ([x, 0, 0] as const));
  const answer = model.value.answer({
    place: { xM: chainageM, yM: 0, depthM, bearingDeg },
    hostOhmM: 1,
    fillOhmM: Infinity,
    electrodes: LAYOUTS.map(({ a, b, m, n }) => ({ a: at(a) as Place, b: at(b), m: at(m) as Place, n: at(n) })),
  });
  if (!answer.ok) throw new Error(answer.sentence);
  return answer.value.map(({ ratio }) => Math.log(ratio));
}
