import { proxy, type Remote, wrap } from 'comlink';
import type { Tick } from '../studies/study-key';
import type { ShareWorker } from './share.worker';
import type { ShareAnswer, ShareQuestion } from './share-table';

/** One making of a share. Ending it is how it is cancelled: its answer then never comes. */
export interface ShareMaking {
  readonly answer: Promise<ShareAnswer>;
  end(): void;
}

/** Makes a share beside the page. A worker that cannot start or breaks is a rejected answer. */
export function startShare(question: ShareQuestion, tick: Tick): ShareMaking {
  const worker = new Worker(new URL('./share.worker.ts', import.meta.url), { type: 'module', name: 'share' });
  const broken = new Promise<never>((_, reject) => {
    worker.addEventListener('error', (event) => reject(new Error(event.message || 'the worker could not be started')));
  });
  const table: Remote<ShareWorker> = wrap<ShareWorker>(worker);
  const answer = Promise.race([table.make(question, proxy(tick)), broken]);
  const end = (): void => worker.terminate();
  answer.then(end, end);
  return { answer, end };
}
