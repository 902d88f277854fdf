import { expose } from 'comlink';
import type { FindingsTable } from './findings-table';

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

type Promised<T> = {
  [K in keyof T]: T[K] extends (...given: infer G) => infer R ? (...given: G) => Promise<R> : never;
};

const table = load();

const exposed: Promised<FindingsTable> = {
  open: async (bytes, file) => (await table).open(bytes, file),
  take: async (survey, drape) => (await table).take(survey, drape),
  change: async (change, drape) => (await table).change(change, drape),
  compute: async (drape) => (await table).compute(drape),
  layerText: async (name, drape) => (await table).layerText(name, drape),
};

expose(exposed);
