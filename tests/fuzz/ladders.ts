import { appraise } from '../../src/appraise';
import { DEFAULT_SETTINGS } from '../../src/evidence/settings';
import type { Findings } from '../../src/findings';
import { HOOKUPS } from '../../src/survey/hookup';
import type { Reading, Survey } from '../../src/survey/survey';
import { emptySurvey, madeLine, madeOuting, madeReading, madeReference } from '../helpers/made-survey';
import { type Chance, chanceFrom } from './chance';

/** A survey of one line and one quiet line, with whatever a day in the field brings. */
export function randomSurvey(seed: number): Survey {
  const chance = chanceFrom(seed);
  const lat = -70 + 140 * chance.real();
  const lon = -179 + 358 * chance.real();
  const east = (chance.below(2) === 0 ? 1 : -1) * 0.002 * chance.real();
  const length = 20 + chance.below(80);
  const laid = (name: string, off: number) =>
    madeLine(name, [
      { chainageM: 0, lon, lat: lat + off, accuracyM: 0.1 + 5 * chance.real(), elevationM: 100 * chance.real() },
      { chainageM: length, lon: lon + east + 1e-5, lat: lat + off + 1e-4, accuracyM: 0.1 + 5 * chance.real() },
    ]);
  const [a, q] = [laid('A', 0), laid('Q', 0.001 * (1 + chance.below(4)))];
  const days = [madeOuting(`day ${seed}`, { date: '2026-04-01' }), madeOuting(`other ${seed}`, { date: '2026-04-02' })];
  const hookup = chance.of(HOOKUPS);
  const level = 10 ** (0.5 + 4 * chance.real());
  const readings: Reading[] = [a, q].flatMap((line) =>
    Array.from({ length: 2 + chance.below(10) }, (_, i) => i).flatMap((i) =>
      [1, 2, 4, 8, 16].slice(0, 1 + chance.below(5)).map((spacing) => oneReading(line, (i * length) / 12, spacing)),
    ),
  );
  function oneReading(line: typeof a, midpoint: number, spacing: number): Reading {
    const isOver = chance.below(30) === 0;
    return madeReading(line, {
      outing: chance.of(days).id,
      midpoint_m: midpoint,
      spacing_m: spacing * (chance.below(20) === 0 ? 1.37 : 1),
      hookup: chance.below(15) === 0 ? chance.of(HOOKUPS) : hookup,
      n: 1 + chance.below(4),
      inner_spacing_m: spacing / 5,
      value: isOver ? null : level * Math.exp(0.4 * (chance.real() - 0.5)) * (chance.below(40) === 0 ? -1 : 1),
      status: isOver ? 'over_range' : chance.below(40) === 0 ? 'rejected' : 'ok',
      limit: isOver ? level * 3 : null,
      wetting: chance.of(['none', 'water', 'salt_water'] as const),
      meter_spacing_m: chance.below(25) === 0 ? spacing * 2 : null,
      repeat: chance.below(3),
    });
  }
  const stations = [
    ...new Set(readings.filter(({ line }) => line === q.id).map(({ midpoint_m }) => midpoint_m as number)),
  ];
  return {
    ...emptySurvey(`random ${seed}`),
    lines: [a, q],
    outings: days,
    readings,
    references: chance.below(4) === 0 ? [] : [madeReference(stations.map((chainageM) => ({ line: q, chainageM })))],
  };
}

/** What is wrong with the findings of a random survey; null where nothing is. */
export function faultOfSurvey(seed: number): string | null {
  const survey = randomSurvey(seed);
  const findings = appraise(survey, DEFAULT_SETTINGS);
  const where = nonNumber(findings, 'findings');
  if (where) return `seed ${seed}: ${where} is no number`;
  const chance = chanceFrom(seed + 7);
  return slipOf(survey, findings, chance);
}

/** Findings do not change when the same values are written in thousands, or in ohms. */
export function slipOf(survey: Survey, findings: Findings, chance: Chance): string | null {
  const inThousands: Survey = {
    ...survey,
    readings: survey.readings.map((reading) =>
      reading.unit !== 'ohm_m' || chance.below(2) === 0
        ? reading
        : {
            ...reading,
            unit: 'kohm_m' as const,
            value: reading.value === null ? null : reading.value / 1000,
            limit: typeof reading.limit === 'number' ? reading.limit / 1000 : (reading.limit ?? null),
          },
    ),
  };
  const again = appraise(inThousands, DEFAULT_SETTINGS);
  const figures = (of: Findings) =>
    new Map(of.lines.flatMap(({ midpoints }) => midpoints.map((each) => [each.key, each] as const)));
  const [first, second] = [figures(findings), figures(again)];
  if (first.size !== second.size) return `${first.size} places in ohm-metres, ${second.size} in kilohm-metres`;
  for (const [key, p] of first) {
    const q = second.get(key);
    for (const name of ['figureOhmM', 'ratio', 'zScore'] as const) {
      const [x, y] = [p[name], q?.[name] ?? null];
      if ((x === null) !== (y === null)) return `${name} of ${key} is ${x} in ohm-metres and ${y} in kilohm-metres`;
      if (x !== null && y !== null && Math.abs(x - y) > 1e-6 * (1 + Math.abs(x)))
        return `${name} of ${key} is ${x} in ohm-metres and ${y} in kilohm-metres`;
    }
  }
  return null;
}

/** The path to a number that is none, anywhere in a value. */
export function nonNumber(value: unknown, path: string): string | null {
  if (typeof value === 'number') return Number.isFinite(value) ? null : `${path} = ${value}`;
  if (typeof value !== 'object' || value === null) return null;
  for (const [key, member] of Object.entries(value)) {
    const found = nonNumber(member, `${path}.${key}`);
    if (found) return found;
  }
  return null;
}
