import { useMemo, useState } from 'react';
import { GEODESIC_WORDS } from '../../../karst/equal-area';
import { featuresWords } from '../../../karst/feature-words';
import type { Matches } from '../../../karst/match';
import type { Feature, Survey } from '../../../survey/survey';
import { counted } from '../../../survey/wording';
import { typedNumber } from '../../state/typed-value';
import { PairChoice } from './PairChoice';
import { questionOf } from './question-of';
import { useKarstWork } from './use-karst-work';
import { WorkNote } from './WorkNote';

const PAGE = 10;

/** Features that may be one, side by side. Nothing is joined but by hand. */
export function MatchPart({ survey, onOpen }: { survey: Survey; onOpen: (id: Feature['id']) => void }) {
  const { state, ask, cancel } = useKarstWork<Matches>();
  const [extra, setExtra] = useState('0');
  const [shown, setShown] = useState(PAGE);
  const typed = typedNumber(extra);
  const extraM = typed.ok ? typed.value : Number.NaN;
  const isLength = extraM >= 0 && extraM <= 10_000;
  const byId = useMemo(() => new Map(survey.features.map((feature) => [feature.id, feature])), [survey.features]);
  const pairs =
    state.kind === 'done'
      ? state.result.pairs.filter(
          ({ ids: [p, q] }) =>
            [p, q].every((id) => byId.get(id) && !byId.get(id)?.retired) &&
            byId.get(p)?.distinct_from?.includes(q) !== true,
        )
      : [];
  return (
    <>
      <p className="quiet">
        Two features may be one where they lie within both accuracies, are of types that go together, and have names
        that are alike. {GEODESIC_WORDS}
      </p>
      <form
        className="karst-form"
        onSubmit={(event) => {
          event.preventDefault();
          if (!isLength) return;
          setShown(PAGE);
          void ask((client) => client.match(questionOf(survey, true), extraM));
        }}
      >
        <label className="karst-field">
          <span>Look farther than the accuracies by, m</span>
          <input inputMode="decimal" value={extra} onChange={(event) => setExtra(event.target.value)} />
        </label>
        {!typed.ok && <p role="alert">{typed.sentence}</p>}
        <button type="submit" className="line-button" disabled={!isLength}>
          Look for duplicates
        </button>
      </form>
      <WorkNote state={state} what="Looking for duplicates" onCancel={cancel} />
      {state.kind === 'done' && (
        <>
          <p role="status">
            {pairs.length === 0 ? 'No pair is left to decide.' : `${counted(pairs.length, 'pair')} to decide.`}
            {state.result.crowded.length > 0
              ? ` ${featuresWords(state.result.crowded.length)} lie so close to others that not all pairs are listed.`
              : ''}
          </p>
          <ol className="karst-pairs">
            {pairs.slice(0, shown).map((pair) => {
              const [first, second] = pair.ids.map((id) => byId.get(id));
              if (!first || !second) return null;
              return (
                <li key={pair.ids.join(' ')}>
                  <PairChoice survey={survey} pair={pair} first={first} second={second} onOpen={onOpen} />
                </li>
              );
            })}
          </ol>
          {pairs.length > shown && (
            <button type="button" className="line-button" onClick={() => setShown(shown + PAGE)}>
              Show {Math.min(PAGE, pairs.length - shown)} more of {pairs.length - shown}
            </button>
          )}
        </>
      )}
    </>
  );
}
