import { lazy, Suspense, useEffect, useId, useRef, useState } from 'react';
import '../../../../styles/compare.css';
import type { Listed } from '../../../store/survey-store';
import { daySpan } from '../../../studies/compare-days';
import type { Outcome } from '../../../survey/outcome';
import { wallDay } from '../../../wall-clock';
import type { CompareAnswer, CompareQuestion } from '../../../workers/compare-earlier';
import { useApp, useAppState } from '../../app-context';
import { isOutdated } from '../../compare/compared';
import type { Content } from '../../state/app-state';
import { StudyProgress } from '../read/StudyProgress';
import { type AskStudy, useStudy } from '../read/use-study';
import { useOtherSurveys } from './use-other-surveys';

// Loaded with the first answer.
const ComparisonSays = lazy(async () => ({ default: (await import('./ComparisonSays')).ComparisonSays }));

const ask: AskStudy<CompareQuestion, Outcome<CompareAnswer>> = (client, question, tick) =>
  client.compare(question, tick);

const WORDS =
  'Before and after works, or a dry and a wet season: each reading beside the one taken before at the same place, each against the reference of its own time. The survey that is open here is the later one.';

/** Asks for an earlier survey of the same ground, and says what changed since. */
export function CompareSection({ content, onSelect }: { content: Content; onSelect: (sid: string) => void }) {
  const { store, device } = useApp();
  const compared = useAppState((state) => state.compared);
  const { state, begin, cancel } = useStudy(ask);
  const kept = useOtherSurveys();
  const [key, setKey] = useState('');
  const [said, setSaid] = useState('');
  const input = useRef<HTMLInputElement>(null);
  const head = useRef<HTMLHeadingElement>(null);
  const id = useId();
  const open = compared?.surveyId === content.survey.id ? compared : null;

  const compare = async (earlier: CompareQuestion['earlier']) => {
    setSaid('');
    const { lines } = content.findings;
    const answer = await begin({ earlier, after: content.findings, afterDays: daySpan(content.survey) });
    if (!answer) return;
    if (!answer.ok) return setSaid(answer.sentence);
    store.dispatch({ type: 'compared', compared: { surveyId: content.survey.id, lines, ...answer.value } });
  };
  const compareKept = async () => {
    const found = await device.read(key);
    if (found) await compare({ survey: found.survey });
    else setSaid('That survey is no longer on this device.');
  };
  const compareFiles = async (files: readonly File[]) => {
    const read = await Promise.all(
      files.map(async (file) => ({ name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) })),
    );
    await compare({ files: read });
  };

  // A new answer is where the eyes and the keyboard go on.
  const before = useRef(open);
  useEffect(() => {
    if (open && before.current !== open) head.current?.focus();
    before.current = open;
  }, [open]);

  if (open) {
    return (
      <section className="compare" aria-labelledby={id}>
        <h2 id={id} ref={head} tabIndex={-1}>
          Change since “{open.earlier}”
        </h2>
        <Suspense fallback={null}>
          <ComparisonSays
            compared={open}
            content={content}
            outdated={isOutdated(open, content.findings)}
            onSelect={onSelect}
            onClose={() => store.dispatch({ type: 'compared', compared: null })}
          />
        </Suspense>
      </section>
    );
  }
  return (
    <section className="compare" aria-labelledby={id}>
      <h2 id={id}>Compare with an earlier survey</h2>
      <p className="quiet">{WORDS}</p>
      {state.kind === 'working' ? (
        <StudyProgress fraction={state.fraction} onCancel={cancel} />
      ) : (
        <>
          {kept.length > 0 && (
            <form
              className="line-choice"
              onSubmit={(event) => {
                event.preventDefault();
                void compareKept();
              }}
            >
              <label htmlFor={`${id}-kept`}>Earlier</label>
              <select id={`${id}-kept`} value={key} onChange={(event) => setKey(event.target.value)}>
                <option value="">choose one kept here</option>
                {kept.map((survey) => (
                  <option key={survey.key} value={survey.key}>
                    {keptWords(survey)}
                  </option>
                ))}
              </select>
              <button type="submit" className="line-button" disabled={key === ''}>
                Compare
              </button>
            </form>
          )}
          <p>
            <button type="button" className="line-button" onClick={() => input.current?.click()}>
              Take the earlier survey from a file
            </button>
          </p>
          <input
            ref={input}
            type="file"
            hidden
            multiple
            accept=".json,.txt,.csv,.tsv,.zip,.gpx,.kml,.geojson"
            aria-label="Files of the earlier survey"
            onChange={(event) => {
              const files = [...(event.currentTarget.files ?? [])];
              event.currentTarget.value = '';
              if (files.length > 0) void compareFiles(files);
            }}
          />
        </>
      )}
      <p role="alert">{state.kind === 'failed' ? state.sentence : said}</p>
    </section>
  );
}

function keptWords({ name, changedAt }: Listed): string {
  return changedAt === null ? name : `${name}, changed ${wallDay(new Date(changedAt))}`;
}
