import type { Place } from './place';

export interface LadderSlope {
  readonly chainageM: number;
  /** Slope of ln(figure) against ln(spacing), least squares. */
  readonly slope: number;
  readonly rungs: readonly Place[];
}

/** Two spacings make a step; three make a ladder. */
const FEWEST_RUNGS = 3;

/** The log-log slope of a ladder, its repeats averaged; null with fewer than three spacings that were read. */
export function ladderSlope(ladder: readonly Place[]): LadderSlope | null {
  const rungs = ladder.filter((place) => place.counted.length > 0 && place.spacingM !== null);
  const [first] = rungs;
  if (!first || rungs.length < FEWEST_RUNGS) return null;
  let [sumX, sumY, sumXX, sumXY] = [0, 0, 0, 0];
  for (const { spacingM, counted } of rungs) {
    const x = Math.log(spacingM as number);
    let y = 0;
    for (const { figureOhmM } of counted) y += Math.log(figureOhmM as number) / counted.length;
    sumX += x;
    sumY += y;
    sumXX += x * x;
    sumXY += x * y;
  }
  const xx = sumXX - (sumX * sumX) / rungs.length;
  const xy = sumXY - (sumX * sumY) / rungs.length;
  // All rungs at one spacing (in different layouts) have no slope.
  if (xx < 1e-12) return null;
  // To nine decimals, so that a slope of exactly 0.9 is not under it by rounding.
  return { chainageM: first.chainageM, slope: Number((xy / xx).toFixed(9)), rungs };
}
