import { useId, useState } from 'react';
import type { Settled } from '../../../discretion/disclose-to';
import type { Leak } from '../../../discretion/leak';
import { counted } from '../../../survey/wording';

type Decision = { readonly decision: Settled['decision']; readonly why: string };

/** What would give a protected place away, each with its way out. Nothing is made before all are settled. */
export function LeakList({
  leaks,
  onSettled,
}: {
  leaks: readonly Leak[];
  onSettled: (settled: readonly Settled[]) => void;
}) {
  const said = useId();
  const [decisions, setDecisions] = useState<Readonly<Record<string, Decision>>>({});
  const decide = (id: string, decision: Decision): void => setDecisions((before) => ({ ...before, [id]: decision }));
  const open = leaks.filter(({ id }) => {
    const own = decisions[id];
    return !own || (own.decision === 'accept' && own.why.trim() === '');
  });

  return (
    <div className="leaks">
      <p role="alert">
        Nothing was made yet: {counted(leaks.length, 'thing')} could tell where a protected place is. Decide each.
      </p>
      <button
        type="button"
        className="line-button"
        onClick={() =>
          setDecisions(Object.fromEntries(leaks.map(({ id }) => [id, { decision: 'withhold' as const, why: '' }])))
        }
      >
        Withhold all of them
      </button>
      <ul className="row-list">
        {leaks.map(({ id, sentence, remedy }, i) => {
          const own = decisions[id];
          return (
            <li key={id} className="leak">
              <p id={`${said}${i}`}>{sentence}</p>
              <fieldset aria-describedby={`${said}${i}`}>
                <legend className="quiet">{remedy}</legend>
                <label>
                  <input
                    type="radio"
                    name={id}
                    checked={own?.decision === 'withhold'}
                    onChange={() => decide(id, { decision: 'withhold', why: '' })}
                  />
                  <span>Withhold it</span>
                </label>
                <label>
                  <input
                    type="radio"
                    name={id}
                    checked={own?.decision === 'accept'}
                    onChange={() => decide(id, { decision: 'accept', why: own?.why ?? '' })}
                  />
                  <span>Keep it, because …</span>
                </label>
              </fieldset>
              {own?.decision === 'accept' && (
                <input
                  type="text"
                  aria-label="Why it may be kept; this is written into the pack"
                  value={own.why}
                  onChange={(event) => decide(id, { decision: 'accept', why: event.target.value })}
                />
              )}
            </li>
          );
        })}
      </ul>
      <button
        type="button"
        className="line-button strong-button"
        disabled={open.length > 0}
        onClick={() =>
          onSettled(leaks.map(({ id }) => ({ leak: id, ...(decisions[id] ?? { decision: 'withhold', why: '' }) })))
        }
      >
        {open.length > 0 ? `${counted(open.length, 'decision')} to go` : 'Make the pack'}
      </button>
    </div>
  );
}
