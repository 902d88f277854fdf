import { useState } from 'react';
import type { Hookup } from '../../../survey/hookup';
import { LEADS, LEADS_QUESTION, ROD_WORDS, type RodCount, rodsOf } from '../../words/hookup-questions';

/** How the probes are wired, asked in the terms of somebody who stands there. It has no default. */
export function HookupChoice({
  hookup,
  onHookup,
}: {
  hookup: Hookup | null;
  onHookup: (hookup: Hookup | null) => void;
}) {
  const [rods, setRods] = useState<RodCount | null>(() => rodsOf(hookup ?? undefined));
  const countRods = (count: RodCount) => {
    setRods(count);
    const answers = count === 'unknown' ? [{ hookup: 'unknown' as const }] : offered(count);
    // Where only one answer is left it is the answer; otherwise an earlier one must not stay.
    onHookup(answers.length === 1 ? (answers[0]?.hookup ?? null) : null);
  };
  return (
    <>
      <fieldset className="field-choices">
        <legend>How many rods are in the ground for one reading?</legend>
        {ROD_WORDS.map((answer) => (
          <label key={answer.rods} className="chip">
            <input
              type="radio"
              name="rod count"
              checked={rods === answer.rods}
              onChange={() => countRods(answer.rods)}
            />
            <span>{answer.words}</span>
          </label>
        ))}
      </fieldset>
      {rods !== null && rods !== 'unknown' && (
        <fieldset className="field-answers">
          <legend>{LEADS_QUESTION[rods]}</legend>
          {offered(rods).map((answer) => (
            <label key={answer.hookup}>
              <input
                type="radio"
                name="leads"
                checked={hookup === answer.hookup}
                onChange={() => onHookup(answer.hookup)}
              />
              <span>{answer.words}</span>
            </label>
          ))}
        </fieldset>
      )}
    </>
  );
}

/** Electrodes that are given one by one belong in the table: no spot says where they stand. */
const offered = (rods: Exclude<RodCount, 'unknown'>) =>
  LEADS[rods].filter((answer) => answer.hookup !== 'four_electrode');
