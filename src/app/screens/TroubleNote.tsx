import { useApp, useAppState } from '../app-context';
import { useNarrow } from '../narrow';

/**
 * Something went wrong while the page goes on: said until it is put away. It lies on the map; where the margin covers that
 * as a whole it stands at the head of the margin instead, in the way of no key.
 */
export function TroubleNote({ on }: { on: 'map' | 'margin' }) {
  const { store } = useApp();
  const trouble = useAppState((state) => state.trouble);
  const sheet = useAppState((state) => state.sheet);
  const isMapCovered = useNarrow() && sheet === 'full';
  return (
    <div className="trouble" role="status">
      {trouble && isMapCovered === (on === 'margin') && (
        <p>
          {trouble}{' '}
          <button
            type="button"
            className="line-button"
            onClick={() => store.dispatch({ type: 'trouble', sentence: null })}
          >
            Close
          </button>
        </p>
      )}
    </div>
  );
}
