import { useSyncExternalStore } from 'react';
import { gpsFailureWords, NOT_FOR_THIS_PAGE } from './gps-words';
import { type OwnPosition, oldForS, ownFixOf } from './own-position';
import type { Target } from './way-to';

export interface HereState {
  readonly position: OwnPosition;
  /** How long ago the fix was made, in seconds, where that is too long; else null. */
  readonly oldForS: number | null;
  /** What is walked to. */
  readonly target: Target | null;
}

/** What is asked of a device; `null` = it cannot be asked from this page. */
export type Locator = Pick<Geolocation, 'watchPosition' | 'clearWatch'> | null;

/** Where the device is, asked for by a person and never by itself. */
export interface Here {
  get(): HereState;
  subscribe(listener: () => void): () => void;
  /** Begins to ask the device; asked already, it goes on. */
  show(): void;
  /** Asks no more, and forgets where it was. */
  hide(): void;
  /** Shows the way to a place, and begins to ask the device. */
  goTo(target: Target): void;
  /** The way is shown no more; the position still is. */
  arrive(): void;
}

const NOTHING: HereState = { position: { kind: 'off' }, oldForS: null, target: null };

/** `now` is a clock that nobody sets; `calendar` is the device's, which may be wrong by a year and may jump. Both in ms. */
export function createHere(locator: () => Locator, now: () => number, calendar: () => number = now): Here {
  let state = NOTHING;
  let end: (() => void) | null = null;
  const listeners = new Set<() => void>();
  const set = (change: Partial<HereState>): void => {
    state = { ...state, ...change };
    for (const listener of listeners) listener();
  };

  const grow = (): void => {
    const { position } = state;
    const old = position.kind === 'seen' ? oldForS(position.fix, now()) : null;
    if (old !== state.oldForS) set({ oldForS: old });
  };
  const stop = (): void => {
    end?.();
    end = null;
  };
  const start = (): void => {
    if (end) return;
    const device = locator();
    if (!device) {
      set({ position: { kind: 'refused', sentence: NOT_FOR_THIS_PAGE } });
      return;
    }
    set({ position: { kind: 'asking', trouble: null }, oldForS: null });
    let last: { readonly stamp: number; readonly madeMs: number } | null = null;
    const watch = device.watchPosition(
      (given) => {
        const stamp = given.timestamp;
        // A device tells first where it was before. What follows is made as it comes, and the same told again is not new.
        if (last === null) last = { stamp, madeMs: now() - Math.max(0, calendar() - stamp) };
        else if (last.stamp !== stamp) last = { stamp, madeMs: now() };
        const fix = ownFixOf(given, last.madeMs);
        if (fix) set({ position: { kind: 'seen', fix }, oldForS: oldForS(fix, now()) });
      },
      (error) => {
        const sentence = gpsFailureWords(error);
        if (error.code === error.PERMISSION_DENIED) {
          stop();
          set({ position: { kind: 'refused', sentence }, oldForS: null });
        } else if (state.position.kind === 'asking') {
          set({ position: { kind: 'asking', trouble: sentence } });
        }
        // A fix that stands grows old by itself, and says so.
      },
      { enableHighAccuracy: true, maximumAge: 0, timeout: 15_000 },
    );
    const timer = setInterval(grow, 1000);
    end = () => {
      device.clearWatch(watch);
      clearInterval(timer);
    };
  };

  return {
    get: () => state,
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    show: start,
    hide() {
      stop();
      set(NOTHING);
    },
    goTo(target) {
      set({ target });
      start();
    },
    arrive: () => set({ target: null }),
  };
}

/** The one device that this page is on. */
export const here = createHere(
  () => ('geolocation' in navigator && isSecureContext ? navigator.geolocation : null),
  () => performance.now(),
  () => Date.now(),
);

export const useHere = (): HereState => useSyncExternalStore(here.subscribe, here.get);
