import { type Remote, transfer, wrap } from 'comlink';
import type { Drape, LayerName } from '../exchange/write/layer-collection';
import type { Change } from '../survey/commit';
import type { Survey } from '../survey/survey';
import type { FindingsWorker } from './findings.worker';
import type { OpenedSurvey } from './findings-table';
import { type Computed, createReceiver, type SentParts } from './parts';

/** The findings worker as the page sees it. */
export interface FindingsClient {
  open(bytes: Uint8Array, file: string): Promise<OpenedSurvey>;
  take(survey: Survey, drape: Drape): Promise<Computed>;
  change(change: Change, drape: Drape): Promise<Computed>;
  compute(drape: Drape): Promise<Computed>;
  layerText(name: LayerName, drape: Drape): Promise<string>;
  end(): void;
}

/** Starts the worker. `onFailure` hears of a worker that could not start or broke. */
export function startFindingsClient(onFailure: (reason: string) => void): FindingsClient {
  const worker = new Worker(new URL('./findings.worker.ts', import.meta.url), { type: 'module', name: 'findings' });
  worker.addEventListener('error', (event) => onFailure(event.message || 'the worker could not be started'));
  const table: Remote<FindingsWorker> = wrap<FindingsWorker>(worker);
  const receive = createReceiver();
  const received = async (sent: Promise<SentParts>): Promise<Computed> => receive(await sent);
  return {
    open: (bytes, file) => table.open(transfer(bytes, [bytes.buffer]), file),
    take: (survey, drape) => received(table.take(survey, drape)),
    change: (change, drape) => received(table.change(change, drape)),
    compute: (drape) => received(table.compute(drape)),
    layerText: (name, drape) => table.layerText(name, drape),
    end: () => worker.terminate(),
  };
}
