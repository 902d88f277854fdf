import { layeredReadings } from '../../src/ground/layered-earth';
import { soundLayers } from '../../src/ground/layered-inversion';
import { nominalDistances } from '../../src/ground/layout';
import { FITTING_RULE } from '../../src/ground/ray-rule';
import { roundPassage } from '../../src/ground/void-shape';
import { createVoidTable } from '../../src/ground/void-table';
import { testForVoid } from '../../src/ground/void-test';
import { LADDER_M, layoutFor, madeLadder, SOIL_OVER_ROCK, voidRatios } from '../helpers/made-ladder';

export interface VoidTestRow {
  readonly name: string;
  /** Best of the rounds. */
  readonly milliseconds: number;
  /** What it may take. */
  readonly barMs: number;
}

const ROUNDS = 3;
const FORWARDS = 10_000;

function best(run: () => void): number {
  let milliseconds = Infinity;
  for (let round = 0; round < ROUNDS; round += 1) {
    const start = performance.now();
    run();
    milliseconds = Math.min(milliseconds, performance.now() - start);
  }
  return milliseconds;
}

/** The void test of a ladder, and the layered work about it. */
export function benchVoidTest(): VoidTestRow[] {
  const layouts = LADDER_M.map((a) => layoutFor('pole_pole', 0, a));
  const ratios = voidRatios(roundPassage(1.45, 40), { depthM: 2.5, atM: 0.7, bearingDeg: 73 }, layouts);
  const readings = madeLadder({ seed: 4, unevenness: 0.12, noise: 0.03, ratios });
  const question = { midpointM: 0, readings, referenceGround: SOIL_OVER_ROCK, feelsContact: true };
  const table = createVoidTable();

  const spacings = Array.from({ length: 12 }, (_, i) => 0.7 * 1.45 ** i);
  const distances = spacings.map((a) => nominalDistances(layoutFor('wenner_alpha', 0, a)));
  const three = { resistivitiesOhmM: [100, 1000, 150], thicknessesM: [1, 4] };
  const apparent = new Float64Array(distances.length);
  layeredReadings(distances).respond(three, apparent);
  const ladder = distances.map((each, k) => ({
    hookup: 'wenner_alpha' as const,
    distances: each,
    apparentOhmM: (apparent[k] as number) * (1 + 0.03 * Math.sin(7 * k)),
    relativeSigma: 0.03,
  }));
  const prepared = layeredReadings(distances, FITTING_RULE);

  return [
    {
      name: 'void test of a 6-spacing ladder, table made for it',
      milliseconds: best(() => void testForVoid(question, createVoidTable())),
      barMs: 2000,
    },
    {
      name: 'void test of a 6-spacing ladder, table there',
      milliseconds: best(() => void testForVoid(question, table)),
      barMs: 500,
    },
    {
      name: 'layered inversion of a 12-spacing ladder',
      milliseconds: best(() => {
        if (!soundLayers({ readings: ladder }).ok) throw new Error('the ladder has layers');
      }),
      barMs: 300,
    },
    {
      name: `${FORWARDS} layered forwards of 12 spacings`,
      milliseconds: best(() => {
        for (let i = 0; i < FORWARDS; i += 1) {
          prepared.respond({ ...three, thicknessesM: [0.5 + i / FORWARDS, 4] }, apparent);
        }
      }),
      barMs: 1000,
    },
  ];
}
