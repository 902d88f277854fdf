import type { VoidShape } from '../ground/void-shape';

/** A void as it is described, under offset 0. */
export interface PlannedVoid {
  readonly shape: VoidShape;
  /** Of its middle or axis. */
  readonly depthM: number;
  /** Between passage and line; 90 = square to it. */
  readonly bearingDeg: number;
  /** Infinity for air. */
  readonly fillOhmM: number;
  readonly hostOhmM: number;
}

export interface PlannedPlace {
  readonly spacingM: number;
  /** Of the midpoint, along the line. */
  readonly offsetM: number;
}
