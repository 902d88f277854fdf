import type { Field } from './headers';

/*
 * Sizes that no survey has. A slip of a column or of a decimal sign lands far outside, and what is computed from such a
 * number (electrodes at every step, planes along a line) would be endless rather than merely wrong.
 */

/** More electrodes than this are not planned along one line. */
export const MOST_ELECTRODES = 10_000;
/** Longest way along a line, to either side of its zero. */
const ALONG_M = 100_000;
const SPACING_M = 10_000;
const ACCURACY_M = 100_000;
const HEIGHT_M = 12_000;
/** For numbers without a bound of their own. */
const ANY = 1e12;

interface Limit {
  readonly from: number;
  readonly to: number;
  readonly expected: string;
}

const spelt = (value: number): string => value.toLocaleString('en-US');

const within = (most: number, what: string, unit = ' m'): Limit => ({
  from: -most,
  to: most,
  expected: `${what} from -${spelt(most)} to ${spelt(most)}${unit}`,
});

/** Too small a number is told by its own reader, which knows whether 0 will do. */
const atMost = (most: number, what: string, unit = ' m'): Limit => ({
  from: -ANY,
  to: most,
  expected: `${what} of ${spelt(most)}${unit} at most`,
});

const CHAINAGE = within(ALONG_M, 'a chainage');
const SPACING = atMost(SPACING_M, 'a spacing');
const COUNT = atMost(MOST_ELECTRODES, 'an electrode number', '');
const OTHER = within(ANY, 'a number', '');

const LIMITS: Partial<Record<Field, Limit>> = {
  chainage_m: CHAINAGE,
  from_chainage_m: CHAINAGE,
  midpoint_m: CHAINAGE,
  a_m: CHAINAGE,
  b_m: CHAINAGE,
  m_m: CHAINAGE,
  n_m: CHAINAGE,
  spacing_m: SPACING,
  inner_spacing_m: SPACING,
  meter_spacing_m: SPACING,
  step_m: SPACING,
  distance_m: atMost(SPACING_M, 'a distance'),
  driven_depth_m: atMost(SPACING_M, 'a depth'),
  accuracy_m: atMost(ACCURACY_M, 'a radius'),
  elevation_m: within(HEIGHT_M, 'a height'),
  electrodes: atMost(MOST_ELECTRODES, 'a number of electrodes', ''),
  electrode: COUNT,
  a_electrode: COUNT,
  b_electrode: COUNT,
  m_electrode: COUNT,
  n_electrode: COUNT,
};

/** What a number of this field has to be, in the field's own unit, when it is absurd; null when it is not. */
export function absurd(field: Field, value: number): string | null {
  const limit = LIMITS[field] ?? OTHER;
  return value >= limit.from && value <= limit.to ? null : limit.expected;
}
