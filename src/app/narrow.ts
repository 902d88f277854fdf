import { useSyncExternalStore } from 'react';

/** The width below which the margin is a sheet; the style sheets say the same. */
const NARROW = '(max-width: 760px)';

function subscribe(listener: () => void): () => void {
  const media = matchMedia(NARROW);
  media.addEventListener('change', listener);
  return () => media.removeEventListener('change', listener);
}

/** Whether the screen is a small one, now. */
export const isNarrow = (): boolean => matchMedia(NARROW).matches;

export function useNarrow(): boolean {
  return useSyncExternalStore(subscribe, isNarrow);
}
