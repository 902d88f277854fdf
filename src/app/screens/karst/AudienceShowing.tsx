import { useState } from 'react';
import type { Showing } from '../../../discretion/classes';

const WORDS = {
  keeper: 'Another keeper sees it',
  planner: 'A planner sees it',
  public: 'Everybody sees it',
} as const;

/** How exactly one audience sees features of a class. Until somebody says otherwise: not at all. */
export function AudienceShowing({ who, before }: { who: keyof typeof WORDS; before: Showing | null }) {
  const [show, setShow] = useState<Showing['show']>(before?.show ?? 'withheld');
  return (
    <>
      <label className="karst-field">
        <span>{WORDS[who]}</span>
        <select
          name={`${who}-show`}
          value={show}
          onChange={({ target }) =>
            setShow(target.value === 'exact' ? 'exact' : target.value === 'generalised' ? 'generalised' : 'withheld')
          }
        >
          <option value="withheld">not at all</option>
          <option value="generalised">by the square that it lies in</option>
          <option value="exact">exactly</option>
        </select>
      </label>
      {show === 'generalised' && (
        <label className="karst-field">
          <span>Side of the squares, m</span>
          <input
            name={`${who}-grid`}
            inputMode="decimal"
            autoComplete="off"
            defaultValue={before?.show === 'generalised' ? before.grid_m : ''}
          />
        </label>
      )}
    </>
  );
}
