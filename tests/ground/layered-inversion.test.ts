import { describe, expect, it } from 'vitest';
import { layeredApparentOhmM } from '../../src/ground/layered-earth';
import { type LayeredModel, type SoundingReading, soundLayers } from '../../src/ground/layered-inversion';
import type { LayeredGround } from '../../src/ground/layered-kernel';
import { layoutOf, nominalDistances } from '../../src/ground/layout';
import type { Hookup } from '../../src/survey/hookup';
import { normalNumbers } from '../helpers/chance';

const SPACINGS_M = [1, 1.5, 2, 3, 4, 6, 8, 12, 16, 24, 32, 48];
const COVER_ON_ROCK = { resistivitiesOhmM: [50, 1000], thicknessesM: [3] };
const DRY_LAYER = { resistivitiesOhmM: [100, 1000, 100], thicknessesM: [1, 3] };
const CLAY_LAYER = { resistivitiesOhmM: [100, 10, 100], thicknessesM: [1, 3] };
const RISING = { resistivitiesOhmM: [50, 200, 2000], thicknessesM: [2, 5] };

interface Ladder {
  readonly hookup?: Hookup;
  readonly spacingsM?: readonly number[];
  /** Standard deviation of ln ρa. */
  readonly noise?: number;
  readonly sigma?: number | null;
  readonly seed?: number;
}

function ladderOver(ground: LayeredGround, ladder: Ladder = {}): SoundingReading[] {
  const { hookup = 'wenner_alpha', spacingsM = SPACINGS_M, noise = 0, sigma = 0.03, seed = 1 } = ladder;
  const chance = normalNumbers(seed);
  return spacingsM.map((spacingM) => {
    const layout = layoutOf({ hookup, midpointM: 0, spacingM, n: 2 });
    if (!layout.ok) throw new Error(layout.sentence);
    const distances = nominalDistances(layout.value);
    const apparentOhmM = layeredApparentOhmM(ground, distances) * Math.exp(noise * chance());
    return { hookup, distances, apparentOhmM, relativeSigma: sigma };
  });
}

function sounded(request: Parameters<typeof soundLayers>[0]) {
  const outcome = soundLayers(request);
  if (!outcome.ok) throw new Error(outcome.sentence);
  return outcome.value;
}

const valuesOf = ({ resistivities, thicknesses }: LayeredModel) => [...resistivities, ...thicknesses];
const truthOf = ({ resistivitiesOhmM, thicknessesM }: LayeredGround) => [...resistivitiesOhmM, ...thicknessesM];

describe('layers from a ladder without noise', () => {
  it.each([
    { name: 'cover on rock, Wenner', ground: COVER_ON_ROCK, hookup: 'wenner_alpha' },
    { name: 'cover on rock, pole-pole', ground: COVER_ON_ROCK, hookup: 'pole_pole' },
    { name: 'a dry layer, Schlumberger', ground: DRY_LAYER, hookup: 'schlumberger' },
    { name: 'a clay layer, dipole-dipole', ground: CLAY_LAYER, hookup: 'dipole_dipole' },
    { name: 'three layers that rise, pole-pole', ground: RISING, hookup: 'pole_pole' },
    {
      name: 'four layers, Wenner',
      ground: { resistivitiesOhmM: [100, 400, 40, 800], thicknessesM: [1.5, 4, 12] },
      hookup: 'wenner_alpha',
    },
  ] as const)('are the very ones that made it: $name', ({ ground, hookup }) => {
    const layers = ground.resistivitiesOhmM.length;
    const { model } = sounded({ readings: ladderOver(ground, { hookup }), fewestLayers: layers, mostLayers: layers });
    for (const [i, { value }] of valuesOf(model).entries()) {
      expect(Math.abs(value / (truthOf(ground)[i] as number) - 1), `parameter ${i}`).toBeLessThan(1e-3);
    }
    expect(model.misfit).toBeLessThan(1e-3);
  });

  it('come out of ladders of different arrays together', () => {
    const readings = [
      ...ladderOver(RISING, { hookup: 'pole_pole', spacingsM: [2, 4, 8, 20] }),
      ...ladderOver(RISING, { hookup: 'wenner_alpha', spacingsM: [1, 3, 10, 30] }),
    ];
    const { model } = sounded({ readings, fewestLayers: 3, mostLayers: 3 });
    for (const [i, { value }] of valuesOf(model).entries()) {
      expect(Math.abs(value / (truthOf(RISING)[i] as number) - 1)).toBeLessThan(1e-3);
    }
  });
});

