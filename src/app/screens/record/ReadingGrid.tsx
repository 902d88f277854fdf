// biome-ignore-all lint/a11y/useSemanticElements: a table cannot say that only the rows in sight exist
// biome-ignore-all lint/a11y/useFocusableInteractive: the cells, and the buttons of the head, take the focus
import { type KeyboardEvent, type MouseEvent, useCallback, useEffect, useLayoutEffect, useRef, useState } from 'react';
import type { ReadingId } from '../../../survey/ids';
import { useAppState } from '../../app-context';
import { cellEditing } from '../../state/cell-edit';
import type { RecordColumn, RecordRow } from '../../state/record-rows';
import { movedCell, nextSort, type Sort, visibleSlice } from '../../state/table-view';
import { useTheme } from '../../theme';
import { COLUMN_WORDS, NARROW_WORDS } from '../../words/cell-words';
import { GridRow } from './GridRow';

/** Where the keyboard is: a reading, or the head of the table. */
export interface Cursor {
  readonly at: ReadingId | 'head';
  readonly column: RecordColumn;
}

interface Editing {
  readonly at: ReadingId;
  readonly column: RecordColumn;
  /** What was typed on the cell to begin with; null = it begins with what is there. */
  readonly typed: string | null;
}

export interface ReadingGridProps {
  readonly rows: readonly RecordRow[];
  readonly columns: readonly RecordColumn[];
  readonly narrow: boolean;
  readonly sort: Sort<RecordColumn> | null;
  readonly onSort: (sort: Sort<RecordColumn> | null) => void;
  readonly cursor: Cursor | null;
  readonly onCursor: (cursor: Cursor) => void;
  /** A row was pressed, or the keyboard came to rest on it. */
  readonly onOpen: (row: RecordRow) => void;
  /** What can be done about the doubts or the state of the row at hand was asked for. */
  readonly onDetail: (about: 'doubts' | 'status') => void;
  readonly selected: ReadonlySet<ReadingId>;
}

/** The keyboard passes over many rows on its way to one; the map is told of the one where it stops. */
const REST_MS = 180;

