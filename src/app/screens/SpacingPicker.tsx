import { useApp, useAppState } from '../app-context';
import type { Content } from '../state/app-state';
import { spacingsIn } from '../state/spacings';

/** One spacing alone, or all side by side. */
export function SpacingPicker({ content }: { content: Content }) {
  const { store } = useApp();
  const chosen = useAppState((state) => state.spacing);
  const spacings = spacingsIn(content.findings);
  if (spacings.length < 2) return null;
  return (
    <fieldset className="spacings">
      <legend>Spacing</legend>
      {(['all', ...spacings] as const).map((spacing) => (
        <label key={String(spacing)} className="chip">
          <input
            type="radio"
            name="spacing"
            checked={spacing === chosen}
            onChange={() => store.dispatch({ type: 'spacing', spacing })}
          />
          <span>{spacing === 'all' ? 'all' : spacing === null ? 'not said' : `${spacing} m`}</span>
        </label>
      ))}
    </fieldset>
  );
}
