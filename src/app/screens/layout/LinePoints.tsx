import { useEffect, useRef, useState } from 'react';
import type { PathItemId } from '../../../survey/ids';
import { retirePathItem } from '../../../survey/path-edits';
import type { Line } from '../../../survey/survey';
import { counted, metres } from '../../../survey/wording';
import { useApp, useAppState } from '../../app-context';
import type { Content } from '../../state/app-state';
import { type LinePoint, wantedChainage } from '../../state/line-points';
import { HistoryButtons } from '../record/HistoryButtons';
import { useEdit } from '../record/use-edit';
import { PointForm } from './PointForm';
import { PointsTable } from './PointsTable';

export interface LinePointsProps {
  readonly content: Content;
  readonly line: Line;
  readonly points: readonly LinePoint[];
}

/** The points of a line: to be looked through, added, corrected, moved and taken out. */
export function LinePoints({ content, line, points }: LinePointsProps) {
  const { store } = useApp();
  const edit = useEdit();
  const moving = useAppState(({ layout }) => layout.task === 'move');
  const [open, setOpen] = useState<PathItemId | 'new' | null>(points.length < 2 ? 'new' : null);
  const [said, setSaid] = useState('');
  const add = useRef<HTMLButtonElement>(null);
  const head = useRef<HTMLHeadingElement>(null);
  const wasOpen = useRef(open);
  const toMap = (task: 'move' | null) => store.dispatch({ type: 'layout', layout: { task, placed: null } });
  const close = () => {
    store.dispatch({ type: 'layout', layout: { task: null, placed: null } });
    setOpen(null);
  };
  const correcting = points.find(({ item }) => item.id === open) ?? null;
  // A point may be gone by an undo while it was open.
  const shown = open === 'new' || correcting ? open : null;

  useEffect(() => {
    if (wasOpen.current !== null && open === null) (add.current ?? head.current)?.focus();
    wasOpen.current = open;
  }, [open]);

  return (
    <section aria-labelledby="points-head">
      <h2 id="points-head" ref={head} tabIndex={-1}>
        Points
      </h2>
      <p className="unseen" role="status">
        {said}
      </p>
      {points.length > 0 && (
        <PointsTable
          content={content}
          points={points}
          open={open === 'new' ? null : open}
          onOpen={(id) => {
            toMap(null);
            setOpen(open === id ? null : id);
          }}
        />
      )}
      {shown !== null && (
        <PointForm
          // A point that was added leaves an empty form for the next one.
          key={`${open} ${open === 'new' ? points.length : ''}`}
          content={content}
          line={line}
          points={points}
          correcting={correcting}
          onDone={(chainageM) => {
            setSaid(`${correcting ? 'Corrected' : 'Added'} at ${metres(chainageM)}.`);
            store.dispatch({ type: 'layout', layout: { task: null, placed: null } });
            // Both ends first; after that it is asked for.
            const next = points.length === 0 && !correcting;
            setOpen(next ? 'new' : null);
            if (next) head.current?.focus({ preventScroll: true });
          }}
          onCancel={close}
          onRetire={async () => {
            if (!correcting) return null;
            const refused = await edit((survey, author) => retirePathItem(survey, line.id, correcting.item.id, author));
            if (refused === null) close();
            return refused;
          }}
        />
      )}
      {shown === null && (
        <div className="ask-buttons">
          <button ref={add} type="button" className="line-button strong-button" onClick={() => setOpen('new')}>
            {addWords(line, points)}
          </button>
          {points.some(({ item, control }) => item.kind === 'fix' && control) && (
            <button
              type="button"
              className="line-button"
              aria-pressed={moving}
              onClick={() => toMap(moving ? null : 'move')}
            >
              {moving ? 'Stop moving points' : 'Move points on the map'}
            </button>
          )}
        </div>
      )}
      {moving && (
        <p className="quiet">
          Drag the ring of a point to where it belongs. It keeps its chainage; each drag can be undone.
        </p>
      )}
      <HistoryButtons />
      {points.length === 1 && <p className="quiet">{counted(1, 'point')}; a line needs two.</p>}
    </section>
  );
}

function addWords(line: Line, points: readonly LinePoint[]): string {
  const wanted = wantedChainage(line, points);
  return wanted === null ? 'Add a point' : `Add the point at ${metres(wanted)}`;
}
