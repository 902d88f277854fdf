import { expose } from 'comlink';
import type { KarstTable } from './karst-table';

/*
 * The table is loaded behind the messages, so that zod is told to make no functions from text before any schema is
 * made: the page's content-security policy forbids it.
 */
async function load(): Promise<KarstTable> {
  const { config } = await import('zod/mini');
  config({ jitless: true });
  const { createKarstTable } = await import('./karst-table');
  return createKarstTable();
}

const table = load();

/** `heard` is a function of the page: it is called and not waited for, and not more often than a bar has steps. */
function calmly(heard: (fraction: number) => unknown): (fraction: number) => void {
  let told = Number.NEGATIVE_INFINITY;
  return (fraction) => {
    if (fraction < told + 0.01 && fraction < 1) return;
    told = fraction;
    void heard(fraction);
  };
}

const exposed = {
  look: async (...[name, bytes, survey, mapping, tell]: Parameters<KarstTable['look']>) =>
    (await table).look(name, bytes, survey, mapping, calmly(tell)),
  take: async () => (await table).take(),
  match: async (...given: Parameters<KarstTable['match']>) => (await table).match(...given),
  measure: async (...given: Parameters<KarstTable['measure']>) => (await table).measure(...given),
  density: async (...given: Parameters<KarstTable['density']>) => (await table).density(...given),
  setbacks: async (...[question, rules, tell]: Parameters<KarstTable['setbacks']>) =>
    (await table).setbacks(question, rules, calmly(tell)),
  distances: async (...given: Parameters<KarstTable['distances']>) => (await table).distances(...given),
};

/** What the page can ask of the worker. */
export type KarstWorker = typeof exposed;

expose(exposed);
