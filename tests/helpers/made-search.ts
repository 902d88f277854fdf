import { layeredApparentOhmM } from '../../src/ground/layered-earth';
import type { LayeredGround } from '../../src/ground/layered-kernel';
import { type Layout, nominalDistances } from '../../src/ground/layout';
import { roundPassage } from '../../src/ground/void-shape';
import type { SearchReading, VoidSearchInput } from '../../src/studies/void-search-question';
import { normalFrom, uniformFrom } from './blind-line';
import { LADDER_M, layoutFor, voidRatios } from './made-ladder';
import { reliefGridUnder, reliefWeights } from './relief-weights';

/** Soil of 150 Ω·m, 0.8 m thick, on limestone of 800 Ω·m: within Reynolds 2011, table 7.1. */
export const SEARCH_GROUND: LayeredGround = { resistivitiesOhmM: [150, 800], thicknessesM: [0.8] };
/** The same as a reference ladder shows it: some percent off. */
export const REFERENCE_GROUND: LayeredGround = { resistivitiesOhmM: [146, 840], thicknessesM: [0.85] };
export const STATIONS = 24;
export const NOISE = 0.03;

/** 24 stations at 1 m, spacings of 1 to 12 m, pole-pole. */
export const SEARCH_LAYOUTS: readonly Layout[] = LADDER_M.flatMap((a) =>
  Array.from({ length: STATIONS }, (_, i) => layoutFor('pole_pole', i, a)),
);
export const SEARCH_LEVELS = SEARCH_LAYOUTS.map((_, k) => Math.floor(k / STATIONS));

export interface MadeSurvey {
  readonly passage: {
    readonly radiusM: number;
    readonly depthM: number;
    readonly atM: number;
    readonly bearingDeg: number;
  } | null;
  readonly relief: number;
  readonly wavelengthM: number;
  readonly apparentOhmM: Float64Array;
  /** ln(reading/even ground). */
  readonly lnRatio: Float64Array;
}

const WAVES = 5;
const GRID = reliefGridUnder(SEARCH_LAYOUTS, 0.2, 30);
let weights: Float64Array | null = null;

/**
 * A survey: soil thickness h₀(1 + relief·g(x)), relief 10 to 30 %, g five waves of lengths within a third of one drawn from
 * 2 to 10 m; each reading is that of flat layers with the thickness that it sees by the weights of first order (its
 * mean of ln h under them), so far thicknesses count as layers do; times what the passage does by refined boundary
 * elements; 3 % of noise. The passage: radius 1 to 1.5 m, axis 1.5 to 3 radii deep, anywhere, at 60 to 90° either way.
 */
export function madeSurvey(seed: number, withPassage: boolean, refine = true): MadeSurvey {
  const even = uniformFrom(seed);
  const normal = normalFrom(even);
  const relief = 0.1 + 0.2 * even();
  const wavelengthM = 2 + 8 * even();
  const waves = Array.from({ length: WAVES }, (_, i) => ({
    lengthM: wavelengthM * (1 + (0.33 * (i - 2)) / 2),
    phase: 2 * Math.PI * even(),
  }));
  const shape = (x: number): number =>
    waves.reduce((sum, { lengthM, phase }) => sum + Math.cos((2 * Math.PI * x) / lengthM + phase), 0) *
    Math.sqrt(2 / WAVES);
  const lnThickness = Float64Array.from({ length: GRID.count }, (_, i) =>
    Math.log(Math.max(0.1, 1 + relief * shape(GRID.fromM + i * GRID.stepM))),
  );
  weights ??= reliefWeights(SEARCH_GROUND, SEARCH_LAYOUTS, GRID);
  const radiusM = 1 + 0.5 * even();
  const passage = {
    radiusM,
    depthM: radiusM * (1.5 + 1.5 * even()),
    atM: (STATIONS - 1) * even(),
    bearingDeg: 60 + 60 * even(),
  };
  const ratios = withPassage
    ? voidRatios(roundPassage(passage.radiusM, 60), passage, SEARCH_LAYOUTS, refine)
    : SEARCH_LAYOUTS.map(() => 1);
  const [h0] = SEARCH_GROUND.thicknessesM as [number];
  const apparentOhmM = Float64Array.from(SEARCH_LAYOUTS, (layout, k) => {
    let [seen, all] = [0, 0];
    for (let i = 0; i < GRID.count; i += 1) {
      const weight = (weights as Float64Array)[k * GRID.count + i] as number;
      seen += weight * (lnThickness[i] as number);
      all += weight;
    }
    const ground = { ...SEARCH_GROUND, thicknessesM: [h0 * Math.exp(seen / all)] };
    return layeredApparentOhmM(ground, nominalDistances(layout)) * (ratios[k] as number) * Math.exp(NOISE * normal());
  });
  return {
    passage: withPassage ? passage : null,
    relief,
    wavelengthM,
    apparentOhmM,
    lnRatio: apparentOhmM.map((value, k) =>
      Math.log(value / layeredApparentOhmM(SEARCH_GROUND, nominalDistances(SEARCH_LAYOUTS[k] as Layout))),
    ),
  };
}

const REFERENCE_STATIONS = 5;

/**
 * The survey as the study takes it: the reference is the median of five stations over such soil (its error drawn), and its
 * layers are known no better than from a ladder of it: thickness and both resistivities off by some percent.
 */
export function searchInputFor(survey: MadeSurvey, seed: number, simulations: number): VoidSearchInput {
  const normal = normalFrom(uniformFrom(seed + 7_000_000));
  const share = 1.5 / REFERENCE_STATIONS;
  const references = LADDER_M.map(() => Math.exp(NOISE * Math.sqrt(share) * normal()));
  const off = (value: number, ln: number): number => value * Math.exp(ln * normal());
  const readings = SEARCH_LAYOUTS.map((layout, k): SearchReading => {
    const level = SEARCH_LEVELS[k] as number;
    return {
      id: `${level}:${k % STATIONS}`,
      line: 'L',
      layout,
      apparentOhmM: survey.apparentOhmM[k] as number,
      referenceOhmM: layeredApparentOhmM(SEARCH_GROUND, nominalDistances(layout)) * (references[level] as number),
      sigmaLn: NOISE,
      referenceSigmaLn: NOISE * Math.sqrt(share),
      hookup: 'pole_pole',
      spacingM: LADDER_M[level] as number,
      group: String(LADDER_M[level]),
    };
  });
  const [soil, rock] = SEARCH_GROUND.resistivitiesOhmM as [number, number];
  return {
    lines: [
      {
        line: 'L',
        lineId: 'L',
        places: [
          { chainageM: 0, xM: 0, yM: 0 },
          { chainageM: STATIONS - 1, xM: STATIONS - 1, yM: 0 },
        ],
        readings,
        referenceGround: {
          resistivitiesOhmM: [off(soil, 0.03), off(rock, 0.05)],
          thicknessesM: [off(SEARCH_GROUND.thicknessesM[0] as number, 0.05)],
        },
      },
    ],
    falseAlarmRate: 0.05,
    simulations,
    seed,
  };
}
