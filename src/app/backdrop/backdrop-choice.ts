import { useSyncExternalStore } from 'react';
import type { MapPlace } from '../../map/survey-map';
import { remember, remembered } from '../remembered';

/** A place on the map that is asked for. */
export interface Picking {
  readonly words: string;
  readonly onPlace: (place: MapPlace) => void;
  readonly onCancel: () => void;
}

export interface BackdropChoice {
  /** Key of the backdrop that is to lie under the survey; null = paper and grid. */
  readonly shown: string | null;
  readonly picking: Picking | null;
}

let choice: BackdropChoice = { shown: remembered('backdrop') || null, picking: null };
const listeners = new Set<() => void>();
const set = (change: Partial<BackdropChoice>): void => {
  choice = { ...choice, ...change };
  for (const listener of listeners) listener();
};

/** What is known of backdrops before anything of theirs is loaded: which was chosen, and whether a tap is waited for. */
export const backdropChoice = {
  get: () => choice,
  subscribe(listener: () => void): () => void {
    listeners.add(listener);
    return () => listeners.delete(listener);
  },
  show(key: string | null): void {
    remember('backdrop', key ?? '');
    set({ shown: key });
  },
  pick: (picking: Picking | null): void => set({ picking }),
  /** Takes a tap on the map where one is waited for; false leaves it to the survey. */
  tap(place: MapPlace): boolean {
    const { picking } = choice;
    if (!picking) return false;
    set({ picking: null });
    picking.onPlace(place);
    return true;
  },
};

export const useBackdropChoice = (): BackdropChoice =>
  useSyncExternalStore(backdropChoice.subscribe, backdropChoice.get);
