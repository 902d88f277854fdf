import { describe, expect, it } from 'vitest';
import type { SurfaceElectrodes } from '../../src/ground/small-void';
import { createVoidModel } from '../../src/ground/void-response';
import { roundChamber, roundPassage, type VoidShape } from '../../src/ground/void-shape';
import { firstVoidAnswer } from './first-void-answer';
import { polePole } from './over-a-void';
import { sphereSeriesResponse } from './sphere-series';

const HOST_OHM_M = 500;

const wenner = (a: number, x: number): SurfaceElectrodes => ({
  a: [x - 1.5 * a, 0, 0],
  b: [x + 1.5 * a, 0, 0],
  m: [x - a / 2, 0, 0],
  n: [x + a / 2, 0, 0],
});

describe('the series of a sphere without mutual coupling', () => {
  /* a, offset, depth, fill over host, ρa/ρ₁, radius 1 m: the closed series, evaluated for this project. */
  it.each([
    [2, 0, 2, Infinity, 1.046686],
    [4, 0, 2, Infinity, 0.994864],
    [8, 0, 2, Infinity, 0.988079],
    [20, 0, 2, Infinity, 0.998311],
    [4, 2, 2, Infinity, 1.020431],
    [4, 4, 2, Infinity, 1.011859],
    [4, 0, 1.5, Infinity, 0.964446],
    [4, 0, 3, Infinity, 1.008336],
    [4, 0, 2, 0.1, 1.006042],
    [4, 0, 2, 0.01, 1.007532],
  ])('at a %d m, offset %d m, depth %d m, fill %d × host, is %d', (a, x, depth, fill, expected) => {
    const sphere = { centre: [0, 0, -depth] as const, radiusM: 1, fillOhmM: fill * HOST_OHM_M };
    expect(1 + sphereSeriesResponse(sphere, HOST_OHM_M, polePole(a, x))).toBeCloseTo(expected, 6);
  });
});

describe('a first answer', () => {
  const ask = (depthM: number, fillOhmM: number, electrodes: readonly SurfaceElectrodes[], bearingDeg = 0) => ({
    place: { xM: 0.3, yM: 0.2, depthM, bearingDeg },
    hostOhmM: HOST_OHM_M,
    fillOhmM,
    electrodes,
  });

  it.each([
    ['an empty chamber', roundChamber(1), 1.5, Infinity, 0],
    ['a chamber of water', roundChamber(1), 2, 30, 0],
    ['an empty passage across', roundPassage(1), 2, Infinity, 90],
    ['an empty passage along', roundPassage(1), 3, Infinity, 0],
    ['a passage of dry sand', roundPassage(1), 2.5, 1200, 40],
  ] as const)('for %s is off by no more than it says', (_, shape, depthM, fillOhmM, bearingDeg) => {
    const electrodes = [0.5, 1, 2, 4, 8, 16].flatMap((a) =>
      [0, 0.5, 1, 2, 5, 8].flatMap((x) => [polePole(a, x), wenner(a, x)]),
    );
    const asked = ask(depthM, fillOhmM, electrodes, bearingDeg);
    const quick = firstVoidAnswer(shape, asked);
    const model = createVoidModel(shape, depthM, { quarterTurn: 4 });
    const full = model.ok ? model.value.answer(asked) : model;
    if (!quick.ok || !full.ok) throw new Error('refused');
    for (const [i, { ratio, ratioError }] of quick.value.entries()) {
      const exact = full.value[i]?.ratio as number;
      const doubt = full.value[i]?.ratioError as number;
      expect(Math.abs(ratio - exact)).toBeLessThan((ratioError as number) + doubt);
    }
  });

  it.each([
    ['under a thin roof', roundChamber(1), 1.3, Infinity],
    ['of a flattened passage', { kind: 'passage', lengthM: 40, widthM: 4, heightM: 1 } as VoidShape, 3, Infinity],
    ['of a chamber that is not round', { kind: 'chamber', halfAxesM: [2, 1, 1] } as VoidShape, 4, Infinity],
    ['of a passage that leads current along', roundPassage(1), 3, 30],
  ] as const)('is not given %s', (_, shape, depthM, fillOhmM) => {
    const answered = firstVoidAnswer(shape, ask(depthM, fillOhmM, [polePole(2, 0)]));
    expect(answered).toMatchObject({ ok: false, code: 'no_closed_form' });
  });
});
