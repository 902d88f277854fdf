import type { MapEngine } from '../map/map-engine';
import type { Change } from '../survey/commit';
import type { AppState } from './state/app-state';

/** What a person at the console, or a test, may look at. */
export interface Inspected {
  readonly map: MapEngine;
  readonly store: { get(): AppState };
  /** Applies an edit as a screen would. */
  commit(change: Change): Promise<unknown>;
}

declare global {
  interface Window {
    hollowline?: Inspected;
    /** Takes the whole app off the page and puts it on again. */
    remountHollowline?: () => void;
  }
}

/** With `?inspect` in the address the page lays its map and state open; otherwise they stay inside. */
export function offerForInspection(parts: Inspected): void {
  if (new URLSearchParams(location.search).has('inspect')) window.hollowline = parts;
}

/** Lets a test open and close the app as often as it likes. */
export function offerRemount(remount: () => void): void {
  if (new URLSearchParams(location.search).has('inspect')) window.remountHollowline = remount;
}
