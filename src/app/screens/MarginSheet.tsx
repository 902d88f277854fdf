import { lazy, Suspense, useEffect, useRef } from 'react';
import { useAppState } from '../app-context';
import type { Margin } from '../state/app-state';
import { FailedNote } from './FailedNote';
import { ReadMargin } from './ReadMargin';
import { useUndoKeys } from './record/use-undo-keys';
import { TabNote } from './TabNote';
import { TroubleNote } from './TroubleNote';

// Loaded when it is first opened, so that the page starts without it.
const RecordMargin = lazy(async () => ({ default: (await import('./record/RecordMargin')).RecordMargin }));

const KarstMargin = lazy(async () => ({ default: (await import('./karst/KarstMargin')).KarstMargin }));

const HandOverMargin = lazy(async () => ({ default: (await import('./HandOverMargin')).HandOverMargin }));

const LayoutMargin = lazy(async () => ({ default: (await import('./layout/LayoutMargin')).LayoutMargin }));

const NAME: Record<Margin, string> = {
  lay_out: 'Lay out',
  record: 'Record',
  read: 'Read',
  karst: 'Karst',
  hand_over: 'Hand over',
};

/** What the open margin holds. On a small screen it is a sheet from below that can be pulled to full height. */
export function MarginSheet() {
  const phase = useAppState((state) => state.phase);
  const margin = useAppState((state) => state.margin);
  const selection = useAppState((state) => state.selection);
  const line = useAppState(({ layout }) => layout.line);
  const page = useRef<HTMLDivElement>(null);
  useUndoKeys();

  // Another thing to read begins at its beginning.
  // biome-ignore lint/correctness/useExhaustiveDependencies: these are what makes it another thing
  useEffect(() => {
    if (page.current) page.current.scrollTop = 0;
  }, [margin, selection, line]);

  return (
    <aside className="margin" id="margin" aria-label={NAME[margin]}>
      <TabNote />
      <TroubleNote on="margin" />
      <div className="margin-page" ref={page}>
        {phase.kind === 'loading' && <p className="quiet">Reading the survey…</p>}
        {phase.kind === 'failed' && <FailedNote sentence={phase.sentence} notes={phase.notes} />}
        {phase.kind === 'ready' && margin === 'lay_out' && (
          <Suspense fallback={<p className="quiet">Opening…</p>}>
            <LayoutMargin content={phase.content} />
          </Suspense>
        )}
        {phase.kind === 'ready' && margin === 'record' && (
          <Suspense fallback={<p className="quiet">Opening the table…</p>}>
            <RecordMargin content={phase.content} />
          </Suspense>
        )}
        {phase.kind === 'ready' && margin === 'read' && <ReadMargin content={phase.content} />}
        {phase.kind === 'ready' && margin === 'karst' && (
          <Suspense fallback={<p className="quiet">Opening…</p>}>
            <KarstMargin content={phase.content} />
          </Suspense>
        )}
        {phase.kind === 'ready' && margin === 'hand_over' && (
          <Suspense fallback={<p className="quiet">Opening…</p>}>
            <HandOverMargin content={phase.content} />
          </Suspense>
        )}
      </div>
    </aside>
  );
}
