import { type Remote, transfer, wrap } from 'comlink';
import {
  type Drape,
  joinLayers,
  type LayerName,
  type Layers,
  type LineLayers,
} from '../exchange/write/layer-collection';
import type { Findings, LineFindings } from '../findings';
import type { Change } from '../survey/commit';
import type { Survey } from '../survey/survey';
import type { FindingsWorker } from './findings.worker';
import type { OpenedSurvey } from './findings-table';
import { createReceiver } from './parts';

/** What the worker makes of a survey, each as soon as it is there: what the map draws comes first. */
export interface Computing {
  readonly layers: Promise<Layers>;
  readonly findings: Promise<Findings>;
}

/** The findings worker as the page sees it. */
export interface FindingsClient {
  open(bytes: Uint8Array, file: string): Promise<OpenedSurvey>;
  take(survey: Survey, drape: Drape): Computing;
  change(change: Change, drape: Drape): Computing;
  compute(drape: Drape): Computing;
  layerText(name: LayerName, drape: Drape): Promise<string>;
  end(): void;
}

/** Starts the worker. `onFailure` hears of a worker that could not start or broke. */
export function startFindingsClient(onFailure: (reason: string) => void): FindingsClient {
  const worker = new Worker(new URL('./findings.worker.ts', import.meta.url), { type: 'module', name: 'findings' });
  worker.addEventListener('error', (event) => onFailure(event.message || 'the worker could not be started'));
  const table: Remote<FindingsWorker> = wrap<FindingsWorker>(worker);
  const receiveLines = createReceiver<LineFindings>();
  const receiveLayers = createReceiver<LineLayers>();
  // The worker answers in the order in which it is asked, so nothing here waits before it asks.
  const computing = (before: Promise<unknown>, drape: Drape): Computing => {
    const drawn = table.drawn(drape);
    const found = table.findings();
    const layers = Promise.all([drawn, before]).then(([sent]) => joinLayers(receiveLayers(sent)));
    const findings = Promise.all([found, before]).then(([sent]) => ({
      ...sent.common,
      lines: receiveLines(sent.lines),
    }));
    // Who awaits one of them first hears of a failure; the other must not count as unheard.
    layers.catch(() => undefined);
    findings.catch(() => undefined);
    return { layers, findings };
  };
  return {
    open: (bytes, file) => table.open(transfer(bytes, [bytes.buffer]), file),
    take: (survey, drape) => computing(table.take(survey), drape),
    change: (change, drape) => computing(table.change(change), drape),
    compute: (drape) => computing(Promise.resolve(), drape),
    layerText: (name, drape) => table.layerText(name, drape),
    end: () => worker.terminate(),
  };
}
