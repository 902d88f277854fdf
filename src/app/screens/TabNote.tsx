import { useState } from 'react';
import { useApp, useAppState } from '../app-context';

/** That another tab writes, and how to make it this one. */
export function TabNote() {
  const { keep } = useApp();
  const tab = useAppState((state) => state.tab);
  const [refused, setRefused] = useState<string | null>(null);
  const [isAsking, setIsAsking] = useState(false);
  if (tab !== 'follows') return null;
  const writeHere = async () => {
    setIsAsking(true);
    const outcome = await keep.writeHere();
    setRefused(outcome.ok ? null : outcome.sentence);
    setIsAsking(false);
  };
  return (
    <div className="tab-note" role="status">
      <p>Open in another tab, which writes; this one follows.</p>
      <button type="button" className="line-button" disabled={isAsking} onClick={() => void writeHere()}>
        Write here
      </button>
      {refused && <p>{refused}</p>}
    </div>
  );
}
