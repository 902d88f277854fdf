import { useState } from 'react';
import type { PlanStudyAnswer, PlanStudyQuestion } from '../../../studies/plan-study';
import { adviceWords, PLAN_ASSUMPTIONS } from '../../../studies/plan-words';
import { HOOKUP_LABEL, type Hookup } from '../../../survey/hookup';
import type { Outcome } from '../../../survey/outcome';
import { StudyProgress } from '../read/StudyProgress';
import { type AskStudy, useStudy } from '../read/use-study';
import { AskForm, type Said } from './AskForm';
import { Field } from './Field';
import { PlanReadings } from './PlanReadings';
import { hasSeparation, planAsked } from './plan-asked';

/** Hookups whose readings show a void. */
const HOOKUPS: readonly Hookup[] = [
  'pole_pole',
  'wenner_alpha',
  'wenner_beta',
  'wenner_gamma',
  'schlumberger',
  'dipole_dipole',
  'pole_dipole',
];

const ask: AskStudy<PlanStudyQuestion, Outcome<PlanStudyAnswer>> = (client, question, tick) =>
  client.plan(question, tick);

/** How to look for a void of a given size, place and fill, and what would be read: computed beside the page, on request. */
export function PlanSection() {
  const { state, begin, cancel } = useStudy(ask);
  const [noise, setNoise] = useState(0);

  const onSaid = async (said: Said): Promise<string | null> => {
    const question = planAsked(said);
    if (!question.ok) {
      cancel();
      return question.sentence;
    }
    setNoise(question.value.noise);
    const answer = await begin(question.value);
    return answer && !answer.ok ? answer.sentence : null;
  };

  return (
    <>
      <p className="quiet">What a void would change, and how to look for it.</p>
      <AskForm label="Plan" action="Work it out" onSaid={onSaid}>
        <PlanFields />
      </AskForm>
      {state.kind === 'working' && <StudyProgress fraction={state.fraction} onCancel={cancel} />}
      <div role="status">
        {state.kind === 'failed' && <p>{state.sentence}</p>}
        {state.kind === 'done' && state.result.ok && <Answer answer={state.result.value} noise={noise} />}
      </div>
    </>
  );
}

function Answer({ answer, noise }: { answer: PlanStudyAnswer; noise: number }) {
  return (
    <>
      <ul className="plain-list">
        {adviceWords(answer.advice, noise).map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <PlanReadings readings={answer.readings} />
      <p className="quiet">Assumptions: {PLAN_ASSUMPTIONS}</p>
    </>
  );
}

/** The few that matter first; the rest keeps to itself until it is asked for. */
function PlanFields() {
  const [kind, setKind] = useState('passage');
  const [hookup, setHookup] = useState<string>('pole_pole');
  const [fill, setFill] = useState('air');
  return (
    <>
      <div className="lay-fields two">
        <label className="lay-field">
          <span>Look for</span>
          <select name="kind" value={kind} onChange={(event) => setKind(event.target.value)}>
            <option value="passage">a passage</option>
            <option value="chamber">a round chamber</option>
          </select>
        </label>
        <label className="lay-field">
          <span>Read by</span>
          <select name="hookup" value={hookup} onChange={(event) => setHookup(event.target.value)}>
            {HOOKUPS.map((each) => (
              <option key={each} value={each}>
                {HOOKUP_LABEL[each]}
              </option>
            ))}
          </select>
        </label>
        <Field name="radius" words="Radius, m" begin="1" />
        <Field name="depth" words="Depth of its middle, m" begin="2" />
        <Field name="scatter" words="Scatter of a reading, %" begin="3" />
        {hasSeparation(hookup) && <Field name="n" words="Separation factor n" begin="1" />}
      </div>
      <details className="plan-more">
        <summary>What fills it, how it runs, which readings</summary>
        <div className="lay-fields two">
          <label className="lay-field">
            <span>Filled with</span>
            <select name="fill" value={fill} onChange={(event) => setFill(event.target.value)}>
              <option value="air">air</option>
              <option value="water">water, 30 Ω·m</option>
              <option value="other">something else</option>
            </select>
          </label>
          {fill === 'other' && <Field name="fill-ohm-m" words="Fill, Ω·m" begin="50" />}
          <Field name="host" words="Ground around it, Ω·m" begin="500" />
          {kind === 'passage' && (
            <>
              <Field name="length" words="Length, m" begin="40" />
              <Field name="bearing" words="Angle to the line, °" begin="90" hint="90 = square to it" />
            </>
          )}
        </div>
        <Field
          name="spacings"
          words="Readings at spacings, m"
          inputMode="text"
          hint="divided by spaces; none: those advised"
        />
        <Field name="offsets" words="and at midpoints, m from it" inputMode="text" begin="0" hint="divided by spaces" />
      </details>
    </>
  );
}
