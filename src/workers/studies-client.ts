import { proxy, type Remote, wrap } from 'comlink';
import type { SoundingResult } from '../studies/sounding';
import type { SoundingInput } from '../studies/sounding-input';
import type { Tick } from '../studies/study-key';
import type { StudiesWorker } from './studies.worker';
import type { StudiesTable } from './studies-table';

/** The studies worker as the page sees it. Ending it is how a study is cancelled: its answer then never comes. */
export interface StudiesClient {
  sounding(input: SoundingInput, tick: Tick): Promise<SoundingResult>;
  plan(...given: Parameters<StudiesTable['plan']>): Promise<ReturnType<StudiesTable['plan']>>;
  end(): void;
}

/** Starts the worker. `onFailure` hears of a worker that could not start or broke. */
export function startStudiesClient(onFailure: (reason: string) => void): StudiesClient {
  const worker = new Worker(new URL('./studies.worker.ts', import.meta.url), { type: 'module', name: 'studies' });
  worker.addEventListener('error', (event) => onFailure(event.message || 'the worker could not be started'));
  const table: Remote<StudiesWorker> = wrap<StudiesWorker>(worker);
  return {
    sounding: (input, tick) => table.sounding(input, proxy(tick)),
    plan: (...given) => table.plan(...given),
    end: () => worker.terminate(),
  };
}
