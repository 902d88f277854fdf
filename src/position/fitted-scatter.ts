import { sigmaOfRadius95 } from './accuracy';
import { type Covariance, circular, lengthwise, scaled, sum } from './covariance';
import type { Fit } from './fit-line';
import type { LineData } from './line-data';
import type { LineShape, Rival } from './line-shape';
import { tapedVariance } from './tape-classes';

/** Scatter of any place of a fitted line, from the covariance of the nodes beside it and the tape between. */
export function fittedScatter({ fit, disagreementM, rivals }: LineShape, data: LineData): ScatterAt {
  // Where fixes and tape contradict each other one of them is off by that much, whatever it claims.
  const contradiction = circular(disagreementM === null ? 0 : sigmaOfRadius95(disagreementM));
  const scatters = data.tapeVariances.map((_, k) => stretchScatter(fit, rivals, data, k, contradiction));
  return scatterAlong(scatters, fit.stretchVariance, contradiction);
}

type ScatterAt = (stretch: number, share: number, beyondM: number) => Covariance;

/** Apart from the fit, so that a track does not keep its matrices. */
function scatterAlong(
  scatters: readonly StretchScatter[],
  stretchVariance: number,
  contradiction: Covariance,
): ScatterAt {
  return (stretch, share, beyondM) => {
    const { still, linear, square, pair, ux, uy, length } = scatters[stretch - 1] as StretchScatter;
    if (beyondM === 0) {
      return {
        xx: still.xx + share * (linear.xx + share * square.xx),
        xy: still.xy + share * (linear.xy + share * square.xy),
        yy: still.yy + share * (linear.yy + share * square.yy),
      };
    }
    // On beyond an end: carried along in full, swung sideways by what the direction is unsure.
    const end = share > 0 ? 2 : 0;
    const far = carried(pair, end, 2 - end, Math.abs(beyondM) / length, -uy, ux);
    const rise = tapedVariance(Math.abs(beyondM), 0) + beyondM ** 2 * stretchVariance;
    return sum(far, lengthwise(ux, uy, rise), contradiction);
  };
}

/** Covariance of x and y of two nodes: a 4×4 matrix. */
type Pair = readonly (readonly number[])[];

interface StretchScatter {
  readonly pair: Pair;
  readonly ux: number;
  readonly uy: number;
  readonly length: number;
  /** The scatter is a parabola of the share of the stretch. */
  readonly still: Covariance;
  readonly linear: Covariance;
  readonly square: Covariance;
}

function stretchScatter(
  fit: Fit,
  rivals: readonly Rival[],
  data: LineData,
  k: number,
  contradiction: Covariance,
): StretchScatter {
  const pair = withRivals(fit.covarianceOf(k, k + 1), rivals, k);
  const entry = (i: number, j: number): number => (pair[i] as readonly number[])[j] as number;
  const dx = (fit.x[k + 1] as number) - (fit.x[k] as number);
  const dy = (fit.y[k + 1] as number) - (fit.y[k] as number);
  const length = Math.hypot(dx, dy);
  const [ux, uy] = [dx / length, dy / length];
  // Between two nodes the tape is loose by share · (1 − share) of its variance.
  const leg = data.legs.find(({ from, to }) => from === k && to === k + 1);
  const loose = leg ? circular(Math.sqrt(leg.variance)) : lengthwise(ux, uy, data.tapeVariances[k] as number);
  const start: Covariance = { xx: entry(0, 0), xy: entry(0, 1), yy: entry(1, 1) };
  const end: Covariance = { xx: entry(2, 2), xy: entry(2, 3), yy: entry(3, 3) };
  const both: Covariance = { xx: 2 * entry(0, 2), xy: entry(0, 3) + entry(1, 2), yy: 2 * entry(1, 3) };
  return {
    pair,
    ux,
    uy,
    length,
    still: sum(start, contradiction),
    linear: sum(scaled(start, -2), both, loose),
    square: sum(start, end, scaled(both, -1), scaled(loose, -1)),
  };
}

/** Two nodes move together from one possible shape of the line to the other. */
function withRivals(pair: Pair, rivals: readonly Rival[], k: number): Pair {
  return rivals.reduce((covariance, { chance, dx, dy }) => {
    const moved = [dx[k], dy[k], dx[k + 1], dy[k + 1]] as readonly number[];
    return covariance.map((row, i) =>
      row.map((value, j) => value + chance * (moved[i] as number) * (moved[j] as number)),
    );
  }, pair);
}

/** Covariance of N + swing · n nᵀ (N − F) for the near node N, the far node F and the normal n of the straight. */
function carried(pair: Pair, near: number, far: number, swing: number, nx: number, ny: number): Covariance {
  const weights = [
    [1 + swing * nx * nx, swing * nx * ny],
    [swing * nx * ny, 1 + swing * ny * ny],
  ] as const;
  const rows = weights.map(([wx, wy], axis) => {
    const row = [0, 0, 0, 0];
    row[near] = wx;
    row[near + 1] = wy;
    row[far] = axis === 0 ? -swing * nx * nx : -swing * nx * ny;
    row[far + 1] = axis === 0 ? -swing * nx * ny : -swing * ny * ny;
    return row;
  }) as [number[], number[]];
  const product = (p: readonly number[], q: readonly number[]): number => {
    let total = 0;
    for (let i = 0; i < 4; i += 1) {
      for (let j = 0; j < 4; j += 1) total += (p[i] as number) * (q[j] as number) * (pair[i]?.[j] ?? 0);
    }
    return total;
  };
  return { xx: product(rows[0], rows[0]), xy: product(rows[0], rows[1]), yy: product(rows[1], rows[1]) };
}
