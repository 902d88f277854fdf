import { useCallback, useEffect, useState } from 'react';

/** Whether the browser has promised not to delete what it keeps here. */
export type Lasting = 'asking' | 'promised' | 'refused' | 'unknown_here';

/**
 * Asks the browser to keep what is stored here for good. `ask` is called at the first reading: browsers give it more
 * willingly to a page that is being used. A refusal is told, never passed over.
 */
export function useLastingStorage(): { readonly lasting: Lasting; readonly ask: () => void } {
  const [lasting, setLasting] = useState<Lasting>('asking');
  useEffect(() => {
    let gone = false;
    const known = async (): Promise<Lasting> => {
      if (!navigator.storage?.persisted) return 'unknown_here';
      return (await navigator.storage.persisted()) ? 'promised' : 'asking';
    };
    known().then(
      (found) => !gone && setLasting(found),
      () => !gone && setLasting('unknown_here'),
    );
    return () => {
      gone = true;
    };
  }, []);
  const ask = useCallback(() => {
    if (!navigator.storage?.persist) return setLasting('unknown_here');
    navigator.storage.persist().then(
      (given) => setLasting(given ? 'promised' : 'refused'),
      () => setLasting('refused'),
    );
  }, []);
  return { lasting, ask };
}
