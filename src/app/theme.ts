import { useSyncExternalStore } from 'react';
import { THEMES, type Theme } from '../map/ramp';
import type { ThemeChoice } from './state/app-state';

const DARK = '(prefers-color-scheme: dark)';

function subscribe(listener: () => void): () => void {
  const media = matchMedia(DARK);
  media.addEventListener('change', listener);
  return () => media.removeEventListener('change', listener);
}

/** The theme that a choice comes to on this device, now. */
export function useTheme(choice: ThemeChoice): Theme {
  const dark = useSyncExternalStore(subscribe, () => matchMedia(DARK).matches);
  return choice === 'device' ? (dark ? 'dark' : 'light') : choice;
}

export function themeChoice(text: string | null): ThemeChoice {
  return THEMES.find((theme) => theme === text) ?? 'device';
}
