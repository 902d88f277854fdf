import * as fc from 'fast-check';
import { Matrix, solve as solveByLibrary } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { type DenseLu, factorise, solve } from '../../src/ground/dense-lu';
import { doubleLayer, electrodeVectors, solidAngle } from '../../src/ground/half-space-kernel';
import { meshOf, passagePanelCount, type QuarterMesh } from '../../src/ground/void-mesh';
import { proportionsOf, roundChamber, roundPassage, type VoidShape } from '../../src/ground/void-shape';

function mesh(shape: VoidShape, depthM: number, quarterTurn = 4) {
  const proportions = proportionsOf(shape, depthM);
  if (!proportions.ok) throw new Error(proportions.sentence);
  return meshOf(proportions.value, { quarterTurn: quarterTurn / 2, axialPerDepth: 1, evenDepths: 8, cut: 2 });
}

const SHAPES: readonly (readonly [string, VoidShape, number])[] = [
  ['a round chamber', roundChamber(1), 2],
  ['a chamber under a thin roof', roundChamber(1), 1.06],
  ['a flat chamber', { kind: 'chamber', halfAxesM: [3, 2, 0.5] }, 1.5],
  ['a round passage', roundPassage(1, 20), 2],
  ['a long flattened passage', { kind: 'passage', lengthM: 150, widthM: 4, heightM: 1 }, 3],
];

describe('solid angles', () => {
  it('of a side of a cube are a sixth of the sphere from its middle, by triangle or by square', () => {
    const square = Float64Array.of(1, -1, -1, 1, 1, -1, 1, 1, 1, 1, -1, 1);
    expect(solidAngle(square, 0, 0, 0, 0)).toBeCloseTo((4 * Math.PI) / 6, 12);
    const half = Float64Array.of(1, -1, -1, 1, 1, -1, 1, 1, 1, 1, 1, 1);
    expect(solidAngle(half, 0, 0, 0, 0)).toBeCloseTo((4 * Math.PI) / 12, 12);
  });

  it('change sign with the side that is seen, and are that of a disc far away', () => {
    const square = Float64Array.of(1, -1, -1, 1, 1, -1, 1, 1, 1, 1, -1, 1);
    expect(solidAngle(square, 0, 2, 0, 0)).toBeCloseTo((-4 * Math.PI) / 6, 12);
    expect(solidAngle(square, 0, -999, 0, 0) / (4 / 1000 ** 2)).toBeCloseTo(1, 5);
  });
});

describe.each(SHAPES)('the surface of %s', (_, shape, depthM) => {
  const surface = mesh(shape, depthM);

  it('is closed: potentials that are even all over give −½ on it and nothing outside (Gauss)', () => {
    const [even] = doubleLayer(surface) as [Float64Array];
    for (let i = 0; i < surface.count; i += 1) {
      const row = even.subarray(i * surface.count, (i + 1) * surface.count);
      expect(Math.abs(row.reduce((sum, k) => sum + k, 0.5))).toBeLessThan(1e-10);
    }
    for (const [x, y] of [
      [0, 0],
      [0.3, -0.2],
      [-7, 4],
    ] as const) {
      const { flux } = electrodeVectors(surface, x, y);
      expect(Math.abs((flux[0] as Float64Array).reduce((sum, value) => sum + value, 0))).toBeLessThan(1e-10);
    }
  });

  it('holds the true volume', () => {
    let volume = 0;
    for (let j = 0; j < surface.count; j += 1) {
      const c = surface.corners.subarray(12 * j, 12 * j + 12);
      const corner = (k: number): [number, number, number] => [
        c[3 * k] ?? 0,
        c[3 * k + 1] ?? 0,
        (c[3 * k + 2] ?? 0) - 1,
      ];
      for (const [p, q, r] of [
        [0, 1, 2],
        [0, 2, 3],
      ] as const) {
        const [a, b, d] = [corner(p), corner(q), corner(r)];
        const across = [b[1] * d[2] - b[2] * d[1], b[2] * d[0] - b[0] * d[2], b[0] * d[1] - b[1] * d[0]] as const;
        volume += (4 * (a[0] * across[0] + a[1] * across[1] + a[2] * across[2])) / 6;
      }
    }
    const sizes = shape.kind === 'chamber' ? shape.halfAxesM : [shape.lengthM, shape.widthM / 2, shape.heightM / 2];
    const share = shape.kind === 'chamber' ? (4 / 3) * Math.PI : Math.PI;
    const expected = sizes.reduce((product, size) => (product * size) / depthM, share);
    expect(volume / expected).toBeCloseTo(1, 10);
  });
});

