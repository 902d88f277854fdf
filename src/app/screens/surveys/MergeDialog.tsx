import { useEffect, useMemo, useRef, useState } from 'react';
import '../../../../styles/import.css';
import '../../../../styles/surveys.css';
import { isSameSite, type MergeChoice, mergeSurveys } from '../../../survey/merge-surveys';
import { done } from '../../../survey/outcome';
import type { Survey } from '../../../survey/survey';
import { counted } from '../../../survey/wording';
import { useApp } from '../../app-context';
import { edit } from '../../edit';
import { ConflictItem } from './ConflictItem';
import { takenWords } from './merge-words';

export interface MergeDialogProps {
  readonly mine: Survey;
  readonly theirs: Survey;
  readonly file: string;
  readonly onClose: (said: string | null) => void;
}

/** More are shown as these are answered. */
const MOST_SHOWN = 40;

/** What a colleague's copy would bring, before anything is taken. */
export function MergeDialog({ mine, theirs, file, onClose }: MergeDialogProps) {
  const parts = useApp();
  const dialog = useRef<HTMLDialogElement>(null);
  const head = useRef<HTMLHeadingElement>(null);
  const [sameSite, setSameSite] = useState(isSameSite(mine, theirs));
  const [choices, setChoices] = useState<Readonly<Record<string, MergeChoice>>>({});
  const [refused, setRefused] = useState<string | null>(null);
  const merged = useMemo(() => mergeSurveys(mine, theirs, { sameSite, choices }), [mine, theirs, sameSite, choices]);

  useEffect(() => {
    dialog.current?.showModal();
    head.current?.focus();
  }, []);

  const take = async () => {
    const taken = await edit(parts, (open, author) => {
      const now = mergeSurveys(open, theirs, { sameSite, choices, author });
      return now.ok ? done(now.value.change) : now;
    });
    if (taken.ok) onClose(`${file} is brought in. Undo takes all of it back at once.`);
    else setRefused(taken.sentence);
  };
  const answer = (id: string, choice: MergeChoice) => setChoices((before) => ({ ...before, [id]: choice }));
  const conflicts = merged.ok ? merged.value.conflicts : [];
  const open = conflicts.filter(({ choice }) => choice === null).length;
  const answerAll = (choice: MergeChoice) =>
    setChoices((before) => ({ ...Object.fromEntries(conflicts.map(({ id }) => [id, choice])), ...before }));
  const changes = merged.ok ? merged.value.taken.length + conflicts.length - open : 0;

  return (
    <dialog
      ref={dialog}
      className="import"
      aria-labelledby="merge-head"
      onCancel={(event) => {
        event.preventDefault();
        onClose(null);
      }}
    >
      <header className="import-top">
        <h2 id="merge-head" ref={head} tabIndex={-1}>
          A colleague’s part
        </h2>
        <button type="button" className="line-button" onClick={() => onClose(null)}>
          Close
        </button>
      </header>
      <div className="import-page">
        <p>{file}. Nothing is brought in yet, and nothing of yours is overwritten unless you choose theirs.</p>
        {!merged.ok && (
          <>
            <p>{merged.sentence}</p>
            <p>
              <button type="button" className="line-button" onClick={() => setSameSite(true)}>
                It is the same ground
              </button>
            </p>
          </>
        )}
        {merged.ok && <Brings taken={merged.value.taken} same={merged.value.same} />}
        {conflicts.length > 0 && (
          <section aria-labelledby="conflicts-head">
            <h3 id="conflicts-head">Written down differently ({conflicts.length})</h3>
            <p>Which is to stand? What is left open stays as you have it and is asked again next time.</p>
            {conflicts.length > 3 && open > 0 && (
              <p className="row-actions">
                <button type="button" className="line-button" onClick={() => answerAll('mine')}>
                  Mine for all that is open
                </button>
                <button type="button" className="line-button" onClick={() => answerAll('theirs')}>
                  Theirs for all that is open
                </button>
              </p>
            )}
            {conflicts.slice(0, MOST_SHOWN).map((conflict) => (
              <ConflictItem key={conflict.id} conflict={conflict} survey={mine} onChoose={answer} />
            ))}
            {conflicts.length > MOST_SHOWN && <p>And {conflicts.length - MOST_SHOWN} more.</p>}
          </section>
        )}
        {refused !== null && (
          <p className="refused" role="alert">
            {refused}
          </p>
        )}
      </div>
      <footer className="import-foot">
        <p role="status">
          {open > 0
            ? `${counted(open, 'question')} open`
            : changes > 0
              ? 'All of it is one edit.'
              : 'Nothing to bring in.'}
        </p>
        <button type="button" className="take-button" disabled={changes === 0} onClick={() => void take()}>
          Bring it in
        </button>
      </footer>
    </dialog>
  );
}

type Merged = Extract<ReturnType<typeof mergeSurveys>, { ok: true }>['value'];

function Brings({ taken, same }: Pick<Merged, 'taken' | 'same'>) {
  const fresh = takenWords(taken, ({ how }) => how === 'new');
  const later = takenWords(taken, ({ how }) => how === 'newer');
  const fuller = takenWords(taken, ({ how }) => how === 'fuller');
  return (
    <ul className="plain-list">
      <li>
        <strong>New:</strong> {fresh || 'nothing'}
      </li>
      {later && (
        <li>
          <strong>Changed by them and not by you:</strong> {later}
        </li>
      )}
      {fuller && (
        <li>
          <strong>As yours, with more said:</strong> {fuller}
        </li>
      )}
      <li>
        <strong>Yours already:</strong> {counted(same, 'entry', 'entries')}
      </li>
    </ul>
  );
}
