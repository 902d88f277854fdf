import { quantityOf } from '../../../survey/units';
import { metres } from '../../../survey/wording';
import { type FieldRecord, rodsAt } from '../../field/field-record';
import { BEFORE_EVERY_TOUCH } from '../../field/over-range-path';
import { type Spot, stationBeside } from '../../field/round';

export interface SpotHeadProps {
  readonly record: FieldRecord;
  readonly spot: Spot;
  /** How many readings this spot has already on this day. */
  readonly repeat: number;
  /** The spacing that the meter is said to be set to, where it differs. */
  readonly meterSpacingM: number | null;
  /** A caution that is said elsewhere on this screen is not said twice. */
  readonly saidElsewhere: boolean;
  readonly onChoose: (spot: Spot) => void;
}

/** Where the rods go and what the meter is set to, before the figure is taken. */
export function SpotHead({ record, spot, repeat, meterSpacingM, saidElsewhere, onChoose }: SpotHeadProps) {
  const { plan, unit } = record;
  const rods = rodsAt(record, spot);
  const back = stationBeside(plan, spot, -1);
  const ahead = stationBeside(plan, spot, 1);
  const spacings = plan.spacingsM.includes(spot.spacingM) ? plan.spacingsM : [...plan.spacingsM, spot.spacingM];
  return (
    <section className="spot" aria-label="The reading to take">
      <div className="spot-place">
        <button
          type="button"
          className="line-button"
          aria-label={`Back to ${metres(back.stationM)}`}
          disabled={back.stationM === spot.stationM}
          onClick={() => onChoose(back)}
        >
          ‹
        </button>
        <p className="spot-station">
          <span className="spot-word">station</span> <strong>{metres(spot.stationM)}</strong>
        </p>
        <button
          type="button"
          className="line-button"
          aria-label={`On to ${metres(ahead.stationM)}`}
          disabled={ahead.stationM === spot.stationM}
          onClick={() => onChoose(ahead)}
        >
          ›
        </button>
        <label className="spot-spacing">
          <span className="spot-word">spacing</span>{' '}
          <select
            value={spot.spacingM}
            onChange={(event) => onChoose({ ...spot, spacingM: Number(event.target.value) })}
          >
            {spacings.map((spacing) => (
              <option key={spacing} value={spacing}>
                {metres(spacing)}
              </option>
            ))}
          </select>
        </label>
      </div>
      <p className="spot-set">
        {quantityOf(unit) === 'resistivity' ? (
          <span>
            Set meter to <strong>{metres(meterSpacingM ?? spot.spacingM)}</strong>
            {meterSpacingM !== null && ' (not the true spacing)'}
          </span>
        ) : (
          <span>{unit === 'mV' ? 'mV and mA' : 'Ohms'}: no spacing to set</span>
        )}
        <span>rods {rods.map((rod) => String(Number(rod.toFixed(3))).replace('-', '−')).join(', ')} m</span>
        {repeat > 0 && <strong className="spot-repeat">repeat {repeat}</strong>}
      </p>
      {!saidElsewhere && <p className="spot-touch">{BEFORE_EVERY_TOUCH} Then the rods.</p>}
    </section>
  );
}
