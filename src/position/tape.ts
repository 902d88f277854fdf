/** Relative standard deviation of a taped distance (common practice for a fibreglass tape on grass, no source). */
export const TAPE_RELATIVE_SIGMA = 0.003;
/** Standard deviation of setting and reading the ends of a tape, metres (choice). */
export const TAPE_READING_SIGMA_M = 0.01;

/** Standard deviation of a taped distance, metres. */
export const tapeSigmaM = (distanceM: number): number =>
  Math.hypot(TAPE_READING_SIGMA_M, TAPE_RELATIVE_SIGMA * distanceM);