/*
 * 95 % ranges are to hold the truth in about 95 of 100 ladders. Of 150 a share of 0.95 comes out between 0.90 and 0.99 (about
 * two and a half standard errors). A range that is open on one side cannot miss there, and so holds it more often.
 */
describe('95 % ranges of ladders with 3 % noise', () => {
  it.each([
    { name: 'cover on rock, σ known', ground: COVER_ON_ROCK, sigma: 0.03 },
    { name: 'cover on rock, σ from the scatter', ground: COVER_ON_ROCK, sigma: null },
    { name: 'a dry layer, σ known', ground: DRY_LAYER, sigma: 0.03 },
    { name: 'a clay layer, σ known', ground: CLAY_LAYER, sigma: 0.03 },
    { name: 'a clay layer, σ from the scatter', ground: CLAY_LAYER, sigma: null },
  ])('hold the truth as often as they say: $name', ({ ground, sigma }) => {
    const layers = ground.resistivitiesOhmM.length;
    const truth = truthOf(ground);
    const held = truth.map(() => 0);
    const open = truth.map(() => 0);
    const ladders = 150;
    for (let seed = 1; seed <= ladders; seed += 1) {
      const readings = ladderOver(ground, { noise: 0.03, sigma, seed });
      const { model } = sounded({ readings, fewestLayers: layers, mostLayers: layers });
      for (const [i, { low95, high95, openLow, openHigh }] of valuesOf(model).entries()) {
        if (openLow || openHigh) open[i] = (open[i] as number) + 1;
        if (low95 <= (truth[i] as number) && (truth[i] as number) <= high95) held[i] = (held[i] as number) + 1;
      }
    }
    for (const [i, count] of held.entries()) {
      expect(count / ladders, `parameter ${i}`).toBeGreaterThanOrEqual(0.9);
      if ((open[i] as number) < 0.1 * ladders) expect(count / ladders, `parameter ${i}`).toBeLessThanOrEqual(0.99);
    }
  });
});

describe('the number of layers', () => {
  it.each([
    { layers: 1, ground: { resistivitiesOhmM: [50], thicknessesM: [] } },
    { layers: 2, ground: COVER_ON_ROCK },
    { layers: 3, ground: DRY_LAYER },
    { layers: 3, ground: CLAY_LAYER },
  ])('is found to be $layers in nine of ten noisy ladders over $ground.resistivitiesOhmM', ({ layers, ground }) => {
    let right = 0;
    for (let seed = 1; seed <= 40; seed += 1) {
      const { model } = sounded({ readings: ladderOver(ground, { noise: 0.03, seed }) });
      if (model.layers === layers) right += 1;
    }
    expect(right).toBeGreaterThanOrEqual(36);
  });

  it('does not go beyond what the spacings carry', () => {
    const { tried } = sounded({ readings: ladderOver(DRY_LAYER, { spacingsM: [2, 4, 8, 20], noise: 0.03 }) });
    expect(Math.max(...tried.map(({ layers }) => layers))).toBe(2);
  });
});

describe('equivalence', () => {
  it('says that a thin resistive layer is known by its resistance across, ρ·h', () => {
    const { model } = sounded({
      readings: ladderOver(DRY_LAYER, { noise: 0.03, seed: 7 }),
      fewestLayers: 3,
      mostLayers: 3,
    });
    const across = model.equivalences.find(({ layer }) => layer === 1);
    expect(across?.kind).toBe('resistance_across');
    // ρ·h of the truth: 1000 Ω·m × 3 m.
    expect(across?.low95).toBeLessThan(3000);
    expect(across?.high95).toBeGreaterThan(3000);
    expect(across?.sentence).toContain('resistivity × thickness');
  });

  it('says that a thin conductive layer is known by its conductance along, h/ρ', () => {
    const thin = { resistivitiesOhmM: [100, 5, 100], thicknessesM: [1, 1] };
    const { model } = sounded({ readings: ladderOver(thin, { noise: 0.03, seed: 4 }), fewestLayers: 3, mostLayers: 3 });
    const along = model.equivalences.find(({ layer }) => layer === 1);
    expect(along?.kind).toBe('conductance_along');
    // h/ρ of the truth: 1 m / 5 Ω·m.
    expect(along?.low95).toBeLessThan(0.2);
    expect(along?.high95).toBeGreaterThan(0.2);
  });

  it('is no matter where the ladder fixes both', () => {
    const { model } = sounded({ readings: ladderOver(COVER_ON_ROCK, { noise: 0.03 }), fewestLayers: 2, mostLayers: 2 });
    expect(model.equivalences).toEqual([]);
  });

  it('leaves a range open where only the limit of the search ends it', () => {
    // Spacings to 8 m over 30 m of cover: of the base there is nothing to see.
    const deep = { resistivitiesOhmM: [50, 1000], thicknessesM: [30] };
    const { model } = sounded({
      readings: ladderOver(deep, { spacingsM: [1, 2, 3, 4, 6, 8], noise: 0.03 }),
      fewestLayers: 2,
      mostLayers: 2,
    });
    const [, base] = model.resistivities;
    expect(base?.openLow || base?.openHigh).toBe(true);
  });
});

