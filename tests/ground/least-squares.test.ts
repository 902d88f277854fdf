import { describe, expect, it } from 'vitest';
import { dampedLeastSquares, type LeastSquaresProblem } from '../../src/ground/damped-least-squares';
import { akaike, criterionWeights } from '../../src/ground/information-criterion';
import { invertSymmetric, solveSymmetric } from '../../src/ground/small-cholesky';
import { student95, studentWithin } from '../../src/ground/student-t';
import { normalNumbers } from '../helpers/chance';

/*
 * Misra1a of the Statistical Reference Datasets of NIST (nonlinear regression, lower difficulty): y = b₁(1 − exp(−b₂x)). Data
 * and certified values from memory; that they fit each other to all digits is the check of the memory too.
 */
const MISRA1A = {
  x: [77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0],
  y: [10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78],
  starts: [
    [500, 1e-4],
    [250, 5e-4],
  ],
  certified: [238.94212918, 5.5015643181e-4],
  sumOfSquares: 0.12455138894,
} as const;

function misra(lower: readonly number[], upper: readonly number[]): LeastSquaresProblem {
  return {
    observations: MISRA1A.x.length,
    lower: Float64Array.from(lower),
    upper: Float64Array.from(upper),
    evaluate([b1 = 0, b2 = 0], residuals, jacobian) {
      for (const [k, x] of MISRA1A.x.entries()) {
        const left = Math.exp(-b2 * x);
        residuals[k] = b1 * (1 - left) - (MISRA1A.y[k] as number);
        jacobian[2 * k] = 1 - left;
        jacobian[2 * k + 1] = b1 * x * left;
      }
      return true;
    },
  };
}

describe('damped least squares', () => {
  it.each(MISRA1A.starts)('comes to the certified values of Misra1a from %d, %d', (...start) => {
    const fit = dampedLeastSquares(misra([0, 0], [1e4, 1]), start);
    expect(fit?.converged).toBe(true);
    for (const [i, value] of MISRA1A.certified.entries()) {
      expect(Math.abs((fit?.parameters[i] ?? Number.NaN) / value - 1)).toBeLessThan(1e-6);
    }
    expect(Math.abs((fit?.sumOfSquares ?? Number.NaN) / MISRA1A.sumOfSquares - 1)).toBeLessThan(1e-9);
  });

  it('stays within bounds and is lowest there', () => {
    const fit = dampedLeastSquares(misra([0, 0], [200, 1]), [100, 1e-4]);
    expect(fit?.parameters[0]).toBe(200);
    const held = dampedLeastSquares(misra([0, 0], [1e4, 1]), [200, 1e-4], { held: 0 });
    expect(fit?.parameters[1]).toBeCloseTo(held?.parameters[1] ?? Number.NaN, 9);
    expect(held?.parameters[0]).toBe(200);
  });

  it('has nothing to say where the start makes no sense', () => {
    const problem = { ...misra([0, 0], [1, 1]), evaluate: () => false };
    expect(dampedLeastSquares(problem, [1, 1])).toBeNull();
  });
});

describe('symmetric equations', () => {
  it('are solved and inverted, and refused when not positive definite', () => {
    const matrix = [4, 2, 1, 2, 5, 3, 1, 3, 6];
    const x = solveSymmetric(matrix, [11, 21, 25]);
    // 4·1 + 2·2 + 1·3 = 11, 2·1 + 5·2 + 3·3 = 21, 1·1 + 3·2 + 6·3 = 25.
    for (const [i, value] of [1, 2, 3].entries()) expect(x?.[i]).toBeCloseTo(value, 12);
    const inverse = invertSymmetric(matrix, 3) as Float64Array;
    for (let i = 0; i < 3; i += 1) {
      for (let j = 0; j < 3; j += 1) {
        let sum = 0;
        for (let k = 0; k < 3; k += 1) sum += (matrix[i * 3 + k] as number) * (inverse[k * 3 + j] as number);
        expect(sum).toBeCloseTo(i === j ? 1 : 0, 12);
      }
    }
    expect(solveSymmetric([1, 2, 2, 1], [1, 1])).toBeNull();
    expect(solveSymmetric([1, 1, 1, 1], [1, 1])).toBeNull();
  });
});

describe('Student’s distribution', () => {
  // Abramowitz & Stegun 1964, table 26.10, A = 0.95; values from memory.
  it.each([
    [1, 12.706],
    [2, 4.303],
    [3, 3.182],
    [5, 2.571],
    [10, 2.228],
    [30, 2.042],
    [120, 1.98],
    [Infinity, 1.96],
  ])('with %d degrees of freedom has 95 %% within %d', (degrees, t) => {
    expect(student95(degrees)).toBeCloseTo(t, 3);
  });

  it('is Cauchy’s with one degree: half lies within 1', () => {
    expect(studentWithin(1, 1)).toBeCloseTo(0.5, 12);
  });
});

describe('the criterion', () => {
  it('with σ known foretells the misfit to new data: χ² + 2k on average', () => {
    // What it is for (Akaike 1973): the expected χ² of fresh data about the fit, here of a mean of 5 numbers.
    const chance = normalNumbers(4);
    let foretold = 0;
    let fresh = 0;
    const tries = 20_000;
    for (let i = 0; i < tries; i += 1) {
      const data = Array.from({ length: 5 }, chance);
      const mean = data.reduce((sum, value) => sum + value, 0) / 5;
      const sumOfSquares = data.reduce((sum, value) => sum + (value - mean) ** 2, 0);
      foretold += akaike({ sumOfSquares, observations: 5, parameters: 1, sigmaKnown: true });
      for (let k = 0; k < 5; k += 1) fresh += (chance() - mean) ** 2;
    }
    expect(foretold / fresh).toBeGreaterThan(0.98);
    expect(foretold / fresh).toBeLessThan(1.02);
  });

  it('with σ estimated does so even for few readings (Hurvich & Tsai 1989)', () => {
    const chance = normalNumbers(6);
    let foretold = 0;
    let fresh = 0;
    const tries = 40_000;
    const n = 8;
    for (let i = 0; i < tries; i += 1) {
      const data = Array.from({ length: n }, chance);
      const mean = data.reduce((sum, value) => sum + value, 0) / n;
      const sumOfSquares = data.reduce((sum, value) => sum + (value - mean) ** 2, 0);
      foretold += akaike({ sumOfSquares, observations: n, parameters: 1, sigmaKnown: false });
      // −2 ln L of fresh data with the fitted mean and variance, without the constant n·ln 2π and the n of the fit itself.
      const variance = sumOfSquares / n;
      let squares = 0;
      for (let k = 0; k < n; k += 1) squares += (chance() - mean) ** 2;
      fresh += n * Math.log(variance) + squares / variance - n;
    }
    expect(Math.abs(foretold - fresh) / tries).toBeLessThan(0.3);
  });

  it('knows when there are too few readings to compare', () => {
    expect(akaike({ sumOfSquares: 1, observations: 4, parameters: 2, sigmaKnown: false })).toBe(Infinity);
    expect(akaike({ sumOfSquares: 0, observations: 9, parameters: 2, sigmaKnown: false })).toBeLessThan(-500);
  });

  it('gives weights that sum to one and halve for each 2 ln 2', () => {
    const [best = 0, other = 0] = criterionWeights([10, 10 + 2 * Math.LN2]);
    expect(best).toBeCloseTo(2 / 3, 12);
    expect(other).toBeCloseTo(1 / 3, 12);
    expect(criterionWeights([Infinity, 3])).toEqual([0, 1]);
    expect(criterionWeights([Infinity])).toEqual([0]);
  });
});
