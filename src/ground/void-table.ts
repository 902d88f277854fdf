import { geometricFactorM } from './geometric-factor';
import { type Layout, nominalDistances } from './layout';
import { createVoidModel } from './void-response';
import { roundChamber, roundPassage } from './void-shape';

/*
 * What an air-filled void under a line does to any reading of that line, ready for many tries of depth, size and place.
 * By boundary elements without refinement, for electrodes at nodes along the line: the change that current at u makes in
 * the potential at v, all lengths in depths. A four-electrode reading is a sum of four such changes. Between nodes cubic
 * in asinh u; between sizes a polynomial through all of them, of the change over (radius/depth)³ (chamber) or ² (passage),
 * which are the powers of the first-order answer (Stratton 1941; see small-void.ts).
 */

/** A void that is tried: a round chamber, or a round passage at a bearing from the line (90 = square to it). */
export type TriedVoid =
  | { readonly kind: 'chamber'; readonly bearingDeg: null }
  | { readonly kind: 'passage'; readonly bearingDeg: number };

export const TRIED_VOIDS: readonly TriedVoid[] = [
  { kind: 'chamber', bearingDeg: null },
  ...[90, 60, 30, 0].map((bearingDeg) => ({ kind: 'passage', bearingDeg }) as const),
];

/** Radius over depth: of the tables, and the bounds of what is tried (choice; under 0.15 nothing shows). */
const SIZES = [0.15, 0.35, 0.52, 0.65, 0.74, 0.8] as const;
export const SMALLEST_SHARE = 0.15;
export const LARGEST_SHARE = 0.8;
/** Length of a passage in depths; its ends are out of sight of most ladders (choice). */
const LENGTH_DEPTHS = 16;

/** Nodes along the line reach so many depths to either side; beyond, the change falls off with the square of the distance. */
const REACH_DEPTHS = 20;
const NODES = 40;
const END = Math.asinh(REACH_DEPTHS);
const STEP = (2 * END) / (NODES - 1);

export interface VoidTable {
  /**
   * Relative change ρa/ρ₁ − 1 of readings with a void of every size of the table, `depthM` deep under chainage `atM`:
   * size by size, reading by reading, into `changes` (sizes × readings).
   */
  changesAt(tried: number, layouts: readonly Layout[], depthM: number, atM: number, changes: Float64Array): void;
  readonly sizes: number;
  /** What the changes of the sizes count for a radius/depth between them, for `TRIED_VOIDS[tried]`. */
  weightsOf(tried: number, share: number): Float64Array;
}

/**
 * Computes the table, some tenths of a second; to be kept by the caller. `tick` hears the fraction done.
 * Changes of pole-pole and Wenner readings come out within 4 % or 0.0015 of the exact sphere and of the exact endless
 * cylinder of radius/depth 0.5 across the line; for passages along the line within 4 % of unrefined boundary elements up
 * to radius/depth 0.6 and 12 % at 0.75 (tests).
 */
export function createVoidTable(tick: (fraction: number) => void = () => undefined): VoidTable {
  const tables = TRIED_VOIDS.map(() => [] as Float64Array[]);
  for (const [s, share] of SIZES.entries()) {
    for (const kind of ['chamber', 'passage'] as const) {
      const shape = kind === 'chamber' ? roundChamber(share) : roundPassage(share, LENGTH_DEPTHS);
      const model = createVoidModel(shape, 1, { refine: false, mostPanels: 900 });
      if (!model.ok) throw new Error(model.sentence);
      for (const [k, tried] of TRIED_VOIDS.entries()) {
        if (tried.kind !== kind) continue;
        const place = { xM: 0, yM: 0, depthM: 1, bearingDeg: tried.bearingDeg ?? 0 };
        const answered = model.value.answer({ place, hostOhmM: 1, fillOhmM: Infinity, electrodes: PAIRS });
        if (!answered.ok) throw new Error(answered.sentence);
        tables[k]?.push(Float64Array.from(answered.value, ({ ratio }, i) => (ratio - 1) / (APART[i] as number)));
      }
    }
    tick((s + 1) / SIZES.length);
  }
  return {
    sizes: SIZES.length,
    weightsOf: (tried, share) => weightsOf(TRIED_VOIDS[tried]?.kind === 'chamber' ? 3 : 2, share),
    changesAt(tried, layouts, depthM, atM, changes) {
      fillChanges(tables[tried] as readonly Float64Array[], layouts, depthM, atM, changes);
    },
  };
}