describe('the panels of a passage', () => {
  it('are as many as were counted beforehand', () => {
    const fineness = { quarterTurn: 2, axialPerDepth: 1, evenDepths: 8, cut: 2 };
    for (const lengthM of [5, 40, 200]) {
      expect(4 * mesh(roundPassage(1, lengthM), 2).count).toBe(passagePanelCount(lengthM / 2, fineness));
    }
  });
});

/** −κ ∫ φ ∂G/∂n dS of (½ + κK) φ = φ₀, as the production code solves it but with nothing added to K. */
function changeBetween(surface: QuarterMesh, kappa: number) {
  const { count } = surface;
  const factors = doubleLayer(surface).map((layer) =>
    factorise(
      layer.map((k, at) => (at % (count + 1) === 0 ? 0.5 : 0) + kappa * k),
      count,
    ),
  );
  return (from: readonly [number, number], to: readonly [number, number]): number => {
    const { potential } = electrodeVectors(surface, ...from);
    const { flux } = electrodeVectors(surface, ...to);
    let sum = 0;
    for (const [p, right] of potential.entries()) {
      const solved = solve(factors[p] as DenseLu, right);
      for (let j = 0; j < count; j += 1) sum += (solved[j] as number) * ((flux[p] as Float64Array)[j] as number);
    }
    return -kappa * sum;
  };
}

describe('the equations', () => {
  const change = changeBetween(mesh(roundChamber(1), 2, 12), -1);

  it('answer alike in both directions of the current, before anything is averaged', () => {
    expect(change([0.2, 0.1], [1.3, -0.6]) / change([1.3, -0.6], [0.2, 0.1])).toBeCloseTo(1, 2);
    expect(change([-0.5, 0], [0.5, 0])).toBeCloseTo(change([0.5, 0], [-0.5, 0]), 12);
  });

  it('leave the body without a charge: its potential falls faster than 1/r', () => {
    const near = change([0.2, 0.1], [100, 0]) * 100;
    const far = change([0.2, 0.1], [1000, 0]) * 1000;
    expect(far / near).toBeCloseTo(0.1, 2);
  });
});

describe('a half-sphere of other ground at the surface', () => {
  /** The lower half of a round chamber, drawn up to the surface; radius 1. No flux of G passes the flat top. */
  function bowl(quarterTurn: number): QuarterMesh {
    const { corners, centres, areas } = mesh(roundChamber(1), 2, quarterTurn);
    const lower = [...areas.keys()].filter((j) => (centres[3 * j + 2] as number) > 1);
    const moved = (from: Float64Array, width: number): Float64Array =>
      Float64Array.from(
        lower.flatMap((j) => [...from.subarray(width * j, width * (j + 1))]),
        (value, at) => 2 * (at % 3 === 2 ? value - 1 : value),
      );
    return {
      count: lower.length,
      corners: moved(corners, 12),
      centres: moved(centres, 3),
      areas: Float64Array.from(lower, (j) => 4 * (areas[j] as number)),
    };
  }

  /*
   * Radius 5 m, pole-pole with both electrodes outside at C, P m from the middle of the sink; ρa of the exact series (Cook & Van Nostrand 1954,
   * Geophysics 19:761, from memory), evaluated for this project.
   */
  it.each([
    [500, 50, 6, 8, 412.664302],
    [500, 50, 6, 10, 408.790291],
    [500, 50, 10, 30, 488.593926],
    [500, 50, -6, 6, 749.831257],
    [500, 50, -7, 13, 587.841681],
    [50, 500, 6, 8, 55.939669],
    [50, 500, 6, 10, 55.948116],
    [50, 500, 10, 30, 50.666985],
    [50, 500, -6, 6, 37.768288],
    [50, 500, -7, 13, 45.310332],
  ])('host %d, fill %d Ω·m, electrodes at %d and %d m: ρa is %d', (host, fill, c, p, exact) => {
    const kappa = (host - fill) / (host + fill);
    const ratio = ([8, 16] as const).map((n) => {
      const change = changeBetween(bowl(n), kappa);
      const both = (change([c / 5, 0], [p / 5, 0]) + change([p / 5, 0], [c / 5, 0])) / 2;
      return 1 + 2 * Math.PI * (Math.abs(c - p) / 5) * both;
    }) as [number, number];
    expect(Math.abs((ratio[1] + (ratio[1] - ratio[0]) / 3) * host - exact) / host).toBeLessThan(0.001);
  });
});