describe('a ladder that says nothing of layers', () => {
  it('of two probes is refused with the reason', () => {
    const readings = ladderOver(COVER_ON_ROCK).map((reading) => ({ ...reading, hookup: 'two_probe' as const }));
    const outcome = soundLayers({ readings });
    expect(outcome).toMatchObject({ ok: false, code: 'no_resistivity_from_two_probes' });
    expect(outcome.ok ? '' : outcome.sentence).toContain('no resistivity from two probes');
  });

  it('of too few spacings is refused, repeats or not', () => {
    const readings = ladderOver(COVER_ON_ROCK, { spacingsM: [2, 4, 4, 4] });
    expect(soundLayers({ readings })).toMatchObject({ ok: false, code: 'too_few_spacings' });
    const four = ladderOver(COVER_ON_ROCK, { spacingsM: [2, 4, 8, 20] });
    expect(soundLayers({ readings: four, fewestLayers: 3 })).toMatchObject({ ok: false, code: 'too_few_spacings' });
  });

  it('of readings that are not above 0 is refused', () => {
    const [first, ...rest] = ladderOver(COVER_ON_ROCK);
    const readings = [{ ...(first as SoundingReading), apparentOhmM: 0 }, ...rest];
    expect(soundLayers({ readings })).toMatchObject({ ok: false, code: 'reading_not_positive' });
  });
});

describe('a four-spacing ladder over thin soil on limestone', () => {
  it('is told from uniform ground, and its cover found, once its error is stated', () => {
    const readings = ladderOver(COVER_ON_ROCK, { hookup: 'pole_pole', spacingsM: [2, 4, 8, 20], noise: 0.03, seed: 9 });
    const { model, sigmaKnown } = sounded({ readings });
    expect(sigmaKnown).toBe(true);
    expect(model.layers).toBe(2);
    const [cover] = model.thicknesses;
    expect(cover?.low95).toBeLessThan(3);
    expect(cover?.high95).toBeGreaterThan(3);
  });

  it('carries too few readings to estimate the error from as well', () => {
    const readings = ladderOver(COVER_ON_ROCK, { hookup: 'pole_pole', spacingsM: [2, 4, 8, 20], sigma: null });
    const { model, tried } = sounded({ readings });
    expect(tried.find(({ layers }) => layers === 2)?.criterion).toBe(Infinity);
    expect(model.layers).toBe(1);
    expect(model.misfit).toBeGreaterThan(0.3);
  });
});

describe('the search', () => {
  it('answers the same to the same readings', () => {
    const readings = ladderOver(RISING, { noise: 0.03, seed: 3 });
    expect(soundLayers({ readings })).toEqual(soundLayers({ readings }));
  });

  it('keeps within the limits that it is given', () => {
    const bounds = { lowestOhmM: 20, highestOhmM: 500, thinnestM: 0.5, thickestM: 10 };
    const { model } = sounded({ readings: ladderOver(COVER_ON_ROCK), bounds, fewestLayers: 2, mostLayers: 2 });
    for (const { value, low95, high95 } of model.resistivities) {
      expect(Math.min(value, low95)).toBeGreaterThanOrEqual(20 * (1 - 1e-9));
      expect(Math.max(value, high95)).toBeLessThanOrEqual(500 * (1 + 1e-9));
    }
  });
});
