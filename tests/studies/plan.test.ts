import { describe, expect, it } from 'vitest';
import { roundChamber, roundPassage } from '../../src/ground/void-shape';
import { type PlannedGround, type PlanQuestion, planReadings } from '../../src/studies/plan';
import { type PlanAdvice, type PlanTarget, planSurvey } from '../../src/studies/plan-advice';
import { twoProbeChange } from '../../src/studies/plan-two-probe';
import { adviceWords } from '../../src/studies/plan-words';
import type { Hookup } from '../../src/survey/hookup';
import { ENDLESS_PASSAGE } from '../ground/over-a-void';

const LADDER = [2, 4, 8, 20];

function planned(question: Partial<PlanQuestion> & { ground: PlannedGround }) {
  const answer = planReadings({ hookup: 'pole_pole', spacingsM: LADDER, offsetsM: [0], n: 1, ...question });
  if (!answer.ok) throw new Error(answer.sentence);
  return answer.value;
}

const passage = (more: Partial<Extract<PlannedGround, { kind: 'void' }>> = {}): PlannedGround => ({
  kind: 'void',
  shape: roundPassage(1, 100),
  depthM: 2,
  bearingDeg: 90,
  fillOhmM: Number.POSITIVE_INFINITY,
  hostOhmM: 500,
  ...more,
});

describe('a plan', () => {
  it('lists spacings × offsets, offsets fastest', () => {
    const rows = planned({ ground: passage(), spacingsM: [2, 4], offsetsM: [0, 1, 2] });
    expect(rows.map(({ spacingM, offsetM }) => [spacingM, offsetM])).toEqual([
      [2, 0],
      [2, 1],
      [2, 2],
      [4, 0],
      [4, 1],
      [4, 2],
    ]);
  });

  // Three layers by numerical Hankel integrals and by power series of images, which agree (computed for this project).
  it.each([
    [
      [100, 1000, 100],
      [1, 3],
      [253.321097, 290.147272, 259.390246, 146.215623],
      [216.494922, 320.904297, 347.057496, 185.481094],
    ],
    [
      [50, 200, 2000],
      [2, 5],
      [148.752305, 233.553554, 369.954629, 656.218552],
      [63.951055, 97.152478, 165.400516, 359.041241],
    ],
  ])('reads layers of %j Ω·m, %j m thick, as they are tabled', (resistivitiesOhmM, thicknessesM, polePole, wenner) => {
    const ground: PlannedGround = { kind: 'layers', ground: { resistivitiesOhmM, thicknessesM } };
    for (const [hookup, table] of [
      ['pole_pole', polePole],
      ['wenner_alpha', wenner],
    ] as const) {
      planned({ ground, hookup }).forEach(({ apparentOhmM, figureOhmM, ratio }, i) => {
        expect((apparentOhmM as number) / (table[i] as number) - 1).toBeCloseTo(0, 6);
        expect(figureOhmM).toBe(apparentOhmM);
        expect(ratio).toBeNull();
      });
    }
  });

  // Anomalies to 2 %, or 0.0003 of the ratio where they are small.
  it.each(ENDLESS_PASSAGE)(
    'reads over a passage, at %d m and %d m beside it, %d of the reading without',
    (spacing, offset, exact) => {
      const [row] = planned({ ground: passage(), spacingsM: [spacing], offsetsM: [offset] });
      const allowed = Math.max(0.0003, 0.02 * Math.abs(exact - 1));
      expect(Math.abs((row?.ratio as number) - exact)).toBeLessThan(allowed);
      expect(row?.figureOhmM).toBeCloseTo(500 * (row?.ratio as number), 9);
    },
  );

  // Even field over an empty cylinder, R/z = 0.2: 1.0806 (limit of the same exact series; first order 1 + 2(R/z)² = 1.08).
  it('takes the potential pair of a Schlumberger reading as at a point, however wide AB is', () => {
    const ground = passage({ shape: roundPassage(1, 400), depthM: 5 });
    for (const spacingM of [100, 200]) {
      const [row] = planned({ ground, hookup: 'schlumberger', spacingsM: [spacingM] });
      expect(Math.abs((row?.ratio as number) - 1.0806)).toBeLessThan(0.02 * 0.0806);
    }
  });

  it('reads the same when all lengths are three times as long', () => {
    const one = planned({ ground: passage({ shape: roundChamber(1) }), offsetsM: [1] });
    const three = planned({
      ground: passage({ shape: roundChamber(3), depthM: 6 }),
      spacingsM: LADDER.map((spacing) => 3 * spacing),
      offsetsM: [3],
    });
    expect(one).toHaveLength(LADDER.length);
    for (const [i, { ratio }] of one.entries()) expect(three[i]?.ratio).toBeCloseTo(ratio as number, 9);
  });

  it('reads two probes as mostly contact', () => {
    // Rods of 0.3 m and 5 mm radius in 100 Ω·m: 2Rc − ρ/πa with Dwight's Rc (computed for this project).
    const ground: PlannedGround = { kind: 'rods', groundOhmM: 100, rod: { lengthM: 0.3, radiusM: 0.005 } };
    const rows = planned({ ground, hookup: 'two_probe' });
    expect(rows.map(({ resistanceOhm }) => Number(resistanceOhm?.toFixed(4)))).toEqual([
      459.4951, 467.4528, 471.4317, 473.819,
    ]);
    expect(rows.map(({ figureOhmM }) => Math.round(figureOhmM))).toEqual([5774, 11748, 23697, 59542]);
  });

  it('refuses what cannot be: a void under two probes, no roof, no layout', () => {
    const code = (question: Partial<PlanQuestion>) => {
      const answer = planReadings({
        hookup: 'pole_pole',
        spacingsM: [2],
        offsetsM: [0],
        n: 1,
        ground: passage(),
        ...question,
      });
      return answer.ok ? null : answer.code;
    };
    expect(code({ hookup: 'two_probe' })).toBe('two_probe_sees_no_such_ground');
    expect(code({ ground: passage({ depthM: 0.5 }) })).toBe('void_breaks_ground');
    expect(code({ hookup: 'four_electrode' })).toBe('layout_not_given');
    expect(code({ spacingsM: [] })).toBe('spacing_not_positive');
    expect(code({ hookup: 'dipole_dipole', n: 0 })).toBe('separation_not_positive');
    const rods: PlannedGround = { kind: 'rods', groundOhmM: 100, rod: { lengthM: 0.3, radiusM: 0.005 } };
    expect(code({ hookup: 'two_probe', ground: rods, spacingsM: [0.2] })).toBe('rods_too_close');
    expect(code({ hookup: 'two_probe', ground: passage({ depthM: 0.5 }) })).toBe('void_breaks_ground');
    expect(code({ ground: { kind: 'layers', ground: { resistivitiesOhmM: [1], thicknessesM: [1] } } })).toBe(
      'ground_not_positive',
    );
  });
});

