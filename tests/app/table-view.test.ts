import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { arranged, movedCell, nextSort, type SortValue, visibleSlice } from '../../src/app/state/table-view';

type Row = Record<'name' | 'size', SortValue>;
const rows: readonly Row[] = [
  { name: 'Line 10', size: 3 },
  { name: 'line 9', size: null },
  { name: 'Line 1', size: -2 },
  { name: null, size: 3 },
];
const valueIn = (row: Row, column: 'name' | 'size') => row[column];
const all = () => true;

describe('rows arranged', () => {
  it('stay as they come without a sort', () => {
    expect(arranged(rows, all, null, valueIn)).toEqual([0, 1, 2, 3]);
  });

  it('are sorted by number and by name, as people count names', () => {
    expect(arranged(rows, all, { column: 'size', descending: false }, valueIn)).toEqual([2, 0, 3, 1]);
    expect(arranged(rows, all, { column: 'name', descending: false }, valueIn)).toEqual([2, 1, 0, 3]);
  });

  it('have what is missing last either way, and keep the order of those alike', () => {
    expect(arranged(rows, all, { column: 'size', descending: true }, valueIn)).toEqual([0, 3, 2, 1]);
    expect(arranged(rows, all, { column: 'name', descending: true }, valueIn)).toEqual([0, 1, 2, 3]);
  });

  it('are only those kept, every one once, in order', () => {
    fc.assert(
      fc.property(fc.array(fc.option(fc.double({ noNaN: true }))), fc.boolean(), (sizes, descending) => {
        const given = sizes.map((size, i) => ({ name: String(i), size }));
        const keep = (row: Row) => Number(row.name) % 3 !== 0;
        const found = arranged(given, keep, { column: 'size', descending }, valueIn);
        expect([...found].sort((a, b) => a - b)).toEqual(given.flatMap((row, i) => (keep(row) ? [i] : [])));
        const values = found.map((i) => sizes[i] ?? null);
        const known = values.filter((value) => value !== null);
        expect(values.slice(0, known.length)).toEqual(known);
        for (let i = 1; i < known.length; i += 1) {
          const [a = 0, b = 0] = [known[i - 1], known[i]];
          expect(descending ? a >= b : a <= b).toBe(true);
        }
      }),
      { seed: 3 },
    );
  });
});

describe('a column’s head', () => {
  it('sorts up, then down, then as the record has them', () => {
    const up = nextSort<'name' | 'size'>(null, 'size');
    const down = nextSort(up, 'size');
    expect([up, down, nextSort(down, 'size')]).toEqual([
      { column: 'size', descending: false },
      { column: 'size', descending: true },
      null,
    ]);
    expect(nextSort(down, 'name')).toEqual({ column: 'name', descending: false });
  });
});

describe('the slice in sight', () => {
  it('holds every row of the window and a few dozen more at most, wherever it is scrolled to', () => {
    fc.assert(
      fc.property(
        fc.nat(20_000),
        fc.integer({ min: 100, max: 2000 }),
        fc.double({ min: 0, max: 1 }),
        (count, px, part) => {
          const rowPx = 36;
          const top = Math.max(0, count * rowPx - px) * part;
          const { first, end } = visibleSlice(count, rowPx, top, px);
          const inside = Math.ceil(px / rowPx);
          expect(first).toBeLessThanOrEqual(Math.floor(top / rowPx));
          expect(end).toBeGreaterThanOrEqual(Math.min(count, Math.ceil((top + px) / rowPx)));
          expect(first).toBeGreaterThanOrEqual(0);
          expect(end).toBeLessThanOrEqual(count);
          expect(end - first).toBeLessThanOrEqual(inside + 40);
        },
      ),
      { seed: 4 },
    );
  });

  it('is the same while the window moves less than its step', () => {
    expect(visibleSlice(1000, 36, 36 * 80, 700)).toEqual(visibleSlice(1000, 36, 36 * 83, 700));
  });

  it('is empty for no rows, and ends with the last when the table became shorter than it was scrolled', () => {
    expect(visibleSlice(0, 36, 500, 700)).toEqual({ first: 0, end: 0 });
    expect(visibleSlice(5, 36, 90_000, 700)).toEqual({ first: 5, end: 5 });
  });
});

describe('the keyboard', () => {
  const size = { rows: 100, columns: 5, page: 10 };
  const from = (row: number, column: number, key: string, far = false) => movedCell({ row, column }, key, far, size);

  it('goes cell by cell, by the page, and to the ends', () => {
    expect(from(3, 2, 'ArrowUp')).toEqual({ row: 2, column: 2 });
    expect(from(3, 2, 'ArrowDown')).toEqual({ row: 4, column: 2 });
    expect(from(3, 2, 'ArrowLeft')).toEqual({ row: 3, column: 1 });
    expect(from(3, 2, 'ArrowRight')).toEqual({ row: 3, column: 3 });
    expect(from(3, 2, 'PageDown')).toEqual({ row: 13, column: 2 });
    expect(from(3, 2, 'PageUp')).toEqual({ row: 0, column: 2 });
    expect(from(3, 2, 'Home')).toEqual({ row: 3, column: 0 });
    expect(from(3, 2, 'End', true)).toEqual({ row: 99, column: 4 });
  });

  it('reaches the head above the first row, and stops at the edges', () => {
    expect(from(0, 2, 'ArrowUp')).toEqual({ row: -1, column: 2 });
    expect(from(-1, 2, 'ArrowUp')).toEqual({ row: -1, column: 2 });
    expect(from(99, 4, 'ArrowDown')).toEqual({ row: 99, column: 4 });
    expect(from(99, 4, 'ArrowRight')).toEqual({ row: 99, column: 4 });
  });

  it('leaves other keys alone', () => {
    expect(['a', 'Tab', 'Enter', 'Escape', 'z'].map((key) => from(3, 2, key))).toEqual([null, null, null, null, null]);
  });
});
