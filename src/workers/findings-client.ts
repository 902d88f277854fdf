import { type Remote, transfer, wrap } from 'comlink';
import {
  type Drape,
  joinLayers,
  type LayerName,
  type Layers,
  type LineLayers,
} from '../exchange/write/layer-collection';
import type { Findings, LineFindings } from '../findings';
import type { VoidSearchResult } from '../studies/void-search-answer';
import type { Change } from '../survey/commit';
import type { Survey } from '../survey/survey';
import type { FindingsWorker } from './findings.worker';
import type { OpenedSurvey } from './findings-table';
import { createReceiver } from './parts';
import { watchWorker } from './watched-worker';

/** What the worker makes of a survey, each as soon as it is there: what the map draws comes first. */
export interface Computing {
  /** What is seen from far; the layers that are only seen from near are empty. */
  readonly far: Promise<Layers>;
  readonly layers: Promise<Layers>;
  readonly findings: Promise<Findings>;
}

/** The findings worker as the page sees it. */
export interface FindingsClient {
  open(bytes: Uint8Array, file: string): Promise<OpenedSurvey>;
  survey(): Promise<Survey>;
  take(survey: Survey, drape: Drape): Computing;
  change(change: Change, drape: Drape): Computing;
  compute(drape: Drape): Computing;
  search(result: VoidSearchResult, drape: Drape): Computing;
  layerFile(name: LayerName, drape: Drape): Promise<Blob>;
  end(): void;
}

/** Starts the worker. `onFailure` hears of a worker that could not start, broke or ended; what was asked is rejected. */
export function startFindingsClient(onFailure: (reason: string) => void): FindingsClient {
  // Not by `crypto.randomUUID`, which pages without a secure origin do not have.
  const name = `findings ${Date.now()} ${Math.random()}`;
  const worker = new Worker(new URL('./findings.worker.ts', import.meta.url), { type: 'module', name });
  const { answered, end } = watchWorker(worker, name, onFailure);
  const table: Remote<FindingsWorker> = wrap<FindingsWorker>(worker);
  const receiveLines = createReceiver<LineFindings>();
  const receiveFar = createReceiver<LineLayers>();
  const receiveNear = createReceiver<LineLayers>();
  // The worker answers in the order in which it is asked, so nothing here waits before it asks.
  const computing = (before: Promise<unknown>, drape: Drape): Computing => {
    const drawn = [answered(table.drawn(drape, 'far')), answered(table.drawn(drape, 'near'))] as const;
    const found = answered(table.findings());
    const far = Promise.all([drawn[0], before]).then(([sent]) => joinLayers(receiveFar(sent)));
    const layers = Promise.all([far, drawn[1]]).then(([seen, sent]) => {
      const { electrodes, midpoints } = joinLayers(receiveNear(sent));
      return { ...seen, electrodes, midpoints };
    });
    const findings = Promise.all([found, before]).then(([sent]) => ({
      ...sent.common,
      lines: receiveLines(sent.lines),
    }));
    // Who awaits one of them first hears of a failure; the others must not count as unheard.
    for (const each of [far, layers, findings]) each.catch(() => undefined);
    return { far, layers, findings };
  };
  return {
    open: (bytes, file) => answered(table.open(transfer(bytes, [bytes.buffer]), file)),
    survey: () => answered(table.survey()),
    take: (survey, drape) => computing(answered(table.take(survey)), drape),
    change: (change, drape) => computing(answered(table.change(change)), drape),
    search: (result, drape) => computing(answered(table.search(result)), drape),
    compute: (drape) => computing(Promise.resolve(), drape),
    layerFile: (name, drape) => answered(table.layerFile(name, drape)),
    end,
  };
}
