import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { factoriseBand, SIDE_BY_SIDE, solveBand } from '../../src/ground/band-cholesky';
import type { Layout } from '../../src/ground/layout';
import { assemble, emptyStencil, toBand } from '../../src/ground/section-elements';
import { sectionMesh } from '../../src/ground/section-mesh';
import { roundPassage } from '../../src/ground/void-shape';
import { type SectionResult, section } from '../../src/studies/section';
import { normalNumbers } from '../helpers/chance';
import { voidRatios } from '../helpers/made-ladder';
import { layersThrough } from '../helpers/section-mesh';

export interface SectionTime {
  readonly name: string;
  readonly readings: number;
  readonly cells: number;
  readonly iterations: number;
  readonly chiSquarePerReading: number;
  readonly seconds: number;
  /** What it may take. */
  readonly barSeconds: number;
  /** Resident memory of this process when it ended. */
  readonly megabytes: number;
}

export interface SectionRate {
  readonly name: string;
  readonly seeds: number;
  /** Share of the seeds with the excess-weighted middle within 25 % of the depth and one station along the line. */
  readonly found: number;
  /** Share of the seeds with something beyond a ratio of 1.3 over even ground. */
  readonly invented: number;
}

const HOST_OHM_M = 500;
const NOISE = 0.03;

const wenner = (stations: number, spacings: number): Layout[] =>
  Array.from({ length: spacings }, (_, k) => k + 1).flatMap((a) =>
    Array.from({ length: Math.max(0, stations - 3 * a) }, (_, i) => ({ a: i, b: i + 3 * a, m: i + a, n: i + 2 * a })),
  );
const polePole = (stations: number, spacings: readonly number[]): Layout[] =>
  spacings.flatMap((a) => Array.from({ length: stations - a }, (_, i) => ({ a: i, b: null, m: i + a, n: null })));
const dipoles = (stations: number, sizes: readonly number[]): Layout[] =>
  sizes.flatMap((a) =>
    [1, 2, 3, 4, 5, 6].flatMap((n) =>
      Array.from({ length: Math.max(0, stations - (n + 2) * a) }, (_, i) => ({
        a: i + a,
        b: i,
        m: i + (n + 1) * a,
        n: i + (n + 2) * a,
      })),
    ),
  );

function run(layouts: readonly Layout[], ratios: readonly number[] | null, seed: number): SectionResult {
  const normal = normalNumbers(seed);
  const readings = layouts.map((layout, i) => ({
    id: `r${i}`,
    layout,
    apparentOhmM: HOST_OHM_M * (ratios?.[i] ?? 1) * Math.exp(NOISE * normal()),
    sigmaLn: NOISE,
  }));
  const result = section({ line: 'X', hookups: ['four_electrode'], readings, heights: [], leftOut: [], robust: true });
  if (!result.ok) throw new Error(result.sentence);
  return result.value;
}

function timed(name: string, layouts: readonly Layout[], atM: number, barSeconds: number): SectionTime {
  const ratios = voidRatios(roundPassage(1.5, 80), { depthM: 3, atM, bearingDeg: 90 }, layouts);
  const start = performance.now();
  const { cells, iterations, chiSquarePerReading } = run(layouts, ratios, 1);
  return {
    name,
    readings: layouts.length,
    cells: cells.length,
    iterations,
    chiSquarePerReading,
    seconds: (performance.now() - start) / 1000,
    barSeconds,
    megabytes: process.memoryUsage().rss / 2 ** 20,
  };
}

/** Whole inversions over a passage with 3 % noise, from readings to cells. */
export function benchSectionTimes(): SectionTime[] {
  return [
    timed('48 stations × 6 spacings, Wenner', wenner(48, 6), 23.4, 5),
    timed('48 stations × 6 spacings, pole-pole', polePole(48, [1, 2, 3, 5, 8, 12]), 23.4, 5),
    timed('200 stations × 8 spacings, pole-pole', polePole(200, [1, 2, 3, 4, 6, 8, 12, 16]), 100.4, 120),
  ];
}

