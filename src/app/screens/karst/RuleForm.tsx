import { type FormEvent, useState } from 'react';
import type { SetbackRule } from '../../../karst/setback-rules';
import { FEATURE_TYPES } from '../../../survey/feature-type';
import { isAmbiguous, typedNumber } from '../../state/typed-value';
import { ruleTypeWords } from './rule-words';

/** One rule: of which features, how far, from where, and by what law or decision. */
export function RuleForm({ onRule }: { onRule: (rule: SetbackRule) => Promise<string | null> }) {
  const [refused, setRefused] = useState<string | null>(null);
  const submit = async (event: FormEvent<HTMLFormElement>): Promise<void> => {
    event.preventDefault();
    const form = event.currentTarget;
    const said = new FormData(form);
    const text = (name: string): string => String(said.get(name) ?? '').trim();
    const distance = typedNumber(text('distance'));
    if (!distance.ok || !(distance.value >= 0 && distance.value <= 100_000)) {
      setRefused(isAmbiguous(distance) ? distance.sentence : 'Say the distance in metres.');
      return;
    }
    const sentence = await onRule({
      type: text('type'),
      distance_m: distance.value,
      from: text('from') === 'point' ? 'point' : text('from') === 'rim' ? 'rim' : 'edge',
      with_uncertainty: said.get('uncertain') === 'yes',
      cites: text('cites') || null,
    });
    setRefused(sentence);
    if (sentence === null) form.reset();
  };
  return (
    <form className="karst-form" aria-label="A rule of setbacks" onSubmit={(event) => void submit(event)}>
      <label className="karst-field">
        <span>For</span>
        <select name="type">
          {['any', 'sinkhole', ...FEATURE_TYPES].map((type) => (
            <option key={type} value={type}>
              {ruleTypeWords(type)}
            </option>
          ))}
        </select>
      </label>
      <label className="karst-field">
        <span>Distance, m</span>
        <input name="distance" inputMode="decimal" autoComplete="off" />
      </label>
      <label className="karst-field">
        <span>Measured from</span>
        <select name="from">
          <option value="edge">its edge</option>
          <option value="rim">its rim</option>
          <option value="point">its middle</option>
        </select>
      </label>
      <label className="karst-tick">
        <input type="checkbox" name="uncertain" value="yes" defaultChecked />
        <span>Add the position’s own uncertainty</span>
      </label>
      <label className="karst-field">
        <span>What asks for it (code, decision)</span>
        <input name="cites" autoComplete="off" />
      </label>
      {refused && (
        <p className="refused" role="alert">
          {refused}
        </p>
      )}
      <button type="submit" className="line-button">
        Set this rule
      </button>
    </form>
  );
}
