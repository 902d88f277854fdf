import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import { geodesicDestination } from '../../src/position/geodesic';
import { sectionInputOf } from '../../src/studies/section-input';
import { createStudiesTable } from '../../src/workers/studies-table';
import { emptySurvey, madeLine, madeReading } from '../helpers/made-survey';

const start = { lon: 10, lat: 47 };
const line = madeLine('S', [
  { chainageM: 0, ...start },
  { chainageM: 20, ...geodesicDestination(start, 90, 20) },
]);
const readings = [4, 6, 8, 10, 12, 14].flatMap((midpoint_m) =>
  [2, 4].map((spacing_m) => madeReading(line, { midpoint_m, spacing_m, value: 300, hookup: 'pole_pole' })),
);
const survey = { ...emptySurvey(), lines: [line], readings };

/** Fractions that were told, in order. */
function ear() {
  const heard: number[] = [];
  return { heard, tick: (fraction: number) => void heard.push(fraction) };
}

const grows = (heard: readonly number[]): boolean => heard.every((fraction, i) => fraction >= (heard[i - 1] ?? 0));

describe('the table of studies', () => {
  it('works out a section, tells how far it is, and gives plain data that a worker can send', () => {
    const input = sectionInputOf(survey, appraise(survey), line.id);
    if (!input.ok) throw new Error(input.sentence);
    const { heard, tick } = ear();
    const result = createStudiesTable().section(structuredClone(input.value), tick);
    if (!result.ok) throw new Error(result.sentence);
    expect(structuredClone(result)).toEqual(result);
    expect(heard.length).toBeGreaterThan(2);
    expect(grows(heard)).toBe(true);
    expect(heard.at(-1)).toBe(1);
    // Even ground is even ground.
    for (const { coverage, resistivityOhmM } of result.value.cells) {
      if (coverage > 0.3) expect(Math.abs(Math.log(resistivityOhmM / 300))).toBeLessThan(0.05);
    }
  });

  it('plans for a void with the readings that would be seen, at the spacings of the advice where none are given', () => {
    const { heard, tick } = ear();
    const target = { kind: 'chamber', radiusM: 1, depthM: 2, lengthM: 0, bearingDeg: 90 } as const;
    const question = { hookup: 'wenner_alpha', n: 1, noise: 0.03, spacingsM: null, offsetsM: [0, 2] } as const;
    const plan = createStudiesTable().plan(
      { ...question, target: { ...target, fillOhmM: Infinity, hostOhmM: 500 } },
      tick,
    );
    if (!plan.ok) throw new Error(plan.sentence);
    const { advice, readings: planned } = plan.value;
    expect(planned).toHaveLength(2 * advice.spacings.length);
    expect(planned.map(({ spacingM }) => spacingM)).toEqual(
      advice.spacings.flatMap(({ spacingM }) => [spacingM, spacingM]),
    );
    expect(grows(heard)).toBe(true);
    expect(heard.at(-1)).toBe(1);
  });

  it('hands refusals on as values', () => {
    const { tick } = ear();
    const target = { kind: 'chamber', radiusM: 3, depthM: 2, lengthM: 0, bearingDeg: 90 } as const;
    const question = { hookup: 'pole_pole', n: 1, noise: 0.03, spacingsM: null, offsetsM: [0] } as const;
    const plan = createStudiesTable().plan({ ...question, target: { ...target, fillOhmM: 30, hostOhmM: 500 } }, tick);
    expect(plan).toMatchObject({ ok: false, code: 'void_breaks_ground' });
  });
});
