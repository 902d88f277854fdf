import type { Covariance } from './covariance';

/** A point of the line at which something was fixed, or where a leg ends. By growing chainage. */
export interface Node {
  readonly chainageM: number;
  /** Chainage projected to the horizontal. */
  readonly horizontalM: number;
}

/** A fix in the plane of its line. */
export interface PlaneFix {
  readonly node: number;
  readonly x: number;
  readonly y: number;
  /** Error of this fix alone. */
  readonly own: Covariance;
  /** Standard deviation per axis of the error that it shares with the fixes of its group. */
  readonly sharedSigmaM: number;
  /** Device and day. */
  readonly group: number;
}

/** A leg of tape and compass between two nodes, as a vector in the plane. */
export interface LegVector {
  readonly from: number;
  readonly to: number;
  readonly dx: number;
  readonly dy: number;
  /** Per axis, m². In proportion to the length, so that between known ends the fit is the compass (Bowditch) rule. */
  readonly variance: number;
}

export interface LineData {
  readonly nodes: readonly Node[];
  readonly fixes: readonly PlaneFix[];
  readonly legs: readonly LegVector[];
  /** Random variance of the tape over each interval between nodes, m². */
  readonly tapeVariances: readonly number[];
  readonly groupCount: number;
  /** Of the relative stretch of the whole tape. */
  readonly scaleSigma: number;
  /** Of a turn that all bearings of the legs share, radians. */
  readonly turnSigma: number;
}

/** What a fit takes for true: where the line turns, which fixes count, whether chainages are metres of the tape. */
export interface Supposition {
  /** Nodes at which the line may turn; the ends are not among them. */
  readonly corners: readonly number[];
  /** Fixes that are taken for gross errors, each with the metres it is taken to be off. */
  readonly gross: ReadonlyMap<number, number>;
  /** Whether the nominal distances may be wrong by any factor. */
  readonly freeScale: boolean;
}