describe('an upright contact of two grounds', () => {
  const FAR = 4000;

  /** The right wall of a body that reaches far to the left: its other ends are too far off to be felt. */
  function wall(finest: number): QuarterMesh {
    const edges = [0];
    for (let step = finest; (edges.at(-1) as number) < FAR; step *= 1.15) edges.push((edges.at(-1) as number) + step);
    const corners: number[] = [];
    const centres: number[] = [];
    const areas: number[] = [];
    for (let i = 1; i < edges.length; i += 1) {
      for (let j = 1; j < edges.length; j += 1) {
        const [y0, y1, z0, z1] = [edges[i - 1], edges[i], edges[j - 1], edges[j]] as [number, number, number, number];
        corners.push(FAR, y0, z0, FAR, y1, z0, FAR, y1, z1, FAR, y0, z1);
        centres.push(FAR, (y0 + y1) / 2, (z0 + z1) / 2);
        areas.push(4 * (y1 - y0) * (z1 - z0));
      }
    }
    return {
      count: areas.length,
      corners: Float64Array.from(corners),
      centres: Float64Array.from(centres),
      areas: Float64Array.from(areas),
    };
  }

  /*
   * Pole-pole square to the contact, both electrodes on its side of 100 Ω·m, 900 Ω·m beyond it: ρ₁(1 + k·a/(|x_C| + |x_P|))
   * by the image of the source, k = 0.8 (exact; computed for this project).
   */
  it.each([
    [10, 8, 108.888889],
    [6, 4, 116],
    [3, 1, 140],
  ])('with electrodes at %d and %d m from it reads %d Ω·m', (c, p, exact) => {
    const surface = wall(0.25);
    const kappa = (100 - 900) / (100 + 900);
    // Flat walls do not see themselves: (½ + κK) φ = φ₀ is φ = 2 φ₀, and the change is one sum.
    const { potential } = electrodeVectors(surface, FAR + c, 0);
    const { flux } = electrodeVectors(surface, FAR + p, 0);
    let sum = 0;
    for (const [part, values] of potential.entries()) {
      for (let j = 0; j < surface.count; j += 1) {
        sum += 2 * (values[j] as number) * ((flux[part] as Float64Array)[j] as number);
      }
    }
    const apparent = 100 * (1 - 2 * Math.PI * (c - p) * kappa * sum);
    expect(Math.abs(apparent - exact) / (exact - 100)).toBeLessThan(0.02);
  });
});

describe('the solver', () => {
  it('agrees with a general library of matrices, sizes that fill no block of four too', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 23 }), fc.integer({ min: 1, max: 1e6 }), (size, seed) => {
        let state = seed;
        const next = (): number => {
          state = (state * 48271) % 2147483647;
          return state / 2147483647 - 0.5;
        };
        const matrix = Matrix.from1DArray(size, size, Array.from({ length: size * size }, next));
        const right = Array.from({ length: size }, next);
        const expected = solveByLibrary(matrix, Matrix.columnVector(right)).to1DArray();
        const found = solve(factorise(Float64Array.from(matrix.to1DArray()), size), Float64Array.from(right));
        const scale = Math.max(...expected.map(Math.abs));
        for (const [i, value] of found.entries())
          expect(Math.abs(value - (expected[i] ?? 0)) / scale).toBeLessThan(1e-7);
      }),
    );
  });

  it('exchanges rows where a pivot is nothing', () => {
    const rows = [0, 2, 0, 0, 0, 0, 0, 0, 3, 0, 4, 0, 0, 0, 0, 0, 0, 0, 0, 5, 0, 0, 6, 0, 0];
    const found = solve(factorise(Float64Array.from(rows), 5), Float64Array.of(2, 6, 12, 20, 30));
    expect([...found]).toEqual([3, 1, 5, 2, 4]);
  });
});
