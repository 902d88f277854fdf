import type { SurveyStore } from '../store/survey-store';
import type { Change } from '../survey/commit';
import type { Survey } from '../survey/survey';
import type { AppState } from './state/app-state';
import type { Action } from './state/reduce';
import type { Store } from './state/store';

/** Writes what happens to the open survey down on the device, and says whether it could. */
export interface Keeper {
  /** A survey as a whole, taken in from a file. */
  whole(survey: Survey): Promise<void>;
  /** An edit. `before`: the survey that it was made to, kept whole first where it was not kept yet. */
  add(before: Survey, change: Change): Promise<void>;
  /** The open survey is one that the device has, under this key; null = one that it has not. */
  follow(key: string | null): void;
  /** Is fulfilled once all that was asked for so far has been written, or has failed. */
  written(): Promise<void>;
}

/** After a failure it is tried again by itself, for as long as something is unwritten. */
const TRIED_AGAIN_MS = 5000;

/**
 * What was asked for is written in its order. What could not be written is held, and goes before all that follows, so
 * that “kept” is never said while something older is not.
 */
export function createKeeper(store: Store<AppState, Action>, device: SurveyStore): Keeper {
  // Work that is held belongs to the survey that was open when it was asked for.
  let target: { key: string | null } = { key: null };
  const unwritten: (() => Promise<void>)[] = [];
  let last: Promise<void> = Promise.resolve();
  let said: string | null = null;
  let again: ReturnType<typeof setTimeout> | undefined;

  const writeAll = async (): Promise<void> => {
    try {
      for (let work = unwritten[0]; work; work = unwritten[0]) {
        await work();
        unwritten.shift();
      }
      store.dispatch({ type: 'kept', kept: 'kept' });
      if (said !== null && store.get().trouble === said) store.dispatch({ type: 'trouble', sentence: null });
      said = null;
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      store.dispatch({ type: 'kept', kept: 'not_kept' });
      // Once for one trouble, however often it is tried again.
      if (said === null) {
        said = `The last change is not kept on this device (${why}). It is tried again; save the survey to a file under Hand over.`;
        store.dispatch({ type: 'trouble', sentence: said });
      }
      clearTimeout(again);
      again = setTimeout(() => inTurn(), TRIED_AGAIN_MS);
    }
  };
  const inTurn = (work?: () => Promise<void>): Promise<void> => {
    if (work) unwritten.push(work);
    if (unwritten.length === 0) return last;
    store.dispatch({ type: 'kept', kept: 'keeping' });
    last = last.then(writeAll);
    return last;
  };

  return {
    whole(survey) {
      const into: typeof target = { key: null };
      target = into;
      return inTurn(async () => {
        into.key = await device.keep(survey);
      });
    },
    add(before, change) {
      const into = target;
      return inTurn(async () => {
        into.key ??= await device.keep(before);
        await device.append(into.key, change);
      });
    },
    written: () => last,
    follow(key) {
      target = { key };
      store.dispatch({ type: 'kept', kept: key === null ? 'fresh' : 'kept' });
    },
  };
}
