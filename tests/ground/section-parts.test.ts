import { CholeskyDecomposition, inverse, Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { factoriseBand, SIDE_BY_SIDE, solveBand } from '../../src/ground/band-cholesky';
import { besselK0, besselK1, besselRatio } from '../../src/ground/section-bessel';
import { sectionForward } from '../../src/ground/section-forward';
import { sectionMesh } from '../../src/ground/section-mesh';
import { smoothnessOf } from '../../src/ground/section-smoothness';
import { couplingOf, evenLambda, smoothFit } from '../../src/ground/section-step';
import { wavenumbersFor } from '../../src/ground/section-wavenumbers';
import { evenNumbers } from '../helpers/chance';
import { layersThrough } from '../helpers/section-mesh';

describe('the band solver', () => {
  it('solves what ml-matrix solves without knowing of the band', () => {
    const [size, halfBand] = [40, 6];
    const even = evenNumbers(3);
    const band = new Float64Array(size * (halfBand + 1));
    const whole = Matrix.zeros(size, size);
    for (let i = 0; i < size; i += 1) {
      for (let j = Math.max(0, i - halfBand); j <= i; j += 1) {
        const value = i === j ? 20 : 2 * even() - 1;
        band[i * (halfBand + 1) + halfBand - i + j] = value;
        whole.set(i, j, value);
        whole.set(j, i, value);
      }
    }
    const right = Matrix.zeros(size, SIDE_BY_SIDE);
    for (let i = 0; i < size; i += 1) for (let r = 0; r < SIDE_BY_SIDE; r += 1) right.set(i, r, even());
    const x = Float64Array.from(right.to1DArray());
    expect(factoriseBand(band, size, halfBand)).toBe(true);
    solveBand(band, size, halfBand, x);
    const exact = new CholeskyDecomposition(whole).solve(right).to1DArray();
    for (const [i, value] of exact.entries()) expect(x[i]).toBeCloseTo(value, 12);
  });

  it('refuses a matrix that is not positive definite', () => {
    expect(factoriseBand(Float64Array.from([0, 1, 2, 1]), 2, 1)).toBe(false);
  });
});

describe('the smoothest model that fits', () => {
  it('is the answer of the normal equations on the cells, solved by ml-matrix', () => {
    const smoothness = smoothnessOf([1, 2, 1.5], [0.5, 1]);
    const [cells, count, lambda] = [6, 11, 0.7];
    const even = evenNumbers(8);
    const rows = Float64Array.from({ length: count * cells }, () => 2 * even() - 1);
    const wanted = Float64Array.from({ length: count }, () => 2 * even() - 1);
    const columns = new Float64Array(cells * SIDE_BY_SIDE);
    for (let c = 0; c < cells; c += 1) columns[c * SIDE_BY_SIDE + c] = 1;
    smoothness.smooth(columns);
    const spread = new Matrix(
      Array.from({ length: cells }, (_, p) =>
        Array.from({ length: cells }, (_, q) => columns[p * SIDE_BY_SIDE + q] ?? 0),
      ),
    );
    const a = new Matrix(Array.from({ length: count }, (_, i) => [...rows.slice(i * cells, (i + 1) * cells)]));
    const due = solve(
      a.transpose().mmul(a).add(inverse(spread).mul(lambda)),
      a.transpose().mmul(Matrix.columnVector([...wanted])),
    );
    const problem = { rows, cells, wanted };
    const coupling = couplingOf(problem, smoothness);
    const { model, left } = smoothFit(problem, coupling, smoothness, lambda);
    for (const [c, value] of due.to1DArray().entries()) expect(model[c]).toBeCloseTo(value, 10);
    const answer = a.mmul(due).to1DArray();
    for (const [i, value] of answer.entries()) expect(left[i]).toBeCloseTo((wanted[i] as number) - value, 10);
    const trace = a.mmul(spread).mmul(a.transpose()).trace();
    expect(evenLambda(coupling)).toBeCloseTo(trace / count, 10);
  });
});

describe('the Bessel functions', () => {
  it('are their integrals, ∫ exp(−x cosh t) dt and the same with cosh t', () => {
    // Integral representation (Abramowitz & Stegun 9.6.24), by the trapezoidal rule, which is exact to rounding here.
    for (const x of [0.001, 0.03, 0.5, 1.9, 2.1, 6, 20]) {
      let [k0, k1] = [0, 0];
      const step = 0.01;
      for (let i = 0; i < 1500; i += 1) {
        const cosh = Math.cosh(i * step);
        const part = (i === 0 ? 0.5 : 1) * step * Math.exp(-x * cosh);
        k0 += part;
        k1 += part * cosh;
      }
      expect(Math.abs(besselK0(x) / k0 - 1)).toBeLessThan(1e-6);
      expect(Math.abs(besselK1(x) / k1 - 1)).toBeLessThan(1e-6);
      expect(Math.abs((besselRatio(x) * k0) / k1 - 1)).toBeLessThan(1e-6);
    }
  });
});

describe('the wavenumbers', () => {
  it('bring 1/r back between the distances that they were made for', () => {
    for (const [near, far] of [
      [0.5, 100],
      [0.25, 20],
      [1, 2000],
    ] as const) {
      const { perM, weights } = wavenumbersFor(near, far, 5e-5);
      expect(perM.length).toBeLessThan(17);
      for (let r = near; r <= far; r *= 1.07) {
        const sum = perM.reduce((total, k, i) => total + (weights[i] as number) * besselK0(k * r), 0);
        expect(Math.abs(r * sum - 1)).toBeLessThan(2e-4);
      }
    }
  });
});

describe('the sensitivities', () => {
  const electrodesM = [0, 1, 2, 3, 4, 5, 6];
  const ground = (chainageM: number) => [chainageM, 0.2 * Math.sin(chainageM)] as const;
  const mesh = sectionMesh({ electrodesM, ground, spacingM: 1, layersM: layersThrough(0.25, 3) });
  if (!mesh.ok) throw new Error(mesh.sentence);
  const readings = [
    { a: 1, b: 0, m: 3, n: 4 },
    { a: 0, b: null, m: 4, n: null },
    { a: 0, b: 6, m: 2, n: 4 },
  ];
  const forward = sectionForward(mesh.value, readings, wavenumbersFor(0.5, 24, 5e-5));
  const ohmM = Float64Array.from({ length: forward.cells }, (_, c) => 100 * Math.exp(0.5 * Math.sin(c)));
  const { jacobian } = forward.answer(forward.elementsOf(ohmM), true);

  it('are what changing a cell does', () => {
    const cells = Array.from({ length: forward.cells }, (_, c) => c).filter((c) => c % 7 === 3);
    for (const c of cells) {
      const read = (factor: number) =>
        forward.answer(forward.elementsOf(ohmM.map((value, i) => (i === c ? value * factor : value))), false)
          .apparentOhmM;
      const [more, less] = [read(1.01), read(1 / 1.01)];
      for (let i = 0; i < readings.length; i += 1) {
        const slope = Math.log((more[i] as number) / (less[i] as number)) / (2 * Math.log(1.01));
        expect(Math.abs((jacobian?.[i * forward.cells + c] as number) - slope)).toBeLessThan(0.01);
      }
    }
  });

  it('add up to 1: ground that is everywhere twice as resistive reads twice as much', () => {
    for (let i = 0; i < readings.length; i += 1) {
      const sum = (jacobian as Float64Array)
        .subarray(i * forward.cells, (i + 1) * forward.cells)
        .reduce((total, value) => total + value, 0);
      expect(Math.abs(sum - 1)).toBeLessThan(0.05);
    }
  });
});
