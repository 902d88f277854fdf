import { lazy, Suspense, useEffect, useRef } from 'react';
import { useApp, useAppState } from '../app-context';
import type { Content, Selection } from '../state/app-state';
import { indexOf } from '../state/index-of';
import { Cautions } from './Cautions';
import { DoubtList } from './DoubtList';
import { DrapeChoice } from './DrapeChoice';
import { ElectrodeCard } from './ElectrodeCard';
import { Legend } from './Legend';
import { ReadingCard } from './ReadingCard';
import { StrongestList } from './StrongestList';
import { SurveySummary } from './SurveySummary';
import { ZoneCard } from './zones/ZoneCard';
import { ZoneList } from './zones/ZoneList';

const LineSays = lazy(async () => ({ default: (await import('./read/LineSays')).LineSays }));
const QuietPart = lazy(async () => ({ default: (await import('./QuietPart')).QuietPart }));
const CompareSection = lazy(async () => ({ default: (await import('./compare/CompareSection')).CompareSection }));
const SiteChart = lazy(async () => ({ default: (await import('./SiteChart')).SiteChart }));

/** What the readings say: the one that was asked about, or how to read them all. */
export function ReadMargin({ content }: { content: Content }) {
  const { store } = useApp();
  const selection = useAppState((state) => state.selection);
  const cameFrom = useRef<HTMLElement | null>(null);
  const index = indexOf(content);
  const reading = selection?.kind === 'midpoint' ? index.bySid.get(selection.sid) : undefined;
  const electrode = selection?.kind === 'electrode' ? index.electrodeBySid.get(selection.sid) : undefined;
  const zone = selection?.kind === 'zone' ? content.findings.zones.find(({ key }) => key === selection.sid) : undefined;
  const open = reading !== undefined || electrode !== undefined || zone !== undefined;

  // The keyboard goes back to where it was when the card is put away.
  useEffect(() => {
    if (open) return;
    cameFrom.current?.focus();
    cameFrom.current = null;
  }, [open]);

  const choose = (selection: Selection) => {
    if (!cameFrom.current && document.activeElement instanceof HTMLElement) cameFrom.current = document.activeElement;
    store.dispatch({ type: 'select', selection });
  };
  const select = (sid: string) => choose({ kind: 'midpoint', sid });
  const putAway = () => store.dispatch({ type: 'select', selection: null });

  return (
    <>
      {reading && <ReadingCard content={content} entry={reading} onSelect={select} onClose={putAway} />}
      {electrode && <ElectrodeCard content={content} entry={electrode} onSelect={select} onClose={putAway} />}
      {zone && <ZoneCard content={content} zone={zone} onSelect={select} onClose={putAway} />}
      <div hidden={open}>
        <SurveySummary content={content} />
        <Cautions />
        <ZoneList content={content} onOpen={(sid) => choose({ kind: 'zone', sid })} />
        <StrongestList content={content} onSelect={select} />
      </div>
      <Suspense fallback={null}>
        <LineSays content={content} openLine={(reading ?? electrode)?.line.lineId ?? null} onSelect={select} />
      </Suspense>
      <div hidden={open}>
        <DoubtList content={content} onSelect={select} />
        <Suspense fallback={null}>
          {!open && <SiteChart content={content} />}
          {!open && <QuietPart content={content} />}
          <CompareSection content={content} onSelect={select} />
        </Suspense>
        <Legend content={content} />
        <DrapeChoice />
      </div>
    </>
  );
}
