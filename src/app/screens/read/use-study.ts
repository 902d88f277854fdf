import { useCallback, useEffect, useRef, useState } from 'react';
import type { Tick } from '../../../studies/study-key';
import { type StudiesClient, startStudiesClient } from '../../../workers/studies-client';

export type StudyState<Result> =
  | { readonly kind: 'not_asked' }
  | { readonly kind: 'working'; readonly fraction: number }
  | { readonly kind: 'failed'; readonly sentence: string }
  | { readonly kind: 'done'; readonly result: Result };

/** Puts a question to the worker. To be the same function from one drawing to the next. */
export type AskStudy<Question, Result> = (client: StudiesClient, question: Question, tick: Tick) => Promise<Result>;

export interface StudyWork<Question, Result> {
  readonly state: StudyState<Result>;
  /** Ends what was asked before. Gives the result; null when it was cancelled or failed. */
  begin(question: Question): Promise<Result | null>;
  /** Ends the worker: nothing of the question is left. */
  cancel(): void;
}

interface Asked {
  readonly client: StudiesClient;
  readonly settle: (nothing: null) => void;
}

const NOT_ASKED = { kind: 'not_asked' } as const;

/** A study asked for and cancelled by a person; cancelled too when what asks for it is left. */
export function useStudy<Question, Result>(ask: AskStudy<Question, Result>): StudyWork<Question, Result> {
  const [state, setState] = useState<StudyState<Result>>(NOT_ASKED);
  const asked = useRef<Asked | null>(null);
  const stop = useCallback(() => {
    asked.current?.client.end();
    asked.current?.settle(null);
    asked.current = null;
  }, []);
  const cancel = useCallback(() => {
    stop();
    setState(NOT_ASKED);
  }, [stop]);
  useEffect(() => stop, [stop]);

  const begin = useCallback(
    (question: Question) => {
      stop();
      setState({ kind: 'working', fraction: 0 });
      return new Promise<Result | null>((resolve) => {
        const fail = (reason: string): void => {
          if (asked.current !== own) return;
          stop();
          setState({ kind: 'failed', sentence: `This could not be worked out: ${reason}` });
        };
        const own: Asked = { client: startStudiesClient(fail), settle: resolve };
        asked.current = own;
        const heard = (fraction: number): void => {
          if (asked.current === own) setState({ kind: 'working', fraction });
        };
        ask(own.client, question, heard).then(
          (result) => {
            if (asked.current !== own) return;
            setState({ kind: 'done', result });
            resolve(result);
            stop();
          },
          (error: unknown) => fail(error instanceof Error ? error.message : String(error)),
        );
      });
    },
    [ask, stop],
  );

  return { state, begin, cancel };
}
