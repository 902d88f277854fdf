/** A cell of a section as a file holds it. */
export interface WrittenCell {
  readonly chainageFromM: number;
  readonly chainageToM: number;
  readonly depthTopM: number;
  readonly depthBottomM: number;
  readonly resistivityOhmM: number;
  /** 0 = the readings say nothing of it, 1 = as much as of any. */
  readonly coverage: number;
}

// + 0 makes a −0 of rounding a plain 0.
const decimals = (value: number, places: number): number => Number(value.toFixed(places)) + 0;

/** Millimetres, and no more digits of the resistivity than a fit can mean. */
export const cellValues = (cell: WrittenCell) => ({
  chainage_from_m: decimals(cell.chainageFromM, 3),
  chainage_to_m: decimals(cell.chainageToM, 3),
  depth_top_m: decimals(cell.depthTopM, 3),
  depth_bottom_m: decimals(cell.depthBottomM, 3),
  resistivity_ohm_m: Number(cell.resistivityOhmM.toPrecision(4)),
  coverage: decimals(cell.coverage, 4),
});
