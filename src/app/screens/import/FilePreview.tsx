import { useId } from 'react';
import type { FileColumns } from '../../../exchange/read/columns';
import type { TableKind } from '../../../exchange/read/headers';
import type { TablePreview } from '../../../exchange/read/preview';
import type { Note } from '../../../survey/note';
import { counted } from '../../../survey/wording';
import { TABLE_WORDS } from '../../words/table-words';
import { ColumnMeanings } from './ColumnMeanings';
import { CoordinateSystem } from './CoordinateSystem';
import { HookupQuestion } from './HookupQuestion';
import { FaultNotes, OtherNotes } from './ImportNotes';
import { hasColumn, withGrid, withMeaning, withTable } from './import-draft';
import { Parting } from './Parting';
import { PointSketch } from './PointSketch';
import { SaidOnce } from './SaidOnce';
import { SampleRows } from './SampleRows';

const KINDS = Object.keys(TABLE_WORDS) as TableKind[];

export interface FilePreviewProps {
  readonly preview: TablePreview;
  readonly columns: FileColumns | undefined;
  /** What reading this file has to say. */
  readonly notes: readonly Note[];
  readonly onCorrect: (columns: FileColumns) => void;
  readonly onLeaveOut: () => void;
}

/** One file: what it was taken for, and every correction that it may need. */
export function FilePreview({ preview, columns, notes, onCorrect, onLeaveOut }: FilePreviewProps) {
  const id = useId();
  const { kind, fields } = preview;
  const projected = hasColumn(preview.columns, 'easting') || hasColumn(preview.columns, 'first_easting');
  return (
    <section className="file" aria-labelledby={id}>
      <div className="file-top">
        <h3 id={id}>{preview.file}</h3>
        <button type="button" className="line-button" onClick={onLeaveOut}>
          Leave this file out
        </button>
      </div>
      <label className="field">
        <span>This table holds</span>
        <select
          value={kind ?? ''}
          onChange={(event) => {
            const chosen = KINDS.find((name) => name === event.target.value);
            if (chosen) onCorrect(withTable(columns, chosen));
          }}
        >
          {kind === null && <option value="">choose…</option>}
          {KINDS.map((name) => (
            <option key={name} value={name}>
              {TABLE_WORDS[name]}
            </option>
          ))}
        </select>
      </label>
      {preview.rowCount > 0 && <p className="quiet">{counted(preview.rowCount, 'row')}.</p>}
      <FaultNotes notes={notes} />
      {kind && columns && (
        <>
          {preview.hints.map((hint) => (
            <p key={hint} className="hint">
              {hint}
            </p>
          ))}
          <ColumnMeanings
            columns={preview.columns}
            fields={fields}
            onMeaning={(header, field) => onCorrect(withMeaning(columns, preview.columns, header, field))}
          />
          {kind === 'readings' && !hasColumn(preview.columns, 'hookup') && (
            <HookupQuestion columns={columns} onCorrect={onCorrect} />
          )}
          <SaidOnce key={kind} preview={preview} kind={kind} columns={columns} onCorrect={onCorrect} />
          {projected && !hasColumn(preview.columns, 'epsg') && (
            <CoordinateSystem
              preview={preview}
              columns={columns}
              onCorrect={onCorrect}
              onGrid={(grid) => onCorrect(withGrid(columns, grid))}
            />
          )}
          <PointSketch places={preview.places} unit={columns.grid?.unit ?? null} />
        </>
      )}
      <OtherNotes notes={notes} />
      <SampleRows preview={preview} />
      {kind && columns && <Parting preview={preview} columns={columns} onCorrect={onCorrect} />}
    </section>
  );
}