/** Current on the nodes, potential half-way between them, so that no pair shares a rod. */
const CURRENT = Array.from({ length: NODES }, (_, i) => Math.sinh(-END + i * STEP));
const POTENTIAL = Array.from({ length: NODES - 1 }, (_, j) => Math.sinh(-END + (j + 0.5) * STEP));
const CURRENT_PLACES = CURRENT.map((u) => [u, 0, 0] as const);
const POTENTIAL_PLACES = POTENTIAL.map((v) => [v, 0, 0] as const);
const PAIRS = CURRENT_PLACES.flatMap((a) => POTENTIAL_PLACES.map((m) => ({ a, b: null, m, n: null })));
const APART = CURRENT.flatMap((u) => POTENTIAL.map((v) => Math.abs(u - v)));

function weightsOf(power: number, share: number): Float64Array {
  return Float64Array.from(SIZES, (own) => {
    let weight = (share / own) ** power;
    for (const other of SIZES) if (other !== own) weight *= (share - other) / (own - other);
    return weight;
  });
}

/** Where a place lies among nodes: the first of four, their weights (Lagrange), and what distance takes off. */
interface Between {
  readonly first: number;
  readonly weights: readonly [number, number, number, number];
}

function between(u: number, offset: number, count: number): Between {
  const far = Math.abs(u) > REACH_DEPTHS ? (REACH_DEPTHS / u) ** 2 : 1;
  const t = (Math.min(END, Math.max(-END, Math.asinh(u))) + END) / STEP - offset;
  const first = Math.min(count - 4, Math.max(0, Math.floor(t) - 1));
  const x = t - first;
  const [p, q, r, s] = [x, x - 1, x - 2, x - 3];
  return {
    first,
    weights: [(-far * q * r * s) / 6, (far * p * r * s) / 2, (-far * p * q * s) / 2, (far * p * q * r) / 6],
  };
}

function pairChange(table: Float64Array, current: Between, potential: Between): number {
  let sum = 0;
  for (let i = 0; i < 4; i += 1) {
    const row = (current.first + i) * (NODES - 1) + potential.first;
    const [w0, w1, w2, w3] = potential.weights;
    sum +=
      (current.weights[i] as number) *
      (w0 * (table[row] as number) +
        w1 * (table[row + 1] as number) +
        w2 * (table[row + 2] as number) +
        w3 * (table[row + 3] as number));
  }
  return sum;
}

function fillChanges(
  tables: readonly Float64Array[],
  layouts: readonly Layout[],
  depthM: number,
  atM: number,
  changes: Float64Array,
): void {
  for (const [k, layout] of layouts.entries()) {
    const factor = geometricFactorM(nominalDistances(layout)) / (2 * Math.PI * depthM);
    const placed = (chainageM: number | null, offset: number, count: number) =>
      chainageM === null ? null : between((chainageM - atM) / depthM, offset, count);
    const a = placed(layout.a, 0, NODES);
    const b = placed(layout.b, 0, NODES);
    const m = placed(layout.m, 0.5, NODES - 1);
    const n = placed(layout.n, 0.5, NODES - 1);
    for (const [s, table] of tables.entries()) {
      let sum = 0;
      if (a && m) sum += pairChange(table, a, m);
      if (a && n) sum -= pairChange(table, a, n);
      if (b && m) sum -= pairChange(table, b, m);
      if (b && n) sum += pairChange(table, b, n);
      changes[s * layouts.length + k] = factor * sum;
    }
  }
}
