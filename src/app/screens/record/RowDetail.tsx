import { forwardRef } from 'react';
import { shownAs } from '../../../survey/shown';
import { metres } from '../../../survey/wording';
import { useApp } from '../../app-context';
import { Photos } from '../../photos/Photos';
import type { Content } from '../../state/app-state';
import { doubtsOfReading } from '../../state/doubts-of';
import type { RecordRow } from '../../state/record-rows';
import { COLUMN_WORDS, cellWords } from '../../words/cell-words';
import { spacingWords } from '../../words/describe-reading';
import { gradeWords } from '../../words/grade-words';
import { lineWords } from '../../words/line-words';
import { CardDoubts } from '../CardDoubts';
import { ReadingActions } from './ReadingActions';

export interface RowDetailProps {
  readonly content: Content;
  readonly row: RecordRow;
  /** On a small screen: with the columns that had no room. */
  readonly narrow: boolean;
  readonly onClose: () => void;
}

/** The reading that the table is at: what can be done with it, and its doubts. */
export const RowDetail = forwardRef<HTMLElement, RowDetailProps>(function RowDetail(
  { content, row, narrow, onClose },
  ref,
) {
  const { store } = useApp();
  const { reading, line, entry, figure, chainageM, spacingM, sentence } = row;
  const own = new Set([reading.id]);
  const doubts = entry
    ? doubtsOfReading(content.findings, entry.finding, line.id).filter(
        (doubt) => doubt.readings.length === 0 || doubt.readings.some((id) => own.has(id)),
      )
    : content.findings.doubts.filter((doubt) => doubt.readings.some((id) => own.has(id)));
  return (
    <section className="row-detail" aria-label="The reading at hand" ref={ref} tabIndex={-1}>
      <p className="row-detail-title">
        <strong>
          {lineWords(line.name)}
          {chainageM !== null && `, ${metres(chainageM)}`}, {spacingWords(spacingM)}
        </strong>
        {': '}
        {shownAs(reading)}
        {figure && `. ${gradeWords(figure)}`}
      </p>
      {sentence && <p className="doubt-line">{sentence}</p>}
      {narrow && (
        <p className="quiet">
          {(['figure', 'ratio', 'status', 'hookup', 'wetting', 'time'] as const)
            .map((column) => `${COLUMN_WORDS[column]} ${cellWords(row, column)}`)
            .join('; ')}
        </p>
      )}
      {reading.note && <p>{reading.note}</p>}
      <div className="row-actions" key={reading.id}>
        <ReadingActions reading={reading} named={false} />
        {entry && (
          <button
            type="button"
            className="line-button"
            onClick={() => {
              if (narrow) store.dispatch({ type: 'sheet', sheet: 'half' });
              store.dispatch({ type: 'margin', margin: 'read' });
            }}
          >
            All about it
          </button>
        )}
        {narrow && entry && (
          <button
            type="button"
            className="line-button"
            onClick={() => store.dispatch({ type: 'sheet', sheet: 'closed' })}
          >
            On the map
          </button>
        )}
        {narrow && (
          <button type="button" className="line-button" onClick={onClose}>
            Close
          </button>
        )}
      </div>
      <Photos key={`photos ${reading.id}`} survey={content.survey} subject={reading.id} of="reading" />
      <CardDoubts doubts={doubts} />
    </section>
  );
});
