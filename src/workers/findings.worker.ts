import { expose } from 'comlink';
import type { FindingsTable } from './findings-table';
import { createSender } from './parts';

/*
 * The table is loaded behind the messages, so that zod is told to make no functions from text before any schema is
 * made: the page's content-security policy forbids it.
 */
async function load(): Promise<FindingsTable> {
  const { config } = await import('zod/mini');
  config({ jitless: true });
  const { createFindingsTable } = await import('./findings-table');
  return createFindingsTable();
}

const table = load();
const send = createSender();

const exposed = {
  open: async (...given: Parameters<FindingsTable['open']>) => (await table).open(...given),
  take: async (...given: Parameters<FindingsTable['take']>) => send((await table).take(...given)),
  change: async (...given: Parameters<FindingsTable['change']>) => send((await table).change(...given)),
  compute: async (...given: Parameters<FindingsTable['compute']>) => send((await table).compute(...given)),
  layerText: async (...given: Parameters<FindingsTable['layerText']>) => (await table).layerText(...given),
};

/** What the page can ask of the worker. */
export type FindingsWorker = typeof exposed;

expose(exposed);
