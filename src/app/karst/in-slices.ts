/** The page is let go after so long, ms: within the time of a picture. */
const BUDGET_MS = 12;

/** Runs `work` to its end with pauses for the page; gives what stops it. `onDone` is not called once it was stopped. */
export function inSlices<Result>(work: Generator<void, Result>, onDone: (result: Result) => void): () => void {
  const { port1, port2 } = new MessageChannel();
  const stop = (): void => port1.close();
  port1.onmessage = () => {
    const until = performance.now() + BUDGET_MS;
    do {
      const step = work.next();
      if (step.done) {
        stop();
        onDone(step.value);
        return;
      }
    } while (performance.now() < until);
    port2.postMessage(null);
  };
  port2.postMessage(null);
  return stop;
}
