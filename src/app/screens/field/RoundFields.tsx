import type { Hookup } from '../../../survey/hookup';
import { counted } from '../../../survey/wording';
import type { FieldPlan } from '../../field/field-plan';
import type { StationsSuggested } from '../../field/suggestions';

export interface RoundFieldsProps {
  readonly hookup: Hookup | null;
  /** What was recorded on this line before. */
  readonly before: FieldPlan | null;
  readonly stations: StationsSuggested | null;
  readonly spacings: readonly number[];
  /** Readings of the line by this hookup from other days. */
  readonly otherDays: number;
}

/** Which spots of a line are read, and in which order. */
export function RoundFields({ hookup, before, stations, spacings, otherDays }: RoundFieldsProps) {
  const [first, second] = before?.stationsM ?? [];
  const begin = {
    from: first ?? stations?.fromM ?? '',
    to: before?.stationsM.at(-1) ?? stations?.toM ?? '',
    step: first !== undefined && second !== undefined ? Math.abs(second - first) : (stations?.stepM ?? ''),
  };
  const number = (name: string, words: string, value: string | number) => (
    <label className="field-line">
      <span>{words}</span>
      <input name={name} type="text" inputMode="decimal" autoComplete="off" defaultValue={value} />
    </label>
  );
  return (
    <>
      <fieldset className="field-answers">
        <legend>Order</legend>
        <label>
          <input type="radio" name="order" value="ladder" defaultChecked={before?.order !== 'traverse'} />
          <span>ladders: all spacings at a station, then the next station</span>
        </label>
        <label>
          <input type="radio" name="order" value="traverse" defaultChecked={before?.order === 'traverse'} />
          <span>profile: one spacing along the whole line, then the next spacing</span>
        </label>
      </fieldset>
      {number('from', 'First station, m', begin.from)}
      {number('to', 'Last station, m', begin.to)}
      {number('step', 'A station every, m', begin.step)}
      <label className="field-line">
        <span>Spacings, m, as they are read</span>
        <input name="spacings" type="text" autoComplete="off" defaultValue={spacings.join(' ')} />
      </label>
      {(hookup === 'dipole_dipole' || hookup === 'pole_dipole') && number('n', 'Separation factor n', before?.n ?? 1)}
      {hookup === 'schlumberger' && number('inner', 'Potential spacing MN, m', before?.innerSpacingM ?? '')}
      {number('rods_from', 'No rod before, m (spots that need one are left out)', before?.rodsFromM ?? '')}
      {number('rods_to', 'No rod beyond, m', before?.rodsToM ?? '')}
      <label className="field-tick">
        <input type="checkbox" name="leapfrog" value="yes" defaultChecked={before?.leapfrog === true} />
        <span>A rod that the next spot needs stays in the ground</span>
      </label>
      {otherDays > 0 && (
        <label className="field-tick">
          <input type="checkbox" name="again" value="yes" defaultChecked={before?.again === true} />
          <span>
            Read again what was read on other days ({counted(otherDays, 'reading')}): both count as repeats. Otherwise
            only what is missing comes up. For another season, use this survey as a template and compare the two.
          </span>
        </label>
      )}
    </>
  );
}
