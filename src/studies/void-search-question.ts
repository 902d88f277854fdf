import type { LayeredGround } from '../ground/layered-kernel';
import type { Layout } from '../ground/layout';
import type { Hookup } from '../survey/hookup';

/** A reading of a line that is searched: one place and spacing, its repeats pooled. */
export interface SearchReading {
  /** Of the midpoint finding that it comes from. */
  readonly id: string;
  /** Name of its line. */
  readonly line: string;
  readonly layout: Layout;
  readonly apparentOhmM: number;
  /** What the reference reads at this spacing; null where none reaches. */
  readonly referenceOhmM: number | null;
  /** Standard error of ln ρa by itself: noise of the reading, uneven soil and the reference not counted. */
  readonly sigmaLn: number;
  /** Standard error of ln of what the reference reads, shared by all readings of a `group`. */
  readonly referenceSigmaLn: number;
  /** Hookup, and spacing with what else sets layouts apart: readings compared with one figure of the reference. */
  readonly hookup: Hookup;
  readonly spacingM: number;
  readonly group: string;
}

/** A corner of a line in the common plane; between two of them places run evenly with chainage. */
export interface SearchPlace {
  readonly chainageM: number;
  /** East and north of the plane's origin, m. */
  readonly xM: number;
  readonly yM: number;
}

export interface SearchLine {
  /** Name. */
  readonly line: string;
  readonly lineId: string;
  readonly places: readonly SearchPlace[];
  readonly readings: readonly SearchReading[];
  /** Layers of the reference's ladder, or of the line's own mean ladder: what uneven soil is taken to be uneven about. */
  readonly referenceGround: LayeredGround;
}

export interface VoidSearchInput {
  readonly lines: readonly SearchLine[];
  /** Chance, 0 to 1, that ordinary ground of these very lines gives a candidate anywhere. */
  readonly falseAlarmRate: number;
  /** Made surveys without a void that the threshold comes from. */
  readonly simulations: number;
  readonly seed: number;
}
