import { lazy, Suspense, useEffect, useState } from 'react';
import { useApp } from '../../app-context';
import { isNarrow } from '../../narrow';
import { remember, remembered } from '../../remembered';
import type { Content } from '../../state/app-state';
import { HistoryButtons } from './HistoryButtons';
import { LinesTable } from './LinesTable';
import { ReadingsTable } from './ReadingsTable';

const FieldMargin = lazy(async () => ({ default: (await import('../field/FieldMargin')).FieldMargin }));

const TABLES = [
  { name: 'readings', words: 'Readings' },
  { name: 'lines', words: 'Lines' },
] as const;

/** The record itself: every reading and line, to be looked through and put right. */
export function RecordMargin({ content }: { content: Content }) {
  const { store } = useApp();
  const [table, setTable] = useState<(typeof TABLES)[number]['name'] | 'keypad'>(() =>
    remembered('record_table') === 'keypad' ? 'keypad' : 'readings',
  );
  const turnTo = (name: typeof table) => {
    remember('record_table', name);
    setTable(name);
  };

  // A table needs the whole of a small screen, and gives it back.
  useEffect(() => {
    if (!isNarrow() || store.get().sheet !== 'half') return;
    store.dispatch({ type: 'sheet', sheet: 'full' });
    return () => {
      if (store.get().sheet === 'full') store.dispatch({ type: 'sheet', sheet: 'half' });
    };
  }, [store]);

  if (table === 'keypad') {
    return (
      <Suspense fallback={<p className="quiet">Opening the keypad…</p>}>
        <FieldMargin key={content.survey.id} content={content} onTable={() => turnTo('readings')} />
      </Suspense>
    );
  }
  return (
    <div className="record">
      <div className="record-top">
        <fieldset>
          <legend className="unseen">Table</legend>
          {TABLES.map(({ name, words }) => (
            <label key={name} className="chip">
              <input type="radio" name="record table" checked={name === table} onChange={() => turnTo(name)} />
              <span>{words}</span>
            </label>
          ))}
        </fieldset>
        <button type="button" className="line-button strong-button" onClick={() => turnTo('keypad')}>
          Keypad
        </button>
        <HistoryButtons />
      </div>
      {table === 'readings' ? <ReadingsTable content={content} /> : <LinesTable content={content} />}
    </div>
  );
}
