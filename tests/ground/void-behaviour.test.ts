import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { factorOfPlacesM, type Place, type SurfaceElectrodes } from '../../src/ground/small-void';
import type { VoidPlace, VoidQuestion } from '../../src/ground/void-question';
import { createVoidModel, type VoidModel } from '../../src/ground/void-response';
import { roundChamber, roundPassage, type VoidShape } from '../../src/ground/void-shape';
import { firstVoidAnswer } from './first-void-answer';
import { modelOf, polePole } from './over-a-void';
import { createVoidModelCache } from './void-model-cache';

const question = (
  depthM: number,
  electrodes: readonly SurfaceElectrodes[],
  more: Partial<VoidQuestion & VoidPlace> = {},
): VoidQuestion => ({
  place: { xM: more.xM ?? 0, yM: more.yM ?? 0, depthM, bearingDeg: more.bearingDeg ?? 0 },
  hostOhmM: more.hostOhmM ?? 500,
  fillOhmM: more.fillOhmM ?? Infinity,
  electrodes,
});

function ratiosOf(of: VoidModel, asked: VoidQuestion): number[] {
  const answered = of.answer(asked);
  if (!answered.ok) throw new Error(answered.sentence);
  return answered.value.map(({ ratio }) => ratio);
}

const steps = (from: number, to: number, step: number): number[] =>
  Array.from({ length: Math.round((to - from) / step) + 1 }, (_, i) => from + i * step);

describe('the most that an empty void does to a pole-pole reading, whatever the spacing and place', () => {
  /** Percent, over spacings of ½-6 m, midpoints up to 4 m off. */
  function most(of: VoidModel, depthM: number, bearingDeg: number): number {
    const electrodes = steps(0.5, 6, 0.25).flatMap((a) => steps(0, 4, 0.5).map((x) => polePole(a, x)));
    return 100 * (Math.max(...ratiosOf(of, question(depthM, electrodes, { bearingDeg }))) - 1);
  }

  /* The sizes that the design states, in whole or half percent. */
  it.each([
    [2, 20, 25],
    [3, 8, 10],
  ])(
    'a passage of radius 1 m, axis %d m down: +%d percent across the line and +%d along it',
    (depthM, across, along) => {
      const of = modelOf(roundPassage(1), depthM);
      expect(Math.abs(most(of, depthM, 90) - across)).toBeLessThan(0.5);
      expect(Math.abs(most(of, depthM, 0) - along)).toBeLessThan(0.5);
    },
  );

  it('a chamber of radius 1 m: +6.5 % at 2 m, +2 % at 3 m', () => {
    expect(Math.abs(most(modelOf(roundChamber(1), 2), 2, 0) - 6.5)).toBeLessThan(0.25);
    expect(Math.abs(most(modelOf(roundChamber(1), 3), 3, 0) - 2)).toBeLessThan(0.5);
  });
});

describe('profiles over an empty passage square to the line', () => {
  /*
   * Depth, radius, spacing, highest and lowest change in percent, offsets of both in metres: exact cylinder (Fourier
   * along strike, Bessel multipoles, mirror cylinder; computed for this project, rounded to 0.1 %). Null: not in the table.
   */
  it.each([
    [1.5, 1, 2, 27.7, 1.25, null],
    [1.5, 1, 4, 16.3, 2.5, null],
    [1.5, 1, 8, 9.1, 5, -7.8],
    [1.5, 1, 20, 3.9, 11.3, -3.5],
    [2, 1, 2, 17.6, 0.5, null],
    [2, 1, 4, 10.7, 2.5, null],
    [2, 1, 8, 6.2, 5, -4.8],
    [3, 1, 2, 7.9, 0, null],
    [3, 1, 4, 6.1, 2, null],
    [3, 1, 8, 3.7, 5, -1],
    [4, 2, 8, 10.7, 5, null],
    [4, 2, 20, 5.1, 12.3, -4.4],
  ] as const)('depth %d m, radius %d m, a = %d m: %d percent at %d m', (depthM, radiusM, a, high, at, low) => {
    const of = cache.modelOf(roundPassage(radiusM, 40 * radiusM), depthM);
    if (!of.ok) throw new Error(of.sentence);
    const offsets = steps(0, 0.75 * a, 0.25);
    const asked = question(
      depthM,
      offsets.map((x) => polePole(a, x)),
      { bearingDeg: 90 },
    );
    const changes = ratiosOf(of.value, asked).map((ratio) => 100 * (ratio - 1));
    const highest = Math.max(...changes);
    expect(Math.abs(highest - high)).toBeLessThan(0.11);
    expect(Math.abs((offsets[changes.indexOf(highest)] as number) - at)).toBeLessThan(0.51);
    if (low !== null) expect(Math.abs(Math.min(...changes) - low)).toBeLessThan(0.11);
  });
  const cache = createVoidModelCache();
});

