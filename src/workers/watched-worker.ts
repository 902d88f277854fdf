/** A worker whose end is heard of, however it comes. */
export interface WatchedWorker {
  /** The answer to what it was asked; rejected when it ends without one, or has ended. */
  answered<T>(asked: Promise<T>): Promise<T>;
  end(): void;
}

/**
 * Watches a worker. `onEnd` hears once of one that could not start, broke, or was ended by the browser without a word:
 * that one no longer holds the lock that is called like it (`holdWhileAlive`). Not of one that was ended here.
 */
export function watchWorker(worker: Worker, lock: string, onEnd: (reason: string) => void): WatchedWorker {
  const waiting = new Set<(error: Error) => void>();
  let why = 'the worker has ended';
  const broken = (): Error => new Error(`The computation broke off: ${why}. Reload the page.`);
  const listening = new AbortController();
  const end = (): void => {
    listening.abort();
    worker.terminate();
  };
  const ended = (reason: string): void => {
    if (listening.signal.aborted) return;
    end();
    why = reason;
    for (const reject of waiting) reject(broken());
    waiting.clear();
    onEnd(reason);
  };
  worker.addEventListener('error', (event) => ended(event.message || 'the worker could not be started'));
  let isAsked = false;
  // Before its first answer it may not hold the lock yet.
  const listenForEnd = (): void => {
    if (isAsked || !navigator.locks) return;
    isAsked = true;
    const { signal } = listening;
    navigator.locks.request(lock, { signal }, () => ended('the browser ended the worker')).catch(() => undefined);
  };
  return {
    answered: (asked) =>
      new Promise((resolve, reject) => {
        if (listening.signal.aborted) return reject(broken());
        waiting.add(reject);
        const settled = (): void => {
          waiting.delete(reject);
          listenForEnd();
        };
        asked.then(resolve, reject).finally(settled);
      }),
    end,
  };
}

/** In a worker: holds the lock that is called like it until the worker is no more. Fulfilled once it is held. */
export function holdWhileAlive(lock: string): Promise<void> {
  return new Promise((resolve) => {
    if (!navigator.locks) return resolve();
    const held = (): Promise<never> => {
      resolve();
      return new Promise<never>(() => undefined);
    };
    navigator.locks.request(lock, held).catch(() => resolve());
  });
}
