/** Random error of a taped length, metres per square root of its metres: 3 cm in 10 m, 10 cm in 100 m (choice). */
export const TAPE_RANDOM_PER_ROOT_M = 0.01;
/** What a slope adds to it when it is brought to the level, for a slope of 1:1 (choice: a degree at each sight of 10 m). */
const SLOPE_RANDOM_PER_ROOT_M = 0.055;

/**
 * Random variance in m² of a stretch of tape brought to the level. In proportion to the length, so that it does not
 * matter in how many pieces it is taped. The stretch of the whole tape comes on top: `TAPE_RELATIVE_SIGMA`.
 * `rise`: height over taped length, 0 to 1.
 */
export const tapedVariance = (lengthM: number, rise: number): number =>
  lengthM * (TAPE_RANDOM_PER_ROOT_M ** 2 + (rise * SLOPE_RANDOM_PER_ROOT_M) ** 2);

/**
 * Variance per axis in m² for each metre of a leg of tape and compass: a bearing good to 1° in sights of 10 m (choice).
 * In proportion to the length and alike in all directions, which makes the fit of a traverse between two known points
 * the compass (Bowditch) rule.
 */
export const LEG_VARIANCE_PER_M = ((1 * Math.PI) / 180) ** 2 * 10;

/** Variance per axis in m² at the end of a single sight of the compass, however long (1°, the same choice). */
export const sightVariance = (lengthM: number): number => ((1 * Math.PI) / 180) ** 2 * lengthM ** 2;
