import type { FindingsClient } from '../workers/findings-client';
import type { AppParts } from './app-context';
import { showComputed } from './show-written';

/** A worker that ends again so soon would go on ending; a choice. */
const TOO_SOON_MS = 60_000;

/**
 * The findings client for as long as the page is open: where its worker ends, another one takes the open survey over.
 * Entering and keeping readings does not hang on it.
 */
export function lastingClient(
  { store }: Pick<AppParts, 'store'>,
  start: (onFailure: (reason: string) => void) => FindingsClient,
): FindingsClient {
  let endedAtMs = Number.NEGATIVE_INFINITY;
  let client = start(onFailure);

  function onFailure(reason: string): void {
    const isSoon = performance.now() - endedAtMs < TOO_SOON_MS;
    endedAtMs = performance.now();
    const { phase, drape } = store.get();
    if (!isSoon) client = start(onFailure);
    if (phase.kind !== 'ready') {
      store.dispatch({ type: 'failed', sentence: `The computation broke off: ${reason}. Reload the page.` });
    } else if (isSoon) {
      const sentence = `The computation broke off again: ${reason}. Readings can still be entered and are kept, but map and findings stay as they are until the page is reloaded.`;
      // After what waited for the worker has said that it got no answer.
      setTimeout(() => store.dispatch({ type: 'trouble', sentence }), 0);
    } else {
      const { survey } = phase.content;
      const sentence = `The computation broke off (${reason}) and was begun anew. Nothing that was entered is missing.`;
      void showComputed({ store }, survey, client.take(survey, drape)).then(() =>
        store.dispatch({ type: 'trouble', sentence }),
      );
    }
  }

  return {
    open: (...given) => client.open(...given),
    survey: () => client.survey(),
    take: (...given) => client.take(...given),
    change: (...given) => client.change(...given),
    search: (...given) => client.search(...given),
    compute: (...given) => client.compute(...given),
    layerFile: (...given) => client.layerFile(...given),
    end: () => client.end(),
  };
}
