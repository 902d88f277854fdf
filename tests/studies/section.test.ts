import { describe, expect, it } from 'vitest';
import type { Layout } from '../../src/ground/layout';
import { roundPassage } from '../../src/ground/void-shape';
import { type SectionResult, section, sectionKey } from '../../src/studies/section';
import type { SectionInput } from '../../src/studies/section-input';
import { normalNumbers } from '../helpers/chance';
import { voidRatios } from '../helpers/made-ladder';

const HOST_OHM_M = 500;
const NOISE = 0.03;
const STATIONS = 25;

/** Dipole-dipole, a of 1 and 2 m, n = 1 … 6, on stations 1 m apart. */
const dipoles: readonly Layout[] = [1, 2].flatMap((a) =>
  [1, 2, 3, 4, 5, 6].flatMap((n) =>
    Array.from({ length: Math.max(0, STATIONS - (n + 2) * a) }, (_, i) => ({
      a: i + a,
      b: i,
      m: i + (n + 1) * a,
      n: i + (n + 2) * a,
    })),
  ),
);
const polePole: readonly Layout[] = [1, 2, 3, 4, 6, 8, 12].flatMap((a) =>
  Array.from({ length: STATIONS - a }, (_, i) => ({ a: i, b: null, m: i + a, n: null })),
);

interface Made {
  readonly layouts: readonly Layout[];
  readonly seed: number;
  readonly noise?: number;
  readonly ratio?: (i: number) => number;
  readonly heights?: SectionInput['heights'];
}

function made({ layouts, seed, noise = NOISE, ratio = () => 1, heights = [] }: Made): SectionInput {
  const normal = normalNumbers(seed);
  const readings = layouts.map((layout, i) => ({
    id: `r${i}`,
    layout,
    apparentOhmM: HOST_OHM_M * ratio(i) * Math.exp(noise * normal()),
    sigmaLn: NOISE,
  }));
  return { line: 'X', hookups: ['four_electrode'], readings, heights, leftOut: [], robust: true };
}

function run(input: SectionInput, tick?: (fraction: number) => void): SectionResult {
  const result = section(input, tick);
  if (!result.ok) throw new Error(result.sentence);
  return result.value;
}

/** Largest ratio to the host or its inverse among cells that the readings say something of. */
const farthest = ({ cells }: SectionResult): number =>
  Math.exp(Math.max(...cells.map(({ resistivityOhmM }) => Math.abs(Math.log(resistivityOhmM / HOST_OHM_M)))));

/** Middle of what stands 1.3 times over the host, weighted by area and excess. */
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

describe('a section of dipole-dipole readings', () => {
  const AXIS_M = 3;
  const AT_M = 12.4;
  const ratios = voidRatios(roundPassage(1.5, 80), { depthM: AXIS_M, atM: AT_M, bearingDeg: 90 }, dipoles);

  it('over a passage made by boundary elements, with 3 % noise, shows it within 25 % of its depth and a station', {
    timeout: 240_000,
  }, () => {
    for (let seed = 1; seed <= 20; seed += 1) {
      const result = run(made({ layouts: dipoles, seed, ratio: (i) => ratios[i] as number }));
      expect(result.converged).toBe(true);
      expect(result.chiSquarePerReading).toBeLessThan(1.05);
      const { chainageM, depthM } = excess(result);
      expect(Math.abs(depthM / AXIS_M - 1)).toBeLessThan(0.25);
      expect(Math.abs(chainageM - AT_M)).toBeLessThan(1);
    }
  });

  it('over even ground shows nothing above 1.3, with 3 % noise', () => {
    for (let seed = 1; seed <= 20; seed += 1) {
      expect(farthest(run(made({ layouts: dipoles, seed })))).toBeLessThan(1.3);
    }
  });

  it('weights bad readings down, names them, and shows what it would without them', () => {
    const bad = [12, 77, 140];
    const ratio = (i: number) => (ratios[i] as number) * (bad.includes(i) ? 3 : 1);
    const result = run(made({ layouts: dipoles, seed: 5, ratio }));
    for (const i of bad) expect(result.downWeighted).toContain(`r${i}`);
    expect(result.downWeighted.length).toBeLessThan(bad.length + 4);
    const { chainageM, depthM } = excess(result);
    expect(Math.abs(depthM / AXIS_M - 1)).toBeLessThan(0.25);
    expect(Math.abs(chainageM - AT_M)).toBeLessThan(1);
  });

  it('says where it knows little, ticks up to its end, and is the same each time', () => {
    const heard: number[] = [];
    const input = made({ layouts: dipoles, seed: 1, ratio: (i) => ratios[i] as number });
    const result = run(input, (fraction) => heard.push(fraction));
    expect(heard.at(-1)).toBe(1);
    expect(heard.every((fraction, i) => fraction >= (heard[i - 1] ?? 0))).toBe(true);
    expect(run(input)).toEqual(result);
    expect(result.key).toBe(sectionKey(input));
    const middle = result.cells.filter((cell) => cell.chainageFromM <= AT_M && cell.chainageToM > AT_M);
    const [top, bottom] = [middle[0], middle[middle.length - 1]];
    expect(top?.depthTopM).toBe(0);
    expect(top?.coverage).toBeGreaterThan(0.5);
    expect(bottom?.coverage).toBeLessThan((top?.coverage as number) / 2);
    for (const { coverage } of result.cells) expect(coverage).toBeGreaterThanOrEqual(0);
    for (const { coverage } of result.cells) expect(coverage).toBeLessThanOrEqual(1);
  });
});