/** The table of readings: only the rows in sight are in the page, and the keyboard goes everywhere. */
export function ReadingGrid(props: ReadingGridProps) {
  const { rows, columns, narrow, sort, onSort, cursor, onCursor, onOpen, onDetail, selected } = props;
  const rowHeightPx = narrow ? 48 : 36;
  const theme = useTheme(useAppState((state) => state.theme));
  const scroller = useRef<HTMLDivElement>(null);
  const wantsFocus = useRef(false);
  const rest = useRef<ReturnType<typeof setTimeout>>(undefined);
  const [top, setTop] = useState(0);
  const [heightPx, setHeightPx] = useState(600);
  const [editing, setEditing] = useState<Editing | null>(null);

  const row = cursor && cursor.at !== 'head' ? rows.findIndex(({ reading }) => reading.id === cursor.at) : -1;
  const column = Math.max(0, cursor ? columns.indexOf(cursor.column) : 0);
  // Before it was anywhere, the keyboard enters at the first reading.
  const at = cursor?.at === 'head' || row >= 0 ? row : Math.min(0, rows.length - 1);
  const edited = editing && cursor?.at === editing.at && cursor.column === editing.column ? editing : null;
  const slice = visibleSlice(rows.length, rowHeightPx, top, heightPx);

  useLayoutEffect(() => {
    const element = scroller.current;
    if (!element) return;
    const watcher = new ResizeObserver(() => setHeightPx(element.clientHeight));
    watcher.observe(element);
    return () => watcher.disconnect();
  }, []);

  // The cell that the keyboard is at comes into sight; it is focused where a person has moved there.
  // biome-ignore lint/correctness/useExhaustiveDependencies: another order or another cell
  useLayoutEffect(() => {
    const cell = scroller.current?.querySelector<HTMLElement>('[data-cursor]');
    if (!cursor || !cell) return;
    cell.scrollIntoView({ block: 'nearest', inline: 'nearest' });
    if (wantsFocus.current) cell.focus({ preventScroll: true });
    wantsFocus.current = false;
  }, [cursor, sort, editing]);

  useEffect(() => () => clearTimeout(rest.current), []);

  const moveTo = (toRow: number, toColumn: number) => {
    const next = columns[toColumn];
    const reading = rows[toRow];
    if (!next) return;
    wantsFocus.current = true;
    setEditing(null);
    onCursor({ at: reading ? reading.reading.id : 'head', column: next });
    if (!reading || toRow === at) return;
    clearTimeout(rest.current);
    rest.current = setTimeout(() => onOpen(reading), REST_MS);
  };

  const begin = (target: RecordRow, on: RecordColumn, typed: string | null): boolean => {
    if (!cellEditing(target, on)) return false;
    onCursor({ at: target.reading.id, column: on });
    setEditing({ at: target.reading.id, column: on, typed });
    return true;
  };

  const onKeyDown = (event: KeyboardEvent) => {
    if (edited || event.altKey) return;
    const far = event.ctrlKey || event.metaKey;
    const page = Math.max(1, Math.floor(heightPx / rowHeightPx) - 2);
    const to = movedCell({ row: at, column }, event.key, far, { rows: rows.length, columns: columns.length, page });
    if (to) {
      event.preventDefault();
      return moveTo(to.row, to.column);
    }
    const here = rows[at];
    const on = columns[column];
    if (!here || !on || far) return;
    if (event.key === 'Enter' || event.key === 'F2') {
      event.preventDefault();
      if (begin(here, on, null)) return;
      if (on === 'doubts' || on === 'status') onDetail(on);
      else onOpen(here);
    } else if (/^[\d.,>+−-]$/.test(event.key) && cellEditing(here, on)?.kind === 'text') {
      event.preventDefault();
      begin(here, on, event.key);
    }
  };

  const cellOf = (event: MouseEvent) => {
    const cell = (event.target as Element).closest<HTMLElement>('[role="gridcell"]');
    const target = rows[Number(cell?.parentElement?.dataset.row)];
    const on = columns.find((known) => known === cell?.dataset.column);
    return target && on ? { target, on } : null;
  };

  const onClick = (event: MouseEvent) => {
    const found = cellOf(event);
    if (!found || (event.target as Element).closest('input, select')) return;
    const { target, on } = found;
    // A second press on the same cell edits it, as a double click does.
    if (cursor?.at === target.reading.id && cursor.column === on && event.detail === 2) return;
    wantsFocus.current = true;
    clearTimeout(rest.current);
    setEditing(null);
    onCursor({ at: target.reading.id, column: on });
    onOpen(target);
  };

  // An edit may be done when the keyboard is at another cell already.
  const onEdited = useCallback((id: ReadingId, on: RecordColumn, keepFocus: boolean) => {
    wantsFocus.current = keepFocus;
    setEditing((now) => (now?.at === id && now.column === on ? null : now));
  }, []);

  const indices = Array.from({ length: slice.end - slice.first }, (_, i) => slice.first + i);
  // The row of the keyboard stays, so that scrolling on does not take the focus away.
  if (at >= 0 && (at < slice.first || at >= slice.end)) indices.push(at);

  return (
    <div
      role="grid"
      aria-label="Readings"
      aria-rowcount={rows.length + 1}
      aria-colcount={columns.length}
      aria-describedby="grid-keys"
      className="reading-grid"
      ref={scroller}
      tabIndex={-1}
      onScroll={(event) => setTop(Math.floor(event.currentTarget.scrollTop / (rowHeightPx * 4)) * rowHeightPx * 4)}
      onKeyDown={onKeyDown}
      onClick={onClick}
      onDoubleClick={(event) => {
        const found = cellOf(event);
        if (found) begin(found.target, found.on, null);
      }}
    >
      <div role="row" aria-rowindex={1} className="grid-row grid-head" style={{ height: rowHeightPx }}>
        {columns.map((name, i) => {
          const sorted = sort?.column === name ? (sort.descending ? 'descending' : 'ascending') : 'none';
          const here = at === -1 && column === i;
          return (
            <div
              key={name}
              role="columnheader"
              aria-colindex={i + 1}
              aria-sort={sorted}
              data-column={name}
              className="grid-cell"
            >
              <button
                type="button"
                tabIndex={here ? 0 : -1}
                data-cursor={here || undefined}
                onClick={() => {
                  onCursor({ at: 'head', column: name });
                  wantsFocus.current = true;
                  onSort(nextSort(sort, name));
                }}
              >
                <span className={narrow && name === 'grade' ? 'unseen' : undefined}>
                  {(narrow && NARROW_WORDS[name]) || COLUMN_WORDS[name]}
                </span>
                <span aria-hidden="true">{sorted === 'none' ? '' : sorted === 'ascending' ? ' ↑' : ' ↓'}</span>
              </button>
            </div>
          );
        })}
      </div>
      <div role="rowgroup" className="grid-body" style={{ height: rows.length * rowHeightPx }}>
        {indices.map((index) => {
          const here = rows[index];
          if (!here) return null;
          const on = index === at ? (columns[column] ?? null) : null;
          return (
            <GridRow
              key={here.reading.id}
              row={here}
              index={index}
              heightPx={rowHeightPx}
              columns={columns}
              theme={theme}
              narrow={narrow}
              selected={selected.has(here.reading.id)}
              cursor={on}
              editing={on ? edited : null}
              onEdited={onEdited}
            />
          );
        })}
      </div>
    </div>
  );
}
