import { layeredApparentOhmM } from '../../src/ground/layered-earth';
import type { LayeredGround } from '../../src/ground/layered-kernel';
import { type Layout, layoutOf, nominalDistances } from '../../src/ground/layout';
import { createVoidModel } from '../../src/ground/void-response';
import type { VoidShape } from '../../src/ground/void-shape';
import type { ComparedReading } from '../../src/ground/void-test';
import type { Hookup } from '../../src/survey/hookup';
import { evenNumbers, normalNumbers } from './chance';

/** Soil over limestone as in the demo. */
export const SOIL_OVER_ROCK: LayeredGround = { resistivitiesOhmM: [180, 600], thicknessesM: [0.7] };
export const LADDER_M = [1, 2, 3, 5, 8, 12] as const;

export function layoutFor(hookup: Hookup, midpointM: number, spacingM: number): Layout {
  const layout = layoutOf({ hookup, midpointM, spacingM });
  if (!layout.ok) throw new Error(layout.sentence);
  return layout.value;
}

/** What a void, or a body of some fill, multiplies readings of a line by: boundary elements in uniform ground of 600 Ω·m. */
export function voidRatios(
  shape: VoidShape,
  { depthM, atM, bearingDeg }: { readonly depthM: number; readonly atM: number; readonly bearingDeg: number },
  layouts: readonly Layout[],
  refine = false,
  fillOhmM = Infinity,
): number[] {
  const model = createVoidModel(shape, depthM, { refine });
  if (!model.ok) throw new Error(model.sentence);
  const place = (chainageM: number) => [chainageM, 0, 0] as const;
  const answered = model.value.answer({
    place: { xM: atM, yM: 0, depthM, bearingDeg },
    hostOhmM: 600,
    fillOhmM,
    electrodes: layouts.map(({ a, b, m, n }) => ({
      a: place(a as number),
      b: b === null ? null : place(b),
      m: place(m as number),
      n: n === null ? null : place(n),
    })),
  });
  if (!answered.ok) throw new Error(answered.sentence);
  return answered.value.map(({ ratio }) => ratio);
}

export interface MadeLadder {
  readonly seed: number;
  /** Standard deviation of ln(soil thickness) along the line, in waves of 7 to 30 m. */
  readonly unevenness: number;
  readonly noise: number;
  /** What each reading is multiplied by. */
  readonly ratios?: readonly number[];
  /** Ohms that get into every reading. */
  readonly contactOhm?: number;
  readonly thicknessFactor?: number;
}

const WAVES = 7;
/** Scatter of the reference's median. */
const REFERENCE_NOISE = 0.01;

/**
 * A pole-pole ladder over soil on rock, each reading over flat layers with the mean thickness under its electrodes, beside
 * a reference over the median thickness. Same seed, same ladder.
 */
export function madeLadder(made: MadeLadder): ComparedReading[] {
  const even = evenNumbers(made.seed);
  const normal = normalNumbers(made.seed + 1000);
  const waves = Array.from({ length: WAVES }, (_, i) => {
    const lengthM = 7 * (30 / 7) ** (i / (WAVES - 1));
    return { perM: (2 * Math.PI * Math.cos(2 * Math.PI * even())) / lengthM, phase: 2 * Math.PI * even() };
  });
  const scale = made.unevenness * Math.sqrt(2 / WAVES);
  const thicknessM = (x: number): number =>
    0.7 *
    (made.thicknessFactor ?? 1) *
    Math.exp(scale * waves.reduce((sum, { perM, phase }) => sum + Math.cos(perM * x + phase), 0));
  return LADDER_M.map((spacingM, k): ComparedReading => {
    const layout = layoutFor('pole_pole', 0, spacingM);
    const distances = nominalDistances(layout);
    let mean = 0;
    for (let i = 0; i <= 4; i += 1) mean += thicknessM(-spacingM / 2 + (spacingM * i) / 4) / 5;
    const here = layeredApparentOhmM({ ...SOIL_OVER_ROCK, thicknessesM: [mean] }, distances);
    const contact = 2 * Math.PI * spacingM * (made.contactOhm ?? 0);
    return {
      layout,
      apparentOhmM: (here * (made.ratios?.[k] ?? 1) + contact) * Math.exp(made.noise * normal()),
      referenceOhmM: layeredApparentOhmM(SOIL_OVER_ROCK, distances) * Math.exp(REFERENCE_NOISE * normal()),
      sigmaLn: Math.hypot(made.noise, REFERENCE_NOISE),
    };
  });
}
