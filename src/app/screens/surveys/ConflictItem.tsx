import type { MergeChoice, MergeConflict } from '../../../survey/merge-surveys';
import type { Survey } from '../../../survey/survey';
import { conflictTitle, keyWords, valueWords, versionWords, whoWords } from './merge-words';

export interface ConflictItemProps {
  readonly conflict: MergeConflict;
  readonly survey: Survey;
  readonly onChoose: (id: string, choice: MergeChoice) => void;
}

/** Two versions of one thing, side by side, and which is to stand. */
export function ConflictItem({ conflict, survey, onChoose }: ConflictItemProps) {
  const { id, mine, theirs, differs, mayKeepBoth, choice, collection } = conflict;
  const option = (value: MergeChoice, words: string) => (
    <label className="choice">
      <input type="radio" name={id} checked={choice === value} onChange={() => onChoose(id, value)} />
      <span>{words}</span>
    </label>
  );
  const said = (version: MergeConflict['mine']) => {
    const words = versionWords(conflict, version);
    const parts = version as unknown as Readonly<Record<string, unknown>>;
    return (
      <>
        {words !== null && <p className="version-said">{words}</p>}
        <dl>
          {differs
            .filter((key) => words === null || !SAID_IN_WORDS.has(key))
            .map((key) => (
              <div key={key}>
                <dt>{keyWords(key)}</dt>
                <dd>{valueWords(parts[key])}</dd>
              </div>
            ))}
        </dl>
        <p className="quiet">{whoWords(version)}</p>
      </>
    );
  };
  return (
    <fieldset className="conflict">
      <legend>{conflictTitle(conflict, survey)}</legend>
      <div className="versions">
        <section aria-label="Mine">
          {option('mine', 'Mine')}
          {said(mine)}
        </section>
        <section aria-label="Theirs">
          {option('theirs', 'Theirs')}
          {said(theirs)}
        </section>
      </div>
      {mayKeepBoth &&
        option(
          'both',
          collection === 'lines' && mine.id === theirs.id ? 'The points of both, on one line' : 'Keep both',
        )}
    </fieldset>
  );
}

const SAID_IN_WORDS = new Set(['value', 'unit', 'wetting', 'status', 'status_reason', 'note', 'retired', 'limit']);