describe('a section of pole-pole readings', () => {
  it('over even ground shows nothing above 1.3, with 3 % noise', () => {
    for (let seed = 1; seed <= 3; seed += 1) {
      expect(farthest(run(made({ layouts: polePole, seed })))).toBeLessThan(1.3);
    }
  });
});

describe('a section over a ridge', () => {
  const EDGE_M = 12;
  /** ρa over ρ of four electrodes on the faces of a quarter of space: both faces mirror (method of images). */
  function onRidge({ a, b, m, n }: Layout): number {
    const place = (c: number) => [c - EDGE_M, 0] as const;
    const between = (p: number | null, q: number | null, images: boolean): number => {
      if (p === null || q === null) return 0;
      const [[s], [t]] = [place(p), place(q)];
      const straight = s * t > 0 ? Math.abs(s - t) : Math.hypot(s, t);
      const mirrored = s * t > 0 ? Math.abs(s + t) : straight;
      return 1 / straight + (images ? 1 / mirrored : 0);
    };
    const sum = (images: boolean) =>
      between(a, m, images) - between(a, n, images) - between(b, m, images) + between(b, n, images);
    return sum(true) / sum(false);
  }
  // No electrode stands on the edge itself, where a mirror would be at no distance.
  const layouts = dipoles
    .slice(0, 4 * STATIONS - 18)
    .filter((each) => Object.values(each).every((at) => at !== EDGE_M));
  const down = (chainageM: number) => Math.sin((44.999 * Math.PI) / 180) * Math.abs(chainageM - EDGE_M);
  const heights = [-988, EDGE_M, 1012].map((chainageM) => ({ chainageM, elevationM: 100 - down(chainageM) }));
  const quiet = { layouts, seed: 1, noise: 0, ratio: (i: number) => onRidge(layouts[i] as Layout) };

  it('of even ground is even with the heights, and is not without them', () => {
    expect(Math.max(...layouts.map((layout) => Math.abs(onRidge(layout) - 1)))).toBeGreaterThan(0.5);
    expect(farthest(run(made({ ...quiet, heights })))).toBeLessThan(1.1);
    expect(farthest(run(made(quiet)))).toBeGreaterThan(1.5);
  });

  it('of an even slope is what it is on the level', () => {
    const short = polePole.slice(0, 3 * STATIONS);
    const ratio = (i: number) => 1 + 0.1 * Math.sin(i / 4);
    const slope = [0, 10, 24].map((chainageM) => ({ chainageM, elevationM: 50 + 0.3 * chainageM }));
    const [level, tilted] = [
      run(made({ layouts: short, seed: 1, ratio })),
      run(made({ layouts: short, seed: 1, ratio, heights: slope })),
    ];
    for (const [i, cell] of level.cells.entries()) {
      expect((tilted.cells[i]?.resistivityOhmM as number) / cell.resistivityOhmM).toBeCloseTo(1, 3);
      expect(tilted.cells[i]?.depthTopM).toBeCloseTo(cell.depthTopM, 9);
    }
  });
});
