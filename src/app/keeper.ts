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
}

export function createKeeper(store: Store<AppState, Action>, device: SurveyStore): Keeper {
  let key: string | null = null;
  // One after the other, in the order in which they happened.
  let last: Promise<void> = Promise.resolve();
  let waiting = 0;

  const inTurn = (work: () => Promise<void>): Promise<void> => {
    waiting += 1;
    store.dispatch({ type: 'kept', kept: 'keeping' });
    last = last.then(work).then(
      () => settled('kept'),
      (error: unknown) => {
        settled('not_kept');
        const why = error instanceof Error ? error.message : String(error);
        store.dispatch({
          type: 'trouble',
          sentence: `The last change is not kept on this device (${why}). Save the survey to a file under Hand over.`,
        });
      },
    );
    return last;
  };
  const settled = (kept: 'kept' | 'not_kept'): void => {
    waiting -= 1;
    if (waiting === 0 || kept === 'not_kept') store.dispatch({ type: 'kept', kept });
  };

  return {
    whole: (survey) =>
      inTurn(async () => {
        key = await device.keep(survey);
      }),
    add: (before, change) =>
      inTurn(async () => {
        key ??= await device.keep(before);
        await device.append(key, change);
      }),
    follow(kept) {
      key = kept;
      store.dispatch({ type: 'kept', kept: kept === null ? 'fresh' : 'kept' });
    },
  };
}
