import { useState } from 'react';
import { featuresWords, leftOutWords } from '../../../karst/feature-words';
import { saySetbackRules } from '../../../karst/say-setback-rules';
import { readSetbackRules, type SetbackRule } from '../../../karst/setback-rules';
import type { Survey } from '../../../survey/survey';
import { counted, metres } from '../../../survey/wording';
import type { SetbacksDrawn } from '../../../workers/karst-table';
import { useApp, useAppState } from '../../app-context';
import { areasDrawn } from '../../karst/draw-features';
import { useEdit } from '../record/use-edit';
import { questionOf } from './question-of';
import { RuleForm } from './RuleForm';
import { ruleTypeWords } from './rule-words';
import { Tick } from './Tick';
import { useKarstWork } from './use-karst-work';
import { WorkNote } from './WorkNote';

const FROM = { edge: 'its edge', rim: 'its rim', point: 'its middle' } as const;

/** The keeper's own table of distances, and the ground that it keeps clear. */
export function SetbackPart({ survey }: { survey: Survey }) {
  const { store } = useApp();
  const make = useEdit();
  const overlay = useAppState((state) => state.karst.setbacks);
  const { state, ask, cancel } = useKarstWork<SetbacksDrawn>();
  const [withUnverified, setWithUnverified] = useState(false);
  const read = readSetbackRules(survey.site.setback_rules);
  const rules: readonly SetbackRule[] = read.ok ? read.value : [];
  const say = (next: readonly SetbackRule[]) => make((now, author) => saySetbackRules(now, next, author));
  const draw = async (): Promise<void> => {
    const found = await ask((client, tell) => client.setbacks(questionOf(survey, withUnverified), rules, tell));
    if (!found) return;
    store.dispatch({
      type: 'karst',
      karst: {
        setbacks: {
          of: survey.features,
          drawn: areasDrawn(found.areas),
          words: 'setbacks by the rules of this survey',
        },
      },
    });
  };
  return (
    <>
      <p className="quiet">
        There are no distances of ours: what has to be kept is local law and local knowledge. Siting belongs to licensed
        practice and local codes.
      </p>
      {!read.ok && <p role="alert">{read.sentence}</p>}
      {rules.length > 0 && (
        <ul className="row-list">
          {rules.map((rule) => (
            <li key={rule.type} className="karst-rule">
              <span>
                <strong>{ruleTypeWords(rule.type)}</strong>: {metres(rule.distance_m)} from {FROM[rule.from]},{' '}
                {rule.with_uncertainty ? 'and the position’s own uncertainty' : 'position taken as exact'}
                {rule.cites ? `; ${rule.cites}` : '; nothing cited'}
              </span>
              <button
                type="button"
                className="line-button"
                aria-label={`Remove the rule for ${ruleTypeWords(rule.type)}`}
                onClick={() => void say(rules.filter((each) => each !== rule))}
              >
                Remove
              </button>
            </li>
          ))}
        </ul>
      )}
      <RuleForm onRule={(rule) => say([...rules.filter(({ type }) => type !== rule.type), rule])} />
      {rules.length > 0 && (
        <>
          <Tick
            words="Round unverified depressions and anomalies, too"
            on={withUnverified}
            onTurn={setWithUnverified}
          />
          <button type="button" className="line-button" onClick={() => void draw()}>
            Draw the setbacks
          </button>
        </>
      )}
      <WorkNote state={state} what="Drawing setbacks" onCancel={cancel} />
      {state.kind === 'done' && (
        <p role="status">
          {counted(state.result.areas.length, 'area')} round {featuresWords(state.result.within)}
          {state.result.withoutRule > 0 ? `; ${state.result.withoutRule} have no rule` : ''}.{' '}
          {leftOutWords(state.result.leftOut)}
        </p>
      )}
      {overlay && overlay.of !== survey.features && (
        <p role="status">The features have changed since this was drawn. Draw it again.</p>
      )}
      <p className="quiet">
        Measured on the ground, each in a transverse Mercator plane of scale 1 about its feature (WGS 84); what overlaps
        under one rule is one area.
      </p>
    </>
  );
}
