import type { LonLat } from '../position/crs';
import { geodesicDistanceM } from '../position/geodesic';

/** A square of the grid that a place is shown by. */
export interface GridCell {
  readonly column: number;
  readonly row: number;
  readonly gridM: number;
  readonly middle: LonLat;
  /** From its middle to the farthest of its corners, m: every place in it is within that. */
  readonly reachM: number;
}

/** Shortest degree of latitude on the WGS 84 ellipsoid, m, so that no square is smaller than it says. */
const DEGREE_M = 110_574;

/**
 * The cell that holds a place. Rows are of equal latitude from the equator, columns of equal longitude from 180° in
 * each row: the same grid for every survey, share and date, so that a place is always shown by the same cell.
 */
export function gridCell({ lon, lat }: LonLat, gridM: number): GridCell {
  const rowDeg = gridM / DEGREE_M;
  const row = Math.floor(lat / rowDeg);
  const middleLat = Math.max(-90, Math.min(90, (row + 0.5) * rowDeg));
  // The edge of the row nearer to the equator is its longest: measured on the other one no column is too narrow.
  const poleward = Math.min(89.9, Math.max(Math.abs(row * rowDeg), Math.abs((row + 1) * rowDeg)));
  // A whole number of columns, so that none lies across 180° under two numbers.
  const columns = Math.max(1, Math.floor((360 * Math.cos((poleward * Math.PI) / 180)) / rowDeg));
  const columnDeg = 360 / columns;
  const column = Math.min(columns - 1, Math.max(0, Math.floor((lon + 180) / columnDeg)));
  const west = column * columnDeg - 180;
  const middle = { lon: west + columnDeg / 2, lat: middleLat };
  const corners = [0, 1].flatMap((i) =>
    [0, 1].map((k) => ({
      lon: west + i * columnDeg,
      lat: Math.max(-90, Math.min(90, (row + k) * rowDeg)),
    })),
  );
  const reachM = Math.max(...corners.map((corner) => geodesicDistanceM(middle, corner)));
  return { column, row, gridM, middle, reachM };
}
