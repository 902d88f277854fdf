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
  const points = rungs.map((place) => ({
    x: Math.log(place.spacingM as number),
    y: place.counted.reduce((sum, figure) => sum + Math.log(figure.figureOhmM as number), 0) / place.counted.length,
  }));
  const meanX = points.reduce((sum, { x }) => sum + x, 0) / points.length;
  const meanY = points.reduce((sum, { y }) => sum + y, 0) / points.length;
  const xx = points.reduce((sum, { x }) => sum + (x - meanX) ** 2, 0);
  if (xx === 0) return null;
  const xy = points.reduce((sum, { x, y }) => sum + (x - meanX) * (y - meanY), 0);
  // To nine decimals, so that a slope of exactly 0.9 is not under it by rounding.
  return { chainageM: first.chainageM, slope: Number((xy / xx).toFixed(9)), rungs };
}
