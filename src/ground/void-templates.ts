import type { Layout } from './layout';
import { TRIED_VOIDS, type VoidTable } from './void-table';

/** A void that is tried under a line: its kind and bearing, where along the line, how deep, how large. */
export interface Template {
  /** Which of `TRIED_VOIDS`. */
  readonly tried: number;
  readonly chainageM: number;
  /** Axis or centre below ground. */
  readonly depthM: number;
  readonly radiusM: number;
}

/** Voids and what each does to ln ρa of every reading: templates × readings. */
export interface Templates {
  readonly list: readonly Template[];
  readonly lnRatio: Float64Array;
}

export interface TemplateGrid {
  readonly chainagesM: readonly number[];
  readonly depthsM: readonly number[];
  /** Radius over depth. */
  readonly shares: readonly number[];
  readonly smallestRadiusM: number;
  readonly largestRadiusM: number;
  /** Which of `TRIED_VOIDS`; passages along the line have no place on it and are tried once a depth. */
  readonly tried: readonly number[];
}

/** No void takes more than this off a reading, in ratio: the table is an interpolation. */
const LEAST_RATIO = 0.2;

/** Fills in the responses of a grid of voids. */
export function voidTemplates(table: VoidTable, layouts: readonly Layout[], grid: TemplateGrid): Templates {
  const n = layouts.length;
  const list: Template[] = [];
  const rows: Float64Array[] = [];
  const changes = new Float64Array(table.sizes * n);
  const middleM = grid.chainagesM[grid.chainagesM.length >> 1] ?? 0;
  for (const tried of grid.tried) {
    const chainages = TRIED_VOIDS[tried]?.bearingDeg === 0 ? [middleM] : grid.chainagesM;
    const weights = grid.shares.map((share) => table.weightsOf(tried, share));
    for (const depthM of grid.depthsM) {
      for (const chainageM of chainages) {
        table.changesAt(tried, layouts, depthM, chainageM, changes);
        for (const [s, share] of grid.shares.entries()) {
          const radiusM = share * depthM;
          if (radiusM < grid.smallestRadiusM || radiusM > grid.largestRadiusM) continue;
          list.push({ tried, chainageM, depthM, radiusM });
          rows.push(lnRatios(changes, weights[s] as Float64Array, n));
        }
      }
    }
  }
  const lnRatio = new Float64Array(rows.length * n);
  for (const [i, row] of rows.entries()) lnRatio.set(row, i * n);
  return { list, lnRatio };
}

function lnRatios(changes: Float64Array, weights: Float64Array, n: number): Float64Array {
  const row = new Float64Array(n);
  for (let k = 0; k < n; k += 1) {
    let change = 0;
    for (let s = 0; s < weights.length; s += 1) change += (weights[s] as number) * (changes[s * n + k] as number);
    row[k] = Math.log(Math.max(LEAST_RATIO, 1 + change));
  }
  return row;
}