describe('how to look for a void', () => {
  const target: PlanTarget = {
    kind: 'passage',
    radiusM: 1,
    depthM: 2,
    lengthM: 40,
    bearingDeg: 90,
    fillOhmM: Number.POSITIVE_INFINITY,
    hostOhmM: 500,
  };

  it('puts two stations within what shows, and tells the smallest void that would', () => {
    const advice = planSurvey(target, 'pole_pole', 0.03);
    if (!advice.ok) throw new Error(advice.sentence);
    const { spacings, bestSpacingM, stationStepM, lineLengthM, smallestRadiusM, remotesM } = advice.value;
    const best = spacings.find(({ spacingM }) => spacingM === bestSpacingM);
    expect(best?.highest).toBe(Math.max(...spacings.map(({ highest }) => highest)));
    // +20 % across the line at best (stated for the program, from exact series).
    expect(best?.highest).toBeCloseTo(0.2, 2);
    expect(stationStepM).toBeLessThanOrEqual(spacings[0]?.spacingM as number);
    expect(lineLengthM).toBeGreaterThan(2 * (spacings.at(-1)?.spacingM as number));
    expect(smallestRadiusM).toBeGreaterThan(0.3);
    expect(smallestRadiusM).toBeLessThan(1);
    // Square off −7.488 % is left at 20 spacings, −4.997 % at 30 (closed form): 5 % needs just under 30.
    expect(remotesM).toBeGreaterThan(29 * 12);
    expect(remotesM).toBeLessThanOrEqual(30 * 12);
  });

  const adviceOf = (more: Partial<PlanTarget> = {}, hookup: Hookup = 'pole_pole', noise = 0.03): PlanAdvice => {
    const advice = planSurvey({ ...target, ...more }, hookup, noise);
    if (!advice.ok) throw new Error(advice.sentence);
    return advice.value;
  };

  it.each(['pole_pole', 'wenner_alpha', 'dipole_dipole', 'pole_dipole', 'schlumberger'] as const)(
    'of %s has two stations on the anomaly wherever they fall, and line for the widest array beyond it',
    (hookup) => {
      const advice = adviceOf({}, hookup);
      const step = advice.stationStepM;
      const offsets = Array.from({ length: 401 }, (_, i) => (i - 200) / 20);
      const profile = planned({ ground: passage(), hookup, spacingsM: [advice.bestSpacingM], offsetsM: offsets });
      const changes = profile.map(({ ratio }) => Math.log(ratio as number));
      const half = Math.max(...changes.map(Math.abs)) / 2;
      const on = offsets.filter((_, i) => Math.abs(changes[i] as number) > 0.95 * half);
      for (let phase = 0; phase < step; phase += step / 7) {
        const met = new Set(
          on
            .map((offset) => Math.round((offset - phase) / step))
            .filter((k) => on.some((offset) => Math.abs(offset - phase - k * step) <= 0.026)),
        );
        expect(met.size).toBeGreaterThanOrEqual(2);
      }
      const widest = advice.spacings.at(-1)?.spacingM as number;
      const spread = { pole_pole: 1, wenner_alpha: 3, dipole_dipole: 3, pole_dipole: 2, schlumberger: 2 }[hookup];
      expect(advice.lineLengthM).toBeGreaterThanOrEqual(spread * widest + 2 * (advice.anomalyReachM + 3 * step));
    },
  );

  it('goes beyond the ends of a passage that runs along the line', () => {
    expect(adviceOf({ bearingDeg: 0 }).lineLengthM).toBeGreaterThan(target.lengthM + 2 * 3);
  });

  it('is twice as long in all its lengths for a void twice as large and deep', () => {
    const [one, two] = [adviceOf(), adviceOf({ radiusM: 2, depthM: 4, lengthM: 80 })];
    expect(two.spacings.map(({ spacingM }) => spacingM)).toEqual(one.spacings.map(({ spacingM }) => 2 * spacingM));
    expect(two.bestSpacingM).toBe(2 * one.bestSpacingM);
    expect(two.stationStepM).toBe(2 * one.stationStepM);
    expect(two.anomalyReachM).toBe(2 * one.anomalyReachM);
    expect(two.smallestRadiusM).toBeCloseTo(2 * (one.smallestRadiusM as number), 9);
  });

  it('names as the smallest a void that just shows, whatever the size of the target', () => {
    const smallest = adviceOf().smallestRadiusM as number;
    expect(adviceOf({ radiusM: 1.9 }).smallestRadiusM).toBeCloseTo(smallest, 6);
    const most = Math.max(...adviceOf({ radiusM: smallest }).spacings.map(({ highest }) => Math.log1p(highest)));
    expect(most).toBeGreaterThanOrEqual(0.06);
    expect(most).toBeLessThan(0.062);
    const words = adviceWords(adviceOf({ radiusM: 0.9 * smallest }), 0.03).join(' ');
    expect(words).toContain('would not show at any of these');
  });

  // B a distance r behind A of A-M-N, n = 1: the reading is 2a²/((r + a)(r + 2a)) low (closed form from the four distances).
  it('keeps the one remote of pole-dipole far enough', () => {
    const { remotesM, spacings } = adviceOf({}, 'pole_dipole');
    const a = spacings.at(-1)?.spacingM as number;
    const low = (r: number) => (2 * a * a) / ((r + a) * (r + 2 * a));
    expect(low(remotesM as number)).toBeLessThanOrEqual(0.05);
    expect(low((remotesM as number) - 1)).toBeGreaterThan(0.05);
    expect(adviceOf({}, 'wenner_alpha').remotesM).toBeNull();
  });

  it('refuses two probes with what a void would change there', () => {
    const refused = planSurvey(target, 'two_probe', 0.03);
    if (refused.ok) throw new Error('two probes were planned for');
    // Under 1 % for radius 1 m, axis 2 m down (stated for the program).
    expect(Number(/by ([\d.]+) % at most/.exec(refused.sentence)?.[1])).toBeLessThan(1);
    expect(Number(/by ([\d.]+) % at most/.exec(refused.sentence)?.[1])).toBeGreaterThan(0.1);
  });

  /*
   * A small empty sphere of radius R at depth z under the middle of two rods a apart: δR = ρ/4π² · 3/2 · 4/3 πR³ · |u_A − u_B|²
   * with u = vector/distance³ (dipole of a sphere in an even field; Stratton 1941), which is level and 2·(a/2)/d³ long.
   */
  it('changes two probes by a deep sphere as its dipole does', () => {
    const [radiusM, depthM, a, rho] = [0.25, 3, 4, 500];
    const distance = Math.hypot(a / 2, depthM);
    const changeOhm = (rho / (4 * Math.PI ** 2)) * 2 * Math.PI * radiusM ** 3 * (a / distance ** 3) ** 2;
    // Dwight's Rc of rods of 0.3 m and 5 mm: 2.37705278 ohms per Ω·m (computed for this project).
    const reading = 2 * 2.37705278 * rho - rho / (Math.PI * a);
    const shape = roundChamber(radiusM);
    const described = { shape, depthM, bearingDeg: 90, fillOhmM: Number.POSITIVE_INFINITY, hostOhmM: rho };
    const change = twoProbeChange(described, [{ spacingM: a, offsetM: 0 }]);
    if (!change.ok) throw new Error(change.sentence);
    expect(change.value / (changeOhm / reading)).toBeGreaterThan(0.97);
    expect(change.value / (changeOhm / reading)).toBeLessThan(1.03);
  });

  it('says that more noise hides larger voids, and in the end all of them', () => {
    const smallest = (noise: number) => {
      const advice = planSurvey({ ...target, kind: 'chamber' }, 'pole_pole', noise);
      return advice.ok ? advice.value.smallestRadiusM : null;
    };
    expect(smallest(0.05)).toBeGreaterThan(smallest(0.02) as number);
    expect(smallest(0.9)).toBeNull();
  });
});
