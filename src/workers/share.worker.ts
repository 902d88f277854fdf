import { expose } from 'comlink';
import initSqlJs from 'sql.js/dist/sql-wasm-browser.js';
import sqliteAddress from 'sql.js/dist/sql-wasm-browser.wasm?url';
import type { ShareQuestion } from './share-table';

/** The table is loaded behind the message, so that zod is told first to make no functions from text. */
const exposed = {
  make: async (question: ShareQuestion, tick: (fraction: number) => unknown) => {
    const { config } = await import('zod/mini');
    config({ jitless: true });
    const [sql, { makeShare }] = await Promise.all([
      initSqlJs({ locateFile: () => sqliteAddress }),
      import('./share-table'),
    ]);
    return makeShare(question, sql, (fraction) => void tick(fraction));
  },
};

/** What the page can ask of the worker. */
export type ShareWorker = typeof exposed;

expose(exposed);
