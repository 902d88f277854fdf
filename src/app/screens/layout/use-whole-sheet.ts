import { useEffect } from 'react';
import { useApp } from '../../app-context';
import { isNarrow } from '../../narrow';

/** A form needs the whole of a small screen, unless the map is asked for something; it gives it back. */
export function useWholeSheet(): void {
  const { store } = useApp();
  useEffect(() => {
    const { sheet, layout } = store.get();
    if (!isNarrow() || sheet !== 'half' || layout.task !== null) return;
    store.dispatch({ type: 'sheet', sheet: 'full' });
    return () => {
      if (store.get().sheet === 'full') store.dispatch({ type: 'sheet', sheet: 'half' });
    };
  }, [store]);
}
