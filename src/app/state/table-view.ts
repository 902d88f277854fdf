/** What a row is sorted by in a column; null = it has nothing there, and stands last either way. */
export type SortValue = string | number | null;

export interface Sort<C extends string> {
  readonly column: C;
  readonly descending: boolean;
}

const byName = new Intl.Collator('en', { numeric: true, sensitivity: 'base' });

function compared(a: string | number, b: string | number): number {
  return typeof a === 'number' && typeof b === 'number' ? a - b : byName.compare(String(a), String(b));
}

/**
 * The rows that are kept, in order, as their places in `rows`. Without a sort they stay as they come; rows that are alike
 * keep their order in either direction.
 */
export function arranged<R, C extends string>(
  rows: readonly R[],
  keep: (row: R) => boolean,
  sort: Sort<C> | null,
  valueIn: (row: R, column: C) => SortValue,
): number[] {
  const kept: number[] = [];
  rows.forEach((row, i) => {
    if (keep(row)) kept.push(i);
  });
  if (!sort) return kept;
  const values = rows.map((row) => valueIn(row, sort.column));
  const turn = sort.descending ? -1 : 1;
  return kept.sort((i, j) => {
    const [a = null, b = null] = [values[i], values[j]];
    if (a === null || b === null) return (a === null ? 1 : 0) - (b === null ? 1 : 0) || i - j;
    return turn * compared(a, b) || i - j;
  });
}

/** The sort after a column's head was pressed: up, then down, then as the record has them. */
export function nextSort<C extends string>(sort: Sort<C> | null, column: C): Sort<C> | null {
  if (sort?.column !== column) return { column, descending: false };
  return sort.descending ? null : { column, descending: true };
}

export interface Slice {
  readonly first: number;
  /** One behind the last. */
  readonly end: number;
}

/** Slices begin at a multiple of this, so that small movements need no new rows. */
const STEP = 8;

/** The rows that a window over the table shows, and some more on either side. Lengths in pixels. */
export function visibleSlice(count: number, rowHeightPx: number, scrollTopPx: number, heightPx: number): Slice {
  const top = Math.floor(Math.max(0, scrollTopPx) / rowHeightPx);
  const first = Math.max(0, Math.floor(top / STEP) * STEP - STEP);
  const shown = Math.ceil(heightPx / rowHeightPx) + 1;
  const end = Math.min(count, Math.ceil((top + shown) / STEP) * STEP + STEP);
  return { first: Math.min(first, end), end };
}

/** A cell by its row and column in the table as it is arranged; row −1 is the head. */
export interface Cell {
  readonly row: number;
  readonly column: number;
}

/** Where a key takes the cursor; null for a key that does not move it. Moves stop at the edges. */
export function movedCell(
  { row, column }: Cell,
  key: string,
  far: boolean,
  { rows, columns, page }: { readonly rows: number; readonly columns: number; readonly page: number },
): Cell | null {
  const at = (nextRow: number, nextColumn: number): Cell => ({
    row: Math.max(-1, Math.min(rows - 1, nextRow)),
    column: Math.max(0, Math.min(columns - 1, nextColumn)),
  });
  switch (key) {
    case 'ArrowUp':
      return far ? at(0, column) : at(row - 1, column);
    case 'ArrowDown':
      return far ? at(rows - 1, column) : at(row + 1, column);
    case 'ArrowLeft':
      return at(row, far ? 0 : column - 1);
    case 'ArrowRight':
      return at(row, far ? columns - 1 : column + 1);
    case 'Home':
      return at(far ? 0 : row, 0);
    case 'End':
      return at(far ? rows - 1 : row, columns - 1);
    case 'PageUp':
      return at(Math.max(0, row - page), column);
    case 'PageDown':
      return at(row + page, column);
    default:
      return null;
  }
}
