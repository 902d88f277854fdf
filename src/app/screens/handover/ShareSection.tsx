import { useId, useState } from 'react';
import { AUDIENCES, type Audience } from '../../../discretion/audience';
import type { Settled } from '../../../discretion/disclose-to';
import { rememberShare } from '../../../discretion/discretion-edits';
import { done } from '../../../survey/outcome';
import { wallDay } from '../../../wall-clock';
import { useApp } from '../../app-context';
import { edit } from '../../edit';
import { fileStem } from '../../file-stem';
import { remember, remembered } from '../../remembered';
import { saveBlob, saveFile } from '../../save-file';
import type { Content } from '../../state/app-state';
import { StudyProgress } from '../read/StudyProgress';
import { LeakList } from './LeakList';
import { ShareDone } from './ShareDone';
import { useShare } from './use-share';
import '../../../../styles/handover.css';

const FOR_WHOM: Readonly<Record<Audience, string>> = {
  surveyor: 'Surveyor: everything, exact',
  keeper: 'Keeper of an inventory: everything but what a class withholds',
  planner: 'Planner: the evidence, without names, notes and times of day',
  public: 'Public: the same, with protected places hidden as their classes say',
};

/** A pack for somebody else: for whom, on which terms, what would give a place away, and the files. */
export function ShareSection({ content }: { content: Content }) {
  const parts = useApp();
  const { state, make, cancel } = useShare();
  const [audience, setAudience] = useState<Audience>('planner');
  const [contact, setContact] = useState(() => remembered('share.contact') ?? '');
  const [licence, setLicence] = useState(() => remembered('share.licence') ?? '');
  const [settled, setSettled] = useState<readonly Settled[]>([]);
  const [said, setSaid] = useState('');
  const id = useId();

  const ask = (decisions: readonly Settled[]): void => {
    remember('share.contact', contact);
    remember('share.licence', licence);
    setSaid('');
    make({
      survey: content.survey,
      findings: content.findings,
      audience,
      settled: decisions,
      terms: {
        madeAt: wallDay(new Date()),
        contact: contact.trim() || null,
        licence: licence.trim() || null,
        title: null,
      },
    });
  };
  const begin = (next: Audience): void => {
    cancel();
    setSettled([]);
    setSaid('');
    setAudience(next);
  };
  const answer = state.kind === 'answered' ? state.answer : null;
  const stem = `${fileStem(content.survey.site.name)}-${audience}`;

  return (
    <section aria-labelledby={`${id}-head`}>
      <h2 id={`${id}-head`}>A pack for somebody else</h2>
      <form
        className="share-form"
        onSubmit={(event) => {
          event.preventDefault();
          ask(settled);
        }}
      >
        <fieldset className="share-audiences">
          <legend>For whom?</legend>
          {AUDIENCES.map((each) => (
            <label key={each}>
              <input type="radio" name={`${id}-audience`} checked={audience === each} onChange={() => begin(each)} />
              <span>{FOR_WHOM[each]}</span>
            </label>
          ))}
        </fieldset>
        <label htmlFor={`${id}-contact`}>Whom to ask</label>
        <input id={`${id}-contact`} type="text" value={contact} onChange={(event) => setContact(event.target.value)} />
        <label htmlFor={`${id}-licence`}>Terms of use, in your words</label>
        <input id={`${id}-licence`} type="text" value={licence} onChange={(event) => setLicence(event.target.value)} />
        {state.kind !== 'making' && answer?.kind !== 'leaks' && (
          <button type="submit" className="line-button strong-button">
            {answer?.kind === 'pack' ? 'Make it again' : 'Make the pack'}
          </button>
        )}
      </form>
      {state.kind === 'making' && <StudyProgress fraction={state.fraction} onCancel={cancel} />}
      {state.kind === 'broken' && (
        <p className="refused" role="alert">
          {state.sentence}
        </p>
      )}
      {answer?.kind === 'refused' && (
        <p className="refused" role="alert">
          {answer.sentence}
        </p>
      )}
      {answer?.kind === 'leaks' && (
        <LeakList
          leaks={answer.leaks}
          onSettled={(decisions) => {
            const all = [...settled, ...decisions];
            setSettled(all);
            ask(all);
          }}
        />
      )}
      {answer?.kind === 'pack' && (
        <ShareDone
          pack={answer}
          onSavePack={() => {
            const bytes = saveBlob(`${stem}.zip`, new Blob([answer.zip], { type: 'application/zip' }));
            setSaid(`${stem}.zip saved, ${Math.ceil(bytes / 1000)} kB.`);
            const share = answer.remembered;
            if (share) void edit(parts, (survey, author) => done(rememberShare(survey, share, author)));
          }}
          onSavePage={() => {
            saveFile(`${stem}.html`, answer.page, 'text/html');
            setSaid(`${stem}.html saved: it opens by itself, without a network.`);
          }}
        />
      )}
      <p role="status">{said || (answer?.kind === 'pack' && 'The pack is ready to be saved.')}</p>
    </section>
  );
}
