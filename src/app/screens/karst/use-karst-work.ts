import { useCallback, useEffect, useRef, useState } from 'react';
import { type KarstClient, startKarstClient } from '../../../workers/karst-client';

export type KarstWork<Result> =
  | { readonly kind: 'not_asked' }
  | { readonly kind: 'working'; readonly fraction: number | null }
  | { readonly kind: 'failed'; readonly sentence: string }
  | { readonly kind: 'done'; readonly result: Result };

/** A question to the worker, how far it is, and its end by a person or when its place is left. */
export function useKarstWork<Result>() {
  const [state, setState] = useState<KarstWork<Result>>({ kind: 'not_asked' });
  const client = useRef<KarstClient | null>(null);
  const stop = useCallback(() => {
    client.current?.end();
    client.current = null;
  }, []);
  useEffect(() => stop, [stop]);

  const cancel = useCallback(() => {
    stop();
    setState({ kind: 'not_asked' });
  }, [stop]);

  /** Asks; the answer comes as state, and to whoever waits for it (null when it was cancelled or failed). */
  const ask = useCallback(
    async (
      question: (client: KarstClient, tell: (fraction: number) => void) => Promise<Result>,
    ): Promise<Result | null> => {
      stop();
      setState({ kind: 'working', fraction: null });
      const fail = (reason: string): void => {
        if (client.current !== own) return;
        stop();
        setState({ kind: 'failed', sentence: `This could not be worked out: ${reason}` });
      };
      const own = startKarstClient(fail);
      client.current = own;
      try {
        const result = await question(own, (fraction) => {
          if (client.current === own) setState({ kind: 'working', fraction });
        });
        if (client.current !== own) return null;
        stop();
        setState({ kind: 'done', result });
        return result;
      } catch (error) {
        fail(error instanceof Error ? error.message : String(error));
        return null;
      }
    },
    [stop],
  );
  return { state, ask, cancel };
}
