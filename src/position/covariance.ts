import type { LonLat } from './crs';

/** Scatter of a place in the plane: variances of east (x) and north (y) and their covariance, m². */
export interface Covariance {
  readonly xx: number;
  readonly xy: number;
  readonly yy: number;
}

export interface UncertainPlace extends LonLat {
  readonly covariance: Covariance;
}

export const circular = (sigmaM: number): Covariance => ({ xx: sigmaM ** 2, xy: 0, yy: sigmaM ** 2 });

/** Scatter with one standard deviation along an azimuth (degrees clockwise from north) and another across it. */
export function elongated(azimuthDeg: number, alongSigmaM: number, acrossSigmaM: number): Covariance {
  const azimuth = (azimuthDeg * Math.PI) / 180;
  return sum(
    lengthwise(Math.sin(azimuth), Math.cos(azimuth), alongSigmaM ** 2),
    lengthwise(Math.cos(azimuth), -Math.sin(azimuth), acrossSigmaM ** 2),
  );
}

/** Scatter in the direction of a unit vector only. */
export const lengthwise = (ux: number, uy: number, variance: number): Covariance => ({
  xx: variance * ux * ux,
  xy: variance * ux * uy,
  yy: variance * uy * uy,
});

/** Of the sum of independent errors. */
export function sum(...parts: readonly Covariance[]): Covariance {
  let [xx, xy, yy] = [0, 0, 0];
  for (const part of parts) {
    xx += part.xx;
    xy += part.xy;
    yy += part.yy;
  }
  return { xx, xy, yy };
}

export const scaled = ({ xx, xy, yy }: Covariance, factor: number): Covariance => ({
  xx: factor * xx,
  xy: factor * xy,
  yy: factor * yy,
});

/** Variance of the place along an azimuth (degrees clockwise from north), m². */
export function varianceTowards({ xx, xy, yy }: Covariance, azimuthDeg: number): number {
  const azimuth = (azimuthDeg * Math.PI) / 180;
  const [ux, uy] = [Math.sin(azimuth), Math.cos(azimuth)];
  return ux * ux * xx + 2 * ux * uy * xy + uy * uy * yy;
}
