import { useApp } from '../../app-context';
import { here } from '../../field/position/here';
import type { Target } from '../../field/position/way-to';
import { isNarrow } from '../../narrow';

/** Shows the way to a place: on the map, and in words. */
export function GoToButton({ target, words = 'Go to' }: { target: Target; words?: string }) {
  const { store } = useApp();
  return (
    <button
      type="button"
      className="line-button go-to"
      aria-label={words === 'Go to' ? `Go to ${target.label}` : undefined}
      onClick={() => {
        here.goTo(target);
        // The map and what is said on it have to be seen.
        if (isNarrow() && store.get().sheet === 'full') store.dispatch({ type: 'sheet', sheet: 'half' });
      }}
    >
      {words}
    </button>
  );
}
