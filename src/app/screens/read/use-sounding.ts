import { useCallback, useEffect, useRef, useState } from 'react';
import type { SoundingResult } from '../../../studies/sounding';
import type { SoundingInput } from '../../../studies/sounding-input';
import { type StudiesClient, startStudiesClient } from '../../../workers/studies-client';

export type SoundingState =
  | { readonly kind: 'not_asked' }
  | { readonly kind: 'working'; readonly fraction: number }
  | { readonly kind: 'failed'; readonly sentence: string }
  | { readonly kind: 'done'; readonly result: SoundingResult };

export interface SoundingWork {
  readonly state: SoundingState;
  begin(): void;
  /** Ends the worker: nothing of the question is left. */
  cancel(): void;
}

const NOT_ASKED: SoundingState = { kind: 'not_asked' };

/** The study of one ladder, asked for and cancelled by a person; cancelled too when its ladder is left or changes. */
export function useSounding(input: SoundingInput | null): SoundingWork {
  const [state, setState] = useState<SoundingState>(NOT_ASKED);
  const client = useRef<StudiesClient | null>(null);
  const stop = useCallback(() => {
    client.current?.end();
    client.current = null;
  }, []);
  const cancel = useCallback(() => {
    stop();
    setState(NOT_ASKED);
  }, [stop]);

  // biome-ignore lint/correctness/useExhaustiveDependencies: an answer to another input is no answer to this one
  useEffect(() => cancel, [input, cancel]);

  const begin = useCallback(() => {
    if (!input) return;
    stop();
    setState({ kind: 'working', fraction: 0 });
    const fail = (reason: string): void => {
      if (client.current !== own) return;
      stop();
      setState({ kind: 'failed', sentence: `This could not be worked out: ${reason}` });
    };
    const own = startStudiesClient(fail);
    client.current = own;
    const heard = (fraction: number): void => {
      if (client.current === own) setState({ kind: 'working', fraction });
    };
    own.sounding(input, heard).then(
      (result) => {
        if (client.current !== own) return;
        stop();
        setState({ kind: 'done', result });
      },
      (error: unknown) => fail(error instanceof Error ? error.message : String(error)),
    );
  }, [input, stop]);

  return { state, begin, cancel };
}
