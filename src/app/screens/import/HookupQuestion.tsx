import { useId, useState } from 'react';
import type { FileColumns } from '../../../exchange/read/columns';
import { LEADS, LEADS_QUESTION, ROD_WORDS, type RodCount, rodsOf, UNKNOWN_HOOKUP } from '../../words/hookup-questions';
import { withConstant } from './import-draft';

/** How the probes were wired, asked in the terms of somebody who stood there. It has no default. */
export function HookupQuestion({
  columns,
  onCorrect,
}: {
  columns: FileColumns;
  onCorrect: (columns: FileColumns) => void;
}) {
  const group = useId();
  const said = columns.constants?.hookup;
  const hookup = said === undefined ? undefined : String(said);
  const [rods, setRods] = useState<RodCount | null>(() => rodsOf(hookup));
  const say = (word: string) => onCorrect(withConstant(columns, 'hookup', word));

  const countRods = (count: RodCount) => {
    setRods(count);
    const [only, ...others] = count === 'unknown' ? [{ hookup: 'unknown' }] : LEADS[count];
    // Where only one answer is left it is the answer; otherwise an earlier one must not stay.
    say(others.length === 0 ? (only?.hookup ?? '') : '');
  };

  return (
    <div className="hookup">
      <fieldset className="choices">
        <legend>How many rods are in the ground beside each other for one reading?</legend>
        {ROD_WORDS.map((answer) => (
          <label key={answer.rods} className="chip">
            <input
              type="radio"
              name={`${group} rods`}
              checked={rods === answer.rods}
              onChange={() => countRods(answer.rods)}
            />
            <span>{answer.words}</span>
          </label>
        ))}
      </fieldset>
      {rods !== null && rods !== 'unknown' && (
        <fieldset className="lead-choices">
          <legend>{LEADS_QUESTION[rods]}</legend>
          {LEADS[rods].map((answer) => (
            <label key={answer.hookup} className="tick">
              <input
                type="radio"
                name={`${group} leads`}
                checked={hookup === answer.hookup}
                onChange={() => say(answer.hookup)}
              />
              <span>{answer.words}</span>
            </label>
          ))}
        </fieldset>
      )}
      {(rods === null || hookup === 'unknown' || hookup === undefined) && (
        <p className="quiet">
          {rods === 'unknown' ? 'Then ' : 'Until this is answered, '}
          {UNKNOWN_HOOKUP}
        </p>
      )}
    </div>
  );
}
