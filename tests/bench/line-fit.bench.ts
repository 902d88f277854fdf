import { placeLine } from '../../src/position/place-line';
import type { Line } from '../../src/survey/survey';
import { madeLine, seeded, standingAlone } from '../helpers/made-survey';

const ELECTRODES = 100;

export interface LineFitBench {
  readonly lines: number;
  readonly fitMs: number;
  /** With the places of all electrodes. */
  readonly placedMs: number;
  /** From a tenth of the lines to all of them. */
  readonly exponent: number;
}

/** Lines of 100 electrodes at 1 m with two to five fixes that are some metres off, some of them with a bend. */
function lines(count: number): Line[] {
  const random = seeded(count);
  const off = () => (random() - 0.5) * 6e-5;
  return Array.from({ length: count }, (_, i) => {
    const fixes = 2 + (i % 4);
    return madeLine(
      `L${i}`,
      Array.from({ length: fixes }, (_, k) => {
        const chainageM = (99 * k) / (fixes - 1);
        const turn = i % 3 === 0 && chainageM > 50 ? (chainageM - 50) * 4e-6 : 0;
        return {
          chainageM,
          lon: -91.9 + 2e-3 * (i % 30) + chainageM * 1.13e-5 + off(),
          lat: 37.4 + 2e-3 * Math.floor(i / 30) + turn + off(),
          accuracyM: 6,
        };
      }),
    );
  });
}

function timed(made: readonly Line[], electrodes: number): number {
  const start = performance.now();
  for (const line of made) {
    const placed = placeLine(line, [], standingAlone);
    if (!placed.ok) throw new Error(placed.sentence);
    for (let chainageM = 0; chainageM < electrodes; chainageM += 1) placed.track.placeAt(chainageM);
  }
  return performance.now() - start;
}

export function benchLineFit(count = 1000, rounds = 7): LineFitBench {
  const [few, many] = [lines(count / 10), lines(count)];
  const least = { few: Infinity, many: Infinity, placed: Infinity };
  for (let round = 0; round < rounds; round += 1) {
    least.few = Math.min(least.few, timed(few, 0));
    least.many = Math.min(least.many, timed(many, 0));
    least.placed = Math.min(least.placed, timed(many, ELECTRODES));
  }
  return { lines: count, fitMs: least.many, placedMs: least.placed, exponent: Math.log10(least.many / least.few) };
}
