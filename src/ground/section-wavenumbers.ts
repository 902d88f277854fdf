import { Matrix, QrDecomposition } from 'ml-matrix';
import { besselK0 } from './section-bessel';

/** Wavenumbers k across the section in 1/m, and the weights that bring a potential back: φ = Σ w·φ̂(k). */
export interface Wavenumbers {
  readonly perM: Float64Array;
  readonly weights: Float64Array;
  /** Largest relative error of Σ w·K₀(k·r) against 1/r over the distances fitted. */
  readonly worst: number;
}

/** Distances fitted, in each doubling of distance (choice). */
const PER_DOUBLING = 8;
/** Smallest and largest k, times largest and smallest distance (choice; what they leave out the weights make up for). */
const LEAST_KR = 0.3;
const MOST_KR = 4;
const FEWEST = 5;
const MOST = 20;

/**
 * As few wavenumbers, in even steps of ln k, as give (2/π)∫K₀(k·r) dk = 1/r to `accuracy` at every distance from
 * `nearestM` to `farthestM`; weights by least squares on the relative error (the quadrature of Dey & Morrison 1979,
 * Geophysics 44:753, with weights fitted to the distances in use).
 */
export function wavenumbersFor(nearestM: number, farthestM: number, accuracy: number): Wavenumbers {
  const doublings = Math.max(1, Math.log2(farthestM / nearestM));
  const count = Math.ceil(PER_DOUBLING * doublings) + 1;
  const distances = Array.from({ length: count }, (_, i) => nearestM * (farthestM / nearestM) ** (i / (count - 1)));
  let best: Wavenumbers | null = null;
  for (let n = FEWEST; n <= MOST; n += 1) {
    const tried = fitted(distances, LEAST_KR / farthestM, MOST_KR / nearestM, n);
    if (!best || tried.worst < best.worst) best = tried;
    if (best.worst <= accuracy) break;
  }
  return best as Wavenumbers;
}

function fitted(distances: readonly number[], lowest: number, highest: number, n: number): Wavenumbers {
  const perM = Float64Array.from({ length: n }, (_, i) => lowest * (highest / lowest) ** (i / (n - 1)));
  const columns = distances.map((r) => [...perM.map((k) => r * k * besselK0(k * r))]);
  const scaled = new QrDecomposition(new Matrix(columns)).solve(Matrix.ones(distances.length, 1)).to1DArray();
  let worst = 0;
  for (const row of columns) {
    let sum = 0;
    for (let i = 0; i < n; i += 1) sum += (row[i] as number) * (scaled[i] as number);
    worst = Math.max(worst, Math.abs(sum - 1));
  }
  return { perM, weights: perM.map((k, i) => k * (scaled[i] as number)), worst };
}
