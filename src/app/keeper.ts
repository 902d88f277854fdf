import type { SurveyStore } from '../store/survey-store';
import type { Change } from '../survey/commit';
import type { Survey } from '../survey/survey';
import type { AppState } from './state/app-state';
import type { Action } from './state/reduce';
import type { Store } from './state/store';

/** Writes what happens to the open survey down on the device, and says whether it could. */
export interface Keeper {
  /** A survey as a whole: opened from a file or taken in. */
  whole(survey: Survey): Promise<void>;
  /** An edit. `before`: the survey that it was made to; kept whole first where it never was. */
  add(before: Survey, change: Change): Promise<void>;
}

export function createKeeper(store: Store<AppState, Action>, device: SurveyStore): Keeper {
  // One after the other, in the order in which they happened.
  let last: Promise<unknown> = Promise.resolve();
  let waiting = 0;
  const inTurn = (work: () => Promise<void>): Promise<void> => {
    waiting += 1;
    store.dispatch({ type: 'kept', kept: 'keeping' });
    const mine = last.then(work).then(
      () => settle('kept'),
      (error: unknown) => {
        settle('not_kept');
        const why = error instanceof Error ? error.message : String(error);
        store.dispatch({
          type: 'trouble',
          sentence: `The last change is not kept on this device (${why}). Save the survey to a file under Hand over.`,
        });
      },
    );
    last = mine;
    return mine;
  };
  const settle = (kept: 'kept' | 'not_kept'): void => {
    waiting -= 1;
    if (waiting === 0 || kept === 'not_kept') store.dispatch({ type: 'kept', kept });
  };
  return {
    whole: (survey) => inTurn(() => device.putWhole(survey)),
    add: (before, change) => inTurn(() => device.append(before, change)),
  };
}
