import { useEffect, useRef } from 'react';
import { useApp, useAppState } from '../app-context';
import type { Content } from '../state/app-state';
import { indexOf } from '../state/index-of';
import { Cautions } from './Cautions';
import { DoubtList } from './DoubtList';
import { DrapeChoice } from './DrapeChoice';
import { ElectrodeCard } from './ElectrodeCard';
import { Legend } from './Legend';
import { ReadingCard } from './ReadingCard';
import { StrongestList } from './StrongestList';
import { SurveySummary } from './SurveySummary';

/** What the readings say: the one that was asked about, or how to read them all. */
export function ReadMargin({ content }: { content: Content }) {
  const { store } = useApp();
  const selection = useAppState((state) => state.selection);
  const cameFrom = useRef<HTMLElement | null>(null);
  const index = indexOf(content);
  const reading = selection?.kind === 'midpoint' ? index.bySid.get(selection.sid) : undefined;
  const electrode = selection?.kind === 'electrode' ? index.electrodeBySid.get(selection.sid) : undefined;
  const open = reading !== undefined || electrode !== undefined;

  // The keyboard goes back to where it was when the card is put away.
  useEffect(() => {
    if (open) return;
    cameFrom.current?.focus();
    cameFrom.current = null;
  }, [open]);

  const select = (sid: string) => {
    if (!cameFrom.current && document.activeElement instanceof HTMLElement) cameFrom.current = document.activeElement;
    store.dispatch({ type: 'select', selection: { kind: 'midpoint', sid } });
  };
  const putAway = () => store.dispatch({ type: 'select', selection: null });

  return (
    <>
      {reading && <ReadingCard content={content} entry={reading} onSelect={select} onClose={putAway} />}
      {electrode && <ElectrodeCard content={content} entry={electrode} onSelect={select} onClose={putAway} />}
      <div hidden={open}>
        <SurveySummary content={content} />
        <Cautions />
        <StrongestList content={content} onSelect={select} />
        <DoubtList content={content} onSelect={select} />
        <Legend content={content} />
        <DrapeChoice />
      </div>
    </>
  );
}
