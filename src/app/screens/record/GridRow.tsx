// biome-ignore-all lint/a11y/useSemanticElements: a table cannot say that only the rows in sight exist
// biome-ignore-all lint/a11y/useFocusableInteractive: the cells, and the buttons of the head, take the focus
import { memo } from 'react';
import type { Theme } from '../../../map/ramp';
import type { ReadingId } from '../../../survey/ids';
import { cellEditing } from '../../state/cell-edit';
import type { RecordColumn, RecordRow } from '../../state/record-rows';
import { cellWords } from '../../words/cell-words';
import { ReadingSwatch } from '../ReadingSwatch';
import { CellEditor } from './CellEditor';

export interface GridRowProps {
  readonly row: RecordRow;
  /** In the table as it is arranged, from 0. */
  readonly index: number;
  readonly heightPx: number;
  readonly columns: readonly RecordColumn[];
  readonly theme: Theme;
  /** On a small screen: doubts are counted, not named. */
  readonly narrow: boolean;
  readonly selected: boolean;
  /** The column that the keyboard is at, when it is in this row. */
  readonly cursor: RecordColumn | null;
  /** What was typed to begin editing at the cursor; null = it is not edited. */
  readonly editing: { readonly typed: string | null } | null;
  readonly onEdited: (id: ReadingId, column: RecordColumn, keepFocus: boolean) => void;
}

/** One reading as a row of the grid. Pressing and typing are heard by the grid. */
export const GridRow = memo(function GridRow(props: GridRowProps) {
  const { row, index, heightPx, columns, theme, narrow, selected, cursor, editing, onEdited } = props;
  return (
    <div
      role="row"
      className="grid-row"
      aria-rowindex={index + 2}
      aria-selected={selected}
      data-row={index}
      data-status={row.reading.status}
      data-severity={row.doubts[0]?.severity}
      style={{ top: index * heightPx, height: heightPx }}
    >
      {columns.map((column, i) => {
        const kind = cellEditing(row, column);
        const here = cursor === column;
        const edited = here && editing && kind;
        return (
          <div
            key={column}
            role="gridcell"
            className="grid-cell"
            aria-colindex={i + 1}
            aria-readonly={kind === null}
            data-column={column}
            data-cursor={here || undefined}
            tabIndex={here && !edited ? 0 : -1}
          >
            {edited ? (
              <CellEditor
                row={row}
                column={column}
                editing={kind}
                typed={editing.typed}
                onDone={(keepFocus) => onEdited(row.reading.id, column, keepFocus)}
              />
            ) : (
              <CellContent row={row} column={column} theme={theme} narrow={narrow} />
            )}
          </div>
        );
      })}
    </div>
  );
});

interface CellContentProps {
  readonly row: RecordRow;
  readonly column: RecordColumn;
  readonly theme: Theme;
  readonly narrow: boolean;
}

function CellContent({ row, column, theme, narrow }: CellContentProps) {
  const words = cellWords(row, column);
  if (column === 'grade') {
    return (
      <>
        {row.figure && <ReadingSwatch finding={row.figure} theme={theme} />}
        <span className="unseen">{words}</span>
      </>
    );
  }
  if (column === 'doubts' && narrow && row.doubts.length > 0) {
    return (
      <>
        <span className="grid-words" aria-hidden="true">
          {row.doubts.length}
        </span>
        <span className="unseen">{words}</span>
      </>
    );
  }
  return <span className="grid-words">{words}</span>;
}