describe('the sign of an empty void under the midpoint', () => {
  /** Depth over the spacing that it is blind to. */
  function blind(of: VoidModel, depthM: number, bearingDeg: number): number {
    let [low, high] = [depthM, 4 * depthM];
    for (let i = 0; i < 30; i += 1) {
      const a = (low + high) / 2;
      const [ratio] = ratiosOf(of, question(depthM, [polePole(a, 0)], { bearingDeg }));
      if ((ratio as number) > 1) low = a;
      else high = a;
    }
    return depthM / low;
  }

  it('turns at half the spacing for a small chamber (first-order zero on the half-sphere over the probes)', () => {
    expect(blind(modelOf(roundChamber(0.1), 1), 1, 0)).toBeCloseTo(0.5, 2);
  });

  it('turns at 0.43-0.47 of the spacing for passages across the line under a roof of one radius or a little more', () => {
    for (const depthM of [1.7, 2, 3]) {
      const share = blind(modelOf(roundPassage(1), depthM), depthM, 90);
      expect(share).toBeGreaterThan(0.43);
      expect(share).toBeLessThan(0.47);
    }
  });

  it('is a high below the spacing of twice the depth and a low above', () => {
    for (const shape of [roundChamber(1), roundPassage(1)]) {
      const electrodes = [1, 2, 3, 8, 12, 20].map((a) => polePole(a, 0));
      const ratios = ratiosOf(modelOf(shape, 2), question(2, electrodes, { bearingDeg: 90 }));
      expect(ratios.map((ratio) => Math.sign(ratio - 1))).toEqual([1, 1, 1, -1, -1, -1]);
    }
  });
});

describe('any void', () => {
  const SHAPES: readonly VoidShape[] = [
    { kind: 'chamber', halfAxesM: [1.5, 0.8, 0.6] },
    { kind: 'passage', lengthM: 12, widthM: 1.6, heightM: 0.9 },
  ];
  const electrode = fc
    .tuple(fc.double({ min: -9, max: 9, noNaN: true }), fc.double({ min: -9, max: 9, noNaN: true }))
    .map(([x, y]): Place => [x, y, 0]);
  const apart = (places: readonly Place[]): boolean =>
    places.every((p, i) => places.slice(0, i).every((q) => Math.hypot(p[0] - q[0], p[1] - q[1]) > 0.5));
  const four = fc
    .tuple(electrode, electrode, electrode, electrode)
    .filter(apart)
    .map(([a, b, m, n]) => ({ a, b, m, n }))
    .filter((electrodes) => Math.abs(factorOfPlacesM(electrodes)) < 1000);
  const two = fc
    .tuple(electrode, electrode)
    .filter(apart)
    .map(([a, m]): SurfaceElectrodes => ({ a, b: null, m, n: null }));
  const models = SHAPES.map((shape) => modelOf(shape, 1.8, { quarterTurn: 4, refine: false }));
  const body = fc.constantFrom(...models);

  it('does not care which pair drives the current (reciprocity)', () => {
    fc.assert(
      fc.property(body, four, (of, { a, b, m, n }) => {
        const there = { a, b, m, n };
        const back = { a: m, b: n, m: a, n: b };
        const [first, second] = ratiosOf(of, question(1.8, [there, back])) as [number, number];
        expect(Math.abs(first - second)).toBeLessThan(1e-6 * (1 + Math.abs(first)));
      }),
      { numRuns: 40 },
    );
  });

  it('does not care about the frame: moved, turned, all lengths and all resistivities times as much', () => {
    fc.assert(
      fc.property(
        body,
        two,
        fc.double({ min: -180, max: 180, noNaN: true }),
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        (of, { a, m }, turnDeg, times) => {
          const asked = question(1.8, [{ a, b: null, m, n: null }], { bearingDeg: 20, fillOhmM: 90 });
          const [cos, sin] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)];
          const move = ([x, y]: Place): Place => [times * (x * cos - y * sin) + 30, times * (x * sin + y * cos) - 4, 7];
          const moved = question(1.8 * times, [{ a: move(a), b: null, m: move(m), n: null }], {
            bearingDeg: 20 + turnDeg,
            xM: 30,
            yM: -4,
            hostOhmM: 500 * times,
            fillOhmM: 90 * times,
          });
          expect(ratiosOf(of, moved)[0]).toBeCloseTo(ratiosOf(of, asked)[0] as number, 9);
        },
      ),
      { numRuns: 40 },
    );
  });

  it('of the same proportions is the same void', () => {
    const [small, large] = [
      modelOf(SHAPES[1] as VoidShape, 1.8),
      modelOf({ kind: 'passage', lengthM: 24, widthM: 3.2, heightM: 1.8 }, 3.6),
    ];
    const asked = question(3.6, [polePole(5, 1)], { bearingDeg: 50 });
    expect(ratiosOf(small, asked)[0]).toBeCloseTo(ratiosOf(large, asked)[0] as number, 12);
  });

  it('adds up: a four-electrode reading is its four pole-pole potentials', () => {
    const [of] = models as [VoidModel];
    const [a, b, m, n] = [-4, 5, -1, 1.5].map((x): Place => [x, 0.4, 0]) as [Place, Place, Place, Place];
    const pairs = [
      [a, m, 1],
      [a, n, -1],
      [b, m, -1],
      [b, n, 1],
    ] as const;
    const poles = ratiosOf(
      of,
      question(
        1.8,
        pairs.map(([c, p]) => ({ a: c, b: null, m: p, n: null })),
      ),
    );
    const sum = (weights: readonly number[]): number =>
      pairs.reduce((s, [c, p, sign], i) => s + (sign * (weights[i] as number)) / Math.abs(c[0] - p[0]), 0);
    expect(ratiosOf(of, question(1.8, [{ a, b, m, n }]))[0]).toBeCloseTo(sum(poles) / sum([1, 1, 1, 1]), 10);
  });

  it('hardly differs between a very good conductor and a perfect one', () => {
    for (const of of models) {
      const [good] = ratiosOf(of, question(1.8, [polePole(2, 0)], { fillOhmM: 1e-6 })) as [number];
      const [perfect] = ratiosOf(of, question(1.8, [polePole(2, 0)], { fillOhmM: 0 })) as [number];
      expect(Math.abs(good - perfect)).toBeLessThan(1e-5);
      expect(perfect).toBeLessThan(0.98);
    }
  });
});

