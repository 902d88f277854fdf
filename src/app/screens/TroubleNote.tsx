import { useApp, useAppState } from '../app-context';

/** Something went wrong while the page goes on: said until it is put away. */
export function TroubleNote() {
  const { store } = useApp();
  const trouble = useAppState((state) => state.trouble);
  return (
    <div className="trouble" role="status">
      {trouble && (
        <p>
          {trouble}{' '}
          <button
            type="button"
            className="line-button"
            onClick={() => store.dispatch({ type: 'trouble', sentence: null })}
          >
            Put away
          </button>
        </p>
      )}
    </div>
  );
}
