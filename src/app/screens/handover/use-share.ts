import { useCallback, useEffect, useRef, useState } from 'react';
import { type ShareMaking, startShare } from '../../../workers/share-client';
import type { ShareAnswer, ShareQuestion } from '../../../workers/share-table';

export type ShareState =
  | { readonly kind: 'asking' }
  | { readonly kind: 'making'; readonly fraction: number }
  | { readonly kind: 'answered'; readonly answer: ShareAnswer }
  | { readonly kind: 'broken'; readonly sentence: string };

/** Makes a share, says how far it is, and can be left. */
export function useShare() {
  const [state, setState] = useState<ShareState>({ kind: 'asking' });
  const making = useRef<ShareMaking | null>(null);

  const cancel = useCallback(() => {
    making.current?.end();
    making.current = null;
    setState({ kind: 'asking' });
  }, []);

  const make = useCallback((question: ShareQuestion) => {
    making.current?.end();
    setState({ kind: 'making', fraction: 0 });
    const mine = startShare(question, (fraction) => {
      if (making.current === mine) setState({ kind: 'making', fraction });
    });
    making.current = mine;
    mine.answer.then(
      (answer) => {
        if (making.current === mine) setState({ kind: 'answered', answer });
      },
      (error: unknown) => {
        if (making.current !== mine) return;
        const why = error instanceof Error ? error.message : String(error);
        setState({ kind: 'broken', sentence: `The pack could not be made: ${why}` });
      },
    );
  }, []);

  useEffect(() => () => making.current?.end(), []);
  return { state, make, cancel };
}
