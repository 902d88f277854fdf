import type { Outing } from '../../../survey/survey';
import { READING_UNITS, type ReadingUnit, UNIT_LABEL } from '../../../survey/units';
import { wallDay } from '../../../wall-clock';

/** Millivolts need their current beside them. */
const unitWords = (unit: ReadingUnit): string => (unit === 'mV' ? 'mV and mA' : UNIT_LABEL[unit]);

/** The meter, the rods and the water of a day. */
export function OutingFields({ outing }: { outing: Outing | null }) {
  const rod = outing?.rods[0];
  const text = (name: string, words: string, begin: string | number, inputMode: 'decimal' | 'text' = 'decimal') => (
    <label className="field-line">
      <span>{words}</span>
      <input name={name} type="text" inputMode={inputMode} autoComplete="off" defaultValue={begin} />
    </label>
  );
  return (
    <>
      {text('name', 'Name of the outing', outing?.name ?? wallDay(new Date()), 'text')}
      {text('people', 'People', outing?.people.join(', ') ?? '', 'text')}
      <fieldset className="field-choices">
        <legend>The meter shows</legend>
        {READING_UNITS.map((unit) => (
          <label key={unit} className="chip">
            <input type="radio" name="unit" value={unit} defaultChecked={outing?.unit === unit} />
            <span>{unitWords(unit)}</span>
          </label>
        ))}
      </fieldset>
      {text('limit', 'Its upper limit, in that unit', outing?.meter?.upper_limit ?? '')}
      <label className="field-line">
        <span>It multiplies by</span>
        <select name="formula" defaultValue={outing?.meter?.formula ?? ''}>
          <option value="">not known</option>
          <option value="two_pi_a">2πa of the spacing it is set to</option>
          <option value="hookup">the full factor of the hookup</option>
        </select>
      </label>
      {text('serial', 'Serial number of the meter', outing?.meter?.serial ?? '', 'text')}
      {text('rod_length', 'Length of the rods, m', rod?.length_m ?? '')}
      {text('rod_radius', 'Radius of the rods, m', rod?.radius_m ?? '')}
      <fieldset className="field-choices">
        <legend>Rods are, unless said otherwise</legend>
        {(
          [
            ['none', 'dry'],
            ['water', 'wetted'],
          ] as const
        ).map(([wetting, words]) => (
          <label key={wetting} className="chip">
            <input
              type="radio"
              name="wetting"
              value={wetting}
              defaultChecked={(outing?.wetting ?? 'none') === wetting}
            />
            <span>{words}</span>
          </label>
        ))}
      </fieldset>
      <label className="field-tick">
        <input type="checkbox" name="salt" value="yes" defaultChecked={outing?.salt_water_allowed === true} />
        <span>The landowner and the rules of this place allow salt water</span>
      </label>
    </>
  );
}
