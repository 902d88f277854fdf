import { expose } from 'comlink';
import type { ImportTable } from './import-table';

/*
 * The table is loaded behind the messages, so that zod is told to make no functions from text before any schema is
 * made: the page's content-security policy forbids it.
 */
async function load(): Promise<ImportTable> {
  const { config } = await import('zod/mini');
  config({ jitless: true });
  const { createImportTable } = await import('./import-table');
  return createImportTable();
}

type Promised<T> = {
  [K in keyof T]: T[K] extends (...given: infer G) => infer R ? (...given: G) => Promise<R> : never;
};

const table = load();

const exposed: Promised<ImportTable> = {
  look: async (files, open) => (await table).look(files, open),
  understand: async (columns, into) => (await table).understand(columns, into),
  take: async (columns, target) => (await table).take(columns, target),
  tables: async (survey, findings) => (await table).tables(survey, findings),
};

expose(exposed);
