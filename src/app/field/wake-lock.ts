import { useEffect, useState } from 'react';

/** Whether the screen stays on by itself. `refused`: it does not, with the reason as the browser gives it. */
export type ScreenAwake =
  | { readonly kind: 'asking' | 'awake' | 'unknown_here' }
  | { readonly kind: 'refused'; readonly reason: string };

/**
 * Keeps the screen awake while the screen that uses this is shown. Browsers let go of it whenever the page is hidden, so it
 * is asked for again when the page comes back.
 */
export function useScreenAwake(): ScreenAwake {
  const [state, setState] = useState<ScreenAwake>({ kind: 'asking' });
  useEffect(() => {
    if (!('wakeLock' in navigator)) return setState({ kind: 'unknown_here' });
    let gone = false;
    let lock: WakeLockSentinel | null = null;
    const ask = async (): Promise<void> => {
      if (document.visibilityState !== 'visible' || (lock && !lock.released)) return;
      try {
        const given = await navigator.wakeLock.request('screen');
        if (gone) return void given.release();
        lock = given;
        // Taken away while the page is seen: a low battery, most often.
        given.addEventListener('release', () => {
          if (!gone && document.visibilityState === 'visible') {
            setState({ kind: 'refused', reason: 'the device has taken it back' });
          }
        });
        setState({ kind: 'awake' });
      } catch (error) {
        if (!gone) setState({ kind: 'refused', reason: error instanceof Error ? error.message : String(error) });
      }
    };
    const again = (): void => void ask();
    document.addEventListener('visibilitychange', again);
    again();
    return () => {
      gone = true;
      document.removeEventListener('visibilitychange', again);
      void lock?.release();
    };
  }, []);
  return state;
}
