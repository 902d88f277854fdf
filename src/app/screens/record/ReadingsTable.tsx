import { useEffect, useMemo, useRef, useState } from 'react';
import type { ReadingId } from '../../../survey/ids';
import { counted } from '../../../survey/wording';
import { useApp, useAppState } from '../../app-context';
import { useNarrow } from '../../narrow';
import type { Content } from '../../state/app-state';
import { indexOf } from '../../state/index-of';
import {
  filterOf,
  NARROW_COLUMNS,
  NO_FILTER,
  RECORD_COLUMNS,
  type RecordColumn,
  type RecordRow,
  recordRows,
  sortValue,
} from '../../state/record-rows';
import { spacingsOf } from '../../state/spacings';
import { arranged, type Sort } from '../../state/table-view';
import { AddReading } from './AddReading';
import { FilterBar } from './FilterBar';
import { type Cursor, ReadingGrid } from './ReadingGrid';
import { RowDetail } from './RowDetail';

/** Where the keyboard goes from the cell of a row that tells more than it can hold. */
const ACTION = { doubts: '.card-doubts button', status: '.row-actions button' } as const;

const NONE: ReadonlySet<ReadingId> = new Set();

/** Every reading as it was written down, with what was found out; the table and the map follow each other. */
export function ReadingsTable({ content }: { content: Content }) {
  const { store } = useApp();
  const narrow = useNarrow();
  const selection = useAppState((state) => state.selection);
  const [filter, setFilter] = useState(NO_FILTER);
  const [sort, setSort] = useState<Sort<RecordColumn> | null>(null);
  const [cursor, setCursor] = useState<Cursor | null>(null);
  const [adding, setAdding] = useState(false);
  const detail = useRef<HTMLElement>(null);

  const all = recordRows(content);
  const index = indexOf(content);
  const rows = useMemo(
    () => arranged(all, filterOf(filter), sort, sortValue).flatMap((i) => all[i] ?? []),
    [all, filter, sort],
  );
  const chosen = selection?.kind === 'midpoint' ? index.bySid.get(selection.sid) : undefined;
  const selected = useMemo(() => (chosen ? new Set(chosen.finding.readings) : NONE), [chosen]);
  const here = cursor && cursor.at !== 'head' ? rows.find(({ reading }) => reading.id === cursor.at) : undefined;
  const hidden = chosen !== undefined && !rows.some(({ reading }) => selected.has(reading.id));

  // What was chosen on the map comes into sight here.
  // biome-ignore lint/correctness/useExhaustiveDependencies: only another choice moves the table
  useEffect(() => {
    if (!chosen || (cursor && cursor.at !== 'head' && selected.has(cursor.at))) return;
    const found = rows.find(({ reading }) => selected.has(reading.id));
    if (found) setCursor({ at: found.reading.id, column: cursor?.column ?? 'value' });
  }, [selection]);

  const open = ({ entry }: RecordRow) => {
    if (entry?.midpointSid === selection?.sid) return;
    store.dispatch({ type: 'select', selection: entry ? { kind: 'midpoint', sid: entry.midpointSid } : null });
  };

  // A reading that was moved by an edit is another place on the map.
  // biome-ignore lint/correctness/useExhaustiveDependencies: only other findings move a reading
  useEffect(() => {
    if (here?.entry && selection?.kind === 'midpoint' && !chosen) open(here);
  }, [index]);

  const total = narrow && rows.length < all.length ? String(all.length) : counted(all.length, 'reading');
  const count = rows.length < all.length ? `${rows.length} of ${total}` : total;
  return (
    <div className="readings-table" data-narrow={narrow || undefined}>
      <FilterBar content={content} spacings={spacingsOf(index.entries)} filter={filter} onFilter={setFilter} />
      {hidden && <p className="quiet">The reading chosen on the map is not among these.</p>}
      {rows.length === 0 ? (
        <p className="no-rows">{all.length === 0 ? 'No readings yet.' : 'No reading is like that.'}</p>
      ) : (
        <ReadingGrid
          rows={rows}
          columns={narrow ? NARROW_COLUMNS : RECORD_COLUMNS}
          narrow={narrow}
          sort={sort}
          onSort={setSort}
          cursor={cursor}
          onCursor={setCursor}
          onOpen={open}
          onDetail={(about) => detail.current?.querySelector<HTMLElement>(ACTION[about])?.focus()}
          selected={selected}
        />
      )}
      <p className="unseen" id="grid-keys">
        Arrow keys move; Enter edits a cell or sorts by a column; Escape leaves it as it was.
      </p>
      {here && !adding && (
        <RowDetail content={content} row={here} narrow={narrow} onClose={() => setCursor(null)} ref={detail} />
      )}
      {adding ? (
        <AddReading
          content={content}
          like={here ?? null}
          onAdded={(id) => setCursor({ at: id, column: 'value' })}
          onClose={() => setAdding(false)}
        />
      ) : (
        <div className="table-foot">
          {content.survey.lines.length > 0 && (
            <button type="button" className="line-button" aria-label="Add a reading…" onClick={() => setAdding(true)}>
              {narrow ? 'Add…' : 'Add a reading…'}
            </button>
          )}
          <p role="status">{count}</p>
          {rows.length < all.length && (
            <button type="button" className="line-button" onClick={() => setFilter(NO_FILTER)}>
              Show all
            </button>
          )}
        </div>
      )}
    </div>
  );
}
