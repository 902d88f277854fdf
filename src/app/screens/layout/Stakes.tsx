import { useState } from 'react';
import type { LineFindings } from '../../../findings';
import { useApp, useAppState } from '../../app-context';
import { stakesOf } from '../../state/stakes';
import { typedNumber } from '../../state/typed-value';
import { PlacesTable } from './PlacesTable';

/** Stakes every so many metres, on the map and as a list to walk by. */
export function Stakes({ found }: { found: LineFindings }) {
  const { store } = useApp();
  const everyM = useAppState(({ layout }) => layout.stakesM);
  const [text, setText] = useState(everyM === null ? '' : String(everyM));
  const [refused, setRefused] = useState<string | null>(null);
  const stakes = everyM === null ? [] : stakesOf(found, everyM);
  const say = (typed: string) => {
    setText(typed);
    const number = typed.trim() === '' ? null : typedNumber(typed);
    const usable = number?.ok && number.value > 0 ? number.value : null;
    setRefused(number && usable === null ? 'Type the metres from stake to stake.' : null);
    store.dispatch({ type: 'layout', layout: { stakesM: usable } });
  };
  return (
    <section aria-labelledby="stakes-head">
      <h2 id="stakes-head">Stakes</h2>
      <label className="lay-field">
        <span>One every, m</span>
        <input
          type="text"
          inputMode="decimal"
          autoComplete="off"
          value={text}
          onChange={({ target }) => say(target.value)}
        />
      </label>
      {refused && (
        <p className="refused" role="alert">
          {refused}
        </p>
      )}
      {everyM !== null && stakes.length === 0 && <p>That would be more than a thousand. Take a longer step.</p>}
      {stakes.length > 0 && <PlacesTable caption="Stakes of this line" places={stakes} />}
    </section>
  );
}