/** The excess-weighted middle, and the farthest ratio to the host, by the seed. */
export function benchSectionRates(seeds = 200): SectionRate[] {
  const at = 12.4;
  return (
    [
      ['dipole-dipole a 1 and 2 m, n 1 to 6', dipoles(25, [1, 2])],
      ['pole-pole 1 to 12 m', polePole(25, [1, 2, 3, 4, 6, 8, 12])],
    ] as const
  ).map(([name, layouts]) => {
    const ratios = voidRatios(roundPassage(1.5, 80), { depthM: 3, atM: at, bearingDeg: 90 }, layouts);
    let [found, invented] = [0, 0];
    for (let seed = 1; seed <= seeds; seed += 1) {
      const { chainageM, depthM } = excess(run(layouts, ratios, seed));
      if (Math.abs(chainageM - at) <= 1 && Math.abs(depthM / 3 - 1) <= 0.25) found += 1;
      const even = run(layouts, null, seed + 1000).cells;
      if (even.some(({ resistivityOhmM: ohmM }) => Math.abs(Math.log(ohmM / HOST_OHM_M)) > Math.log(1.3)))
        invented += 1;
    }
    return { name, seeds, found: found / seeds, invented: invented / seeds };
  });
}

function excess({ cells, depthLimitM }: SectionResult) {
  let [sum, x, z] = [0, 0, 0];
  for (const cell of cells) {
    const over = cell.resistivityOhmM / HOST_OHM_M - 1;
    if (over < 0.3 || cell.depthTopM > depthLimitM) continue;
    const weight = over * (cell.chainageToM - cell.chainageFromM) * (cell.depthBottomM - cell.depthTopM);
    sum += weight;
    x += (weight * (cell.chainageFromM + cell.chainageToM)) / 2;
    z += (weight * (cell.depthTopM + cell.depthBottomM)) / 2;
  }
  return { chainageM: x / sum, depthM: z / sum };
}

/**
 * The solve that a section spends its time in, factor and eight right-hand sides of one wavenumber, beside ml-matrix's
 * dense Cholesky of the same matrix: milliseconds each, and how far their answers lie apart.
 */
export function benchSectionSolve(): { nodes: number; ours: number; dense: number; apart: number } {
  const electrodesM = Array.from({ length: 8 }, (_, i) => i);
  const mesh = sectionMesh({ electrodesM, ground: (c) => [c, 0], spacingM: 1, layersM: layersThrough(0.25, 3) });
  if (!mesh.ok) throw new Error(mesh.sentence);
  const rows = mesh.value.depthM.length;
  const nodes = mesh.value.xM.length * rows;
  const stencil = emptyStencil(nodes);
  assemble(mesh.value, null, 0.3, stencil);
  const halfBand = rows + 1;
  const band = new Float64Array(nodes * (halfBand + 1));
  toBand(stencil, rows, band);
  const whole = Matrix.zeros(nodes, nodes);
  for (let i = 0; i < nodes; i += 1) {
    for (let j = Math.max(0, i - halfBand); j <= i; j += 1) {
      const value = band[i * (halfBand + 1) + halfBand - i + j] as number;
      whole.set(i, j, value);
      whole.set(j, i, value);
    }
  }
  const right = Matrix.zeros(nodes, SIDE_BY_SIDE);
  const x = new Float64Array(nodes * SIDE_BY_SIDE);
  for (let r = 0; r < SIDE_BY_SIDE; r += 1) {
    const node = (mesh.value.electrodeColumns[r] as number) * rows;
    right.set(node, r, 0.5);
    x[node * SIDE_BY_SIDE + r] = 0.5;
  }
  const start = performance.now();
  factoriseBand(band, nodes, halfBand);
  solveBand(band, nodes, halfBand, x);
  const ours = performance.now() - start;
  const again = performance.now();
  const solved = new CholeskyDecomposition(whole).solve(right);
  const dense = performance.now() - again;
  let apart = 0;
  for (let i = 0; i < nodes; i += 1) {
    for (let r = 0; r < SIDE_BY_SIDE; r += 1) {
      apart = Math.max(apart, Math.abs(solved.get(i, r) - (x[i * SIDE_BY_SIDE + r] as number)));
    }
  }
  return { nodes, ours, dense, apart };
}
