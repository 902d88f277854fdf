import { useCallback, useEffect, useMemo } from 'react';
import { type AskStudy, type StudyState, useStudy } from './use-study';

export interface StudyOf<Result> {
  readonly state: StudyState<Result>;
  begin(): void;
  cancel(): void;
}

/** Results that are kept, under the key of their input; the oldest goes when there are too many. */
export interface KeptResults<Result> {
  readonly byKey: Map<string, Result>;
  readonly most: number;
}

export const keptResults = <Result>(most = 12): KeptResults<Result> => ({ byKey: new Map(), most });

/**
 * The study of one input: cancelled when the input changes, since an answer to another input is no answer to this one.
 * A result that is kept under the key of the input is there without asking.
 */
export function useStudyOf<Input, Result>(
  input: Input | null,
  ask: AskStudy<Input, Result>,
  kept: KeptResults<Result> | null = null,
  keyOf: ((input: Input) => string) | null = null,
): StudyOf<Result> {
  const { state, begin: askNow, cancel } = useStudy(ask);

  // biome-ignore lint/correctness/useExhaustiveDependencies: it is the change of input that cancels
  useEffect(() => cancel, [input, cancel]);

  const key = useMemo(() => (input === null || !keyOf ? '' : keyOf(input)), [input, keyOf]);

  const begin = useCallback(() => {
    if (input === null) return;
    void askNow(input).then((result) => {
      if (result !== null && kept) keep(kept, key, result);
    });
  }, [input, askNow, kept, key]);

  const had = kept?.byKey.get(key);
  const shown = useMemo(
    (): StudyState<Result> => (state.kind === 'not_asked' && had !== undefined ? { kind: 'done', result: had } : state),
    [state, had],
  );
  return { state: shown, begin, cancel };
}

function keep<Result>({ byKey, most }: KeptResults<Result>, key: string, result: Result): void {
  byKey.delete(key);
  byKey.set(key, result);
  const [oldest] = byKey.keys();
  if (byKey.size > most && oldest !== undefined) byKey.delete(oldest);
}
