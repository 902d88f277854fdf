import { useEffect, useState } from 'react';
import { useApp } from '../../app-context';
import { isNarrow } from '../../narrow';
import type { Content } from '../../state/app-state';
import { HistoryButtons } from './HistoryButtons';
import { LinesTable } from './LinesTable';
import { ReadingsTable } from './ReadingsTable';

const TABLES = [
  { name: 'readings', words: 'Readings' },
  { name: 'lines', words: 'Lines' },
] as const;

/** The record itself: every reading and line, to be looked through and put right. */
export function RecordMargin({ content }: { content: Content }) {
  const { store } = useApp();
  const [table, setTable] = useState<(typeof TABLES)[number]['name']>('readings');

  // A table needs the whole of a small screen, and gives it back.
  useEffect(() => {
    if (!isNarrow() || store.get().sheet !== 'half') return;
    store.dispatch({ type: 'sheet', sheet: 'full' });
    return () => {
      if (store.get().sheet === 'full') store.dispatch({ type: 'sheet', sheet: 'half' });
    };
  }, [store]);

  return (
    <div className="record">
      <div className="record-top">
        <fieldset>
          <legend className="unseen">Table</legend>
          {TABLES.map(({ name, words }) => (
            <label key={name} className="chip">
              <input type="radio" name="record table" checked={name === table} onChange={() => setTable(name)} />
              <span>{words}</span>
            </label>
          ))}
        </fieldset>
        <HistoryButtons />
      </div>
      {table === 'readings' ? <ReadingsTable content={content} /> : <LinesTable content={content} />}
    </div>
  );
}
