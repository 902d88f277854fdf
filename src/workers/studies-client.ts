import { proxy, type Remote, wrap } from 'comlink';
import type { StudiesWorker } from './studies.worker';
import type { StudiesTable } from './studies-table';

/** The studies worker as the page sees it. Ending it is how a study is cancelled: its answer then never comes. */
export type StudiesClient = {
  readonly [Name in keyof StudiesTable]: (
    ...given: Parameters<StudiesTable[Name]>
  ) => Promise<Awaited<ReturnType<StudiesTable[Name]>>>;
} & { end(): void };

/** Starts the worker. `onFailure` hears of a worker that could not start or broke. */
export function startStudiesClient(onFailure: (reason: string) => void): StudiesClient {
  const worker = new Worker(new URL('./studies.worker.ts', import.meta.url), { type: 'module', name: 'studies' });
  worker.addEventListener('error', (event) => onFailure(event.message || 'the worker could not be started'));
  const table: Remote<StudiesWorker> = wrap<StudiesWorker>(worker);
  return {
    sounding: (input, tick) => table.sounding(input, proxy(tick)),
    plan: (question, tick) => table.plan(question, proxy(tick)),
    section: (input, tick) => table.section(input, proxy(tick)),
    voidSearch: (input, tick) => table.voidSearch(input, proxy(tick)),
    compare: (question, tick) => table.compare(question, proxy(tick)),
    end: () => worker.terminate(),
  };
}
