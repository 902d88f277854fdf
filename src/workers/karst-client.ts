import { proxy, type Remote, wrap } from 'comlink';
import type { KarstWorker } from './karst.worker';
import type { KarstTable } from './karst-table';

/** The karst worker as the page sees it. Ending it is how a question is cancelled: its answer then never comes. */
export type KarstClient = {
  readonly [Name in keyof KarstTable]: (
    ...given: Parameters<KarstTable[Name]>
  ) => Promise<ReturnType<KarstTable[Name]>>;
} & { end(): void };

/** Starts the worker. `onFailure` hears of a worker that could not start or broke. */
export function startKarstClient(onFailure: (reason: string) => void): KarstClient {
  const worker = new Worker(new URL('./karst.worker.ts', import.meta.url), { type: 'module', name: 'karst' });
  worker.addEventListener('error', (event) => onFailure(event.message || 'the worker could not be started'));
  const table: Remote<KarstWorker> = wrap<KarstWorker>(worker);
  return {
    look: (name, bytes, survey, mapping, tell) => table.look(name, bytes, survey, mapping, proxy(tell)),
    take: () => table.take(),
    match: (question, extraM) => table.match(question, extraM),
    measure: (question) => table.measure(question),
    density: (question, cellM, bandwidthM) => table.density(question, cellM, bandwidthM),
    setbacks: (question, rules, tell) => table.setbacks(question, rules, proxy(tell)),
    distances: (question, footprints, withinM) => table.distances(question, footprints, withinM),
    end: () => worker.terminate(),
  };
}
