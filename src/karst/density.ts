import type { LonLat } from '../position/crs';
import { type Corner, equalAreaPlane, middleOf } from './equal-area';

/** A square of the equal-area plane. */
export interface DensityCell {
  readonly column: number;
  readonly row: number;
  /** Corners, counter-clockwise from the south-west, longitude and latitude. */
  readonly corners: readonly LonLat[];
  readonly count: number;
  /** Features on a km² of the cell. */
  readonly perKm2: number;
  /** By the kernel at the middle of the cell; null when no bandwidth was asked for. */
  readonly kernelPerKm2: number | null;
}

export interface Density {
  readonly cellM: number;
  readonly bandwidthM: number | null;
  readonly middle: LonLat;
  /** Cells with a feature in them, or whose middle the kernel of one reaches. */
  readonly cells: readonly DensityCell[];
}

/** More cells than this are drawn by nobody. */
export const MOST_CELLS = 250_000;
/** Columns and rows of the Earth stay far below half of this, so that a cell has a number of its own. */
const ROW_KEY = 2 ** 26;
/** The kernel ends where it is nothing: at its radius. */
const KERNEL = 3 / Math.PI;

/**
 * Weight on a m² of one feature at a distance: the quartic kernel (3/πh²)(1 − d²/h²)² (Silverman 1986, 4.5), which is 0
 * from the bandwidth h on and 1 in all.
 */
export function quarticKernel(distanceM: number, bandwidthM: number): number {
  const u = distanceM / bandwidthM;
  return u < 1 ? (KERNEL / (bandwidthM * bandwidthM)) * (1 - u * u) ** 2 : 0;
}

/** Kernel density on a m² at a point of a plane, by the plain sum. */
export const kernelDensityAt = (at: Corner, points: readonly Corner[], bandwidthM: number): number =>
  points.reduce((sum, [x, y]) => sum + quarticKernel(Math.hypot(x - at[0], y - at[1]), bandwidthM), 0);

/**
 * How many features lie in each cell of a grid of squares in the equal-area plane, and the kernel density at the middle
 * of each. Null when there is no feature, or when the cells would be more than `MOST_CELLS`.
 */
export function density(places: readonly LonLat[], cellM: number, bandwidthM: number | null): Density | null {
  if (places.length === 0) return null;
  const middle = middleOf(places);
  const plane = equalAreaPlane(middle);
  const points = places.map(({ lon, lat }) => plane.toPlane(lon, lat) as Corner);
  const counts = new Map<number, { column: number; row: number; count: number; kernel: number }>();
  const cellAt = (column: number, row: number) => {
    const key = row * ROW_KEY + column;
    let cell = counts.get(key);
    if (!cell) {
      cell = { column, row, count: 0, kernel: 0 };
      counts.set(key, cell);
    }
    return cell;
  };
  const reach = bandwidthM === null ? 0 : Math.ceil(bandwidthM / cellM) + 1;
  if ((2 * reach + 1) ** 2 > MOST_CELLS) return null;
  for (const [x, y] of points) {
    const [column, row] = [Math.floor(x / cellM), Math.floor(y / cellM)];
    cellAt(column, row).count += 1;
    if (bandwidthM === null) continue;
    for (let dc = -reach; dc <= reach; dc += 1) {
      for (let dr = -reach; dr <= reach; dr += 1) {
        const distance = Math.hypot((column + dc + 0.5) * cellM - x, (row + dr + 0.5) * cellM - y);
        if (distance < bandwidthM) cellAt(column + dc, row + dr).kernel += quarticKernel(distance, bandwidthM);
      }
    }
    if (counts.size > MOST_CELLS) return null;
  }
  const cells = [...counts.values()]
    .sort((p, q) => p.row - q.row || p.column - q.column)
    .map(
      ({ column, row, count, kernel }): DensityCell => ({
        column,
        row,
        corners: [
          plane.toLonLat(column * cellM, row * cellM),
          plane.toLonLat((column + 1) * cellM, row * cellM),
          plane.toLonLat((column + 1) * cellM, (row + 1) * cellM),
          plane.toLonLat(column * cellM, (row + 1) * cellM),
        ],
        count,
        perKm2: (count * 1e6) / (cellM * cellM),
        kernelPerKm2: bandwidthM === null ? null : kernel * 1e6,
      }),
    );
  return { cellM, bandwidthM, middle, cells };
}