describe('the error that is told', () => {
  it('covers what much finer panels change, under a thin roof too', () => {
    for (const [shape, depthM] of [
      [roundChamber(1), 1.2],
      [roundPassage(1, 8), 1.5],
      [{ kind: 'chamber', halfAxesM: [3, 1, 0.7] }, 1.5],
    ] as const) {
      const electrodes = [polePole(1, 0), polePole(2, 0.5), polePole(4, 2), polePole(8, 0)];
      const told = modelOf(shape, depthM).answer(question(depthM, electrodes, { bearingDeg: 60 }));
      const finer = modelOf(shape, depthM, { quarterTurn: 8, mostPanels: 1000 }).answer(
        question(depthM, electrodes, { bearingDeg: 60 }),
      );
      if (!told.ok || !finer.ok) throw new Error('refused');
      for (const [i, { ratio, ratioError }] of told.value.entries()) {
        expect(Math.abs(ratio - (finer.value[i]?.ratio as number))).toBeLessThan((ratioError as number) + 1e-5);
      }
    }
  });
});

describe('what cannot be answered', () => {
  it.each([
    ['void_size_not_positive', roundChamber(0), 2],
    ['void_breaks_ground', roundChamber(2), 2],
    ['void_breaks_ground', roundPassage(2), 1.5],
    ['roof_too_thin', roundPassage(1.99), 2],
  ] as const)('is refused as %s', (code, shape, depthM) => {
    expect(createVoidModel(shape, depthM)).toMatchObject({ ok: false, code });
    expect(createVoidModelCache().modelOf(shape, depthM)).toMatchObject({ ok: false, code });
  });

  const at = (x: number, z = 0): Place => [x, 0, z];
  it.each([
    ['resistivity_not_positive', { hostOhmM: 0 }, polePole(2, 0)],
    ['place_not_a_number', { bearingDeg: Number.NaN }, polePole(2, 0)],
    ['electrodes_not_level', {}, { a: at(0), b: null, m: at(2, -1), n: null }],
    ['electrodes_coincide', {}, { a: at(0), b: at(2), m: at(0), n: at(2) }],
    ['array_without_response', {}, { a: at(0), b: null, m: at(2), n: at(-2) }],
  ] as const)('is refused as %s', (code, more, electrodes) => {
    const asked = question(2, [electrodes], more);
    expect(modelOf(roundChamber(1), 2, { quarterTurn: 4, refine: false }).answer(asked)).toMatchObject({
      ok: false,
      code,
    });
    expect(firstVoidAnswer(roundChamber(1), asked)).toMatchObject({ ok: false, code });
  });
});

describe('the models that are kept', () => {
  it('are one for one shape over depth, and no more than were asked to be kept', () => {
    const cache = createVoidModelCache(2);
    const options = { quarterTurn: 4, refine: false };
    const first = cache.modelOf(roundChamber(1), 2, options);
    expect(cache.modelOf(roundChamber(3), 6, options)).toBe(first);
    expect(cache.modelOf(roundChamber(1), 2, { ...options, quarterTurn: 6 })).not.toBe(first);
    cache.modelOf(roundChamber(1), 3, options);
    expect(cache.modelOf(roundChamber(1), 2, options)).not.toBe(first);
  });
});
