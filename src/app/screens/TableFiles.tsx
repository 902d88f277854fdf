import { useEffect, useState } from 'react';
import type { WrittenTables } from '../../exchange/write/tables';
import { counted } from '../../survey/wording';
import { startImportClient } from '../../workers/import-client';
import { useApp } from '../app-context';
import type { Saving } from '../save-placed';
import type { Content } from '../state/app-state';
import { SaveRow } from './SaveRow';

const TABLE_WORDS: Record<string, string> = {
  'positions.csv': 'the places along the lines',
  'readings.csv': 'the readings as the meter showed them',
  'legs.csv': 'tape and compass legs',
  'remotes.csv': 'the remote electrodes',
};

/** The survey as tables, written when they are asked for, with what they cannot hold. */
export function TableFiles({ content, onSave }: { content: Content; onSave: (saving: Saving) => void }) {
  const { store } = useApp();
  const [open, setOpen] = useState(false);
  const [tables, setTables] = useState<WrittenTables | null>(null);

  useEffect(() => {
    if (!open) return;
    setTables(null);
    const trouble = (reason: string) =>
      store.dispatch({ type: 'trouble', sentence: `The tables could not be written: ${reason}` });
    const client = startImportClient(trouble);
    let gone = false;
    client.tables(content.survey, content.findings).then(
      (written) => {
        client.end();
        if (!gone) setTables(written);
      },
      (error: unknown) => trouble(error instanceof Error ? error.message : String(error)),
    );
    return () => {
      gone = true;
      client.end();
    };
  }, [open, content, store]);

  return (
    <details onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>Tables (CSV), to go on with in a spreadsheet</summary>
      {open && !tables && <p className="quiet">Writing…</p>}
      {tables && (
        <>
          <ul className="row-list">
            {tables.files.map(({ name, text }) => (
              <SaveRow
                key={name}
                name={name}
                words={`${TABLE_WORDS[name] ?? ''}; ${counted(text.split('\n').length - 2, 'row')}`}
                onSave={() => onSave({ name, mediaType: 'text/csv', content: async () => text })}
              />
            ))}
          </ul>
          {tables.untold.length > 0 && (
            <>
              <p>What tables cannot hold; the survey file keeps it:</p>
              <ul className="plain-list">
                {tables.untold.map((sentence) => (
                  <li key={sentence}>{sentence}</li>
                ))}
              </ul>
            </>
          )}
        </>
      )}
    </details>
  );
}
