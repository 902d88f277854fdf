import { appraise } from '../../src/appraise';
import type { Line, Reading, Survey } from '../../src/survey/survey';
import { emptySurvey, madeLine, madeOuting, madeReading, madeReference, seeded } from '../helpers/made-survey';

const READINGS_PER_LINE = 100;
const SPACINGS_M = [1, 2, 3, 5, 8] as const;

/** A survey of lines with 20 stations × 5 spacings each; the first line is the reference. */
export function bigSurvey(lineCount: number): Survey {
  const random = seeded(lineCount);
  const outing = madeOuting('a day');
  const lines: Line[] = [];
  const readings: Reading[] = [];
  for (let i = 0; i < lineCount; i += 1) {
    const lat = 37.4 + 2e-4 * (i % 100);
    const lon = -91.9 + 1e-3 * Math.floor(i / 100);
    const line = madeLine(`L${i + 1}`, [
      { chainageM: 0, lon, lat },
      { chainageM: 20, lon: lon + 2.26e-4, lat },
      { chainageM: 40, lon: lon + 4.5e-4, lat: lat + 3e-5 },
    ]);
    lines.push(line);
    for (let k = 0; k < READINGS_PER_LINE; k += 1) {
      const spacing = SPACINGS_M[k % SPACINGS_M.length] as number;
      readings.push(
        madeReading(line, {
          outing: outing.id,
          midpoint_m: 8 + Math.floor(k / SPACINGS_M.length),
          spacing_m: spacing,
          value: Math.round(300 * spacing ** 0.3 * Math.exp(0.2 * (random() - 0.5))),
          hookup: 'pole_pole',
          wetting: 'none',
          time: '2026-05-12T08:10:00-05:00',
        }),
      );
    }
  }
  const [first] = lines as [Line];
  return {
    ...emptySurvey('bench'),
    outings: [outing],
    lines,
    readings,
    references: [madeReference([8, 10, 12, 14, 16].map((chainageM) => ({ line: first, chainageM })))],
  };
}

export interface AppraiseBench {
  readonly rows: readonly {
    readings: number;
    parseMs: number;
    appraiseMs: number;
    /** The same without a reference: the site's median has to be found first. */
    medianMs: number;
  }[];
  /** Fitted exponent of the time of `appraise` against readings, first size to last. */
  readonly exponent: number;
}

const timed = (work: () => unknown): number => {
  const start = performance.now();
  work();
  return performance.now() - start;
};

/** Times `appraise` against `JSON.parse` of the same survey, turn by turn in one run; the best of the rounds each. */
export function benchAppraise(lineCounts: readonly number[] = [10, 100, 1000], rounds = 10): AppraiseBench {
  const rows = lineCounts.map((lineCount) => {
    const text = JSON.stringify(bigSurvey(lineCount));
    const survey = JSON.parse(text) as Survey;
    const bare = { ...survey, references: [] };
    const least = { parseMs: Infinity, appraiseMs: Infinity, medianMs: Infinity };
    // As many rounds at every size: the best of more rounds would flatter the small ones.
    for (let round = 0; round < rounds; round += 1) {
      least.parseMs = Math.min(
        least.parseMs,
        timed(() => JSON.parse(text)),
      );
      least.appraiseMs = Math.min(
        least.appraiseMs,
        timed(() => appraise(survey)),
      );
      least.medianMs = Math.min(
        least.medianMs,
        timed(() => appraise(bare)),
      );
    }
    return { readings: survey.readings.length, ...least };
  });
  const first = rows[0] as (typeof rows)[number];
  const last = rows[rows.length - 1] as (typeof rows)[number];
  const exponent = Math.log(last.appraiseMs / first.appraiseMs) / Math.log(last.readings / first.readings);
  return { rows, exponent };
}
