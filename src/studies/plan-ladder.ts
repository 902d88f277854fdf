/** Lengths that tapes have marks for: …, 0.5, 0.75, 1, 1.5, 2, 3, 4, 6, 8, … m (choice). */
const HALVES = [1, 1.5] as const;

function marksAround(lengthM: number): readonly number[] {
  const power = Math.floor(Math.log2(lengthM));
  return [power - 1, power, power + 1].flatMap((k) => HALVES.map((half) => half * 2 ** k));
}

/** The nearest mark by ratio. */
export const nearestMarkM = (lengthM: number): number =>
  marksAround(lengthM).reduce((p, q) => (Math.abs(Math.log(q / lengthM)) < Math.abs(Math.log(p / lengthM)) ? q : p));

const markAfterM = (mark: number): number => Math.min(...marksAround(mark).filter((each) => each > mark));

/** The largest mark that is no longer. */
export const markBelowM = (lengthM: number): number =>
  Math.max(...marksAround(lengthM).filter((mark) => mark <= lengthM * (1 + 1e-12)));

/**
 * Closest and widest spacing in terms of the one whose median depth is 0.87 × the depth of the target (a = depth for
 * pole-pole): from what reads the roof to what reads far below (choice).
 */
const CLOSEST = 0.5;
const WIDEST = 6;
const MEDIAN_OF_POLE_POLE = Math.sqrt(3) / 2;

/** Every mark of the tape between the two: a nearly geometric ladder for a depth, by the array's median depth over spacing. */
export function ladderFor(depthM: number, medianDepthPerSpacing: number): readonly number[] {
  const unit = (depthM * MEDIAN_OF_POLE_POLE) / medianDepthPerSpacing;
  const [closest, widest] = [nearestMarkM(CLOSEST * unit), nearestMarkM(WIDEST * unit)];
  const ladder = [closest];
  for (let mark = markAfterM(closest); mark <= widest; mark = markAfterM(mark)) ladder.push(mark);
  return ladder;
}
