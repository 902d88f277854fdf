import type { ReadingUnit } from '../../../survey/units';
import { ohmMetres, shownText } from '../../../survey/wording';
import type { KeypadState } from '../../field/keypad-state';
import { type Expected, unitMeant } from '../../field/unit-check';

const AGAINST: Record<Expected['what'], string> = {
  reference: 'the reference at this spacing',
  neighbours: 'its neighbours at this spacing',
  ladder: 'the next spacing at this station',
};

export interface UnitQuestionProps {
  readonly question: NonNullable<KeypadState['question']>;
  readonly unit: ReadingUnit;
  /** Keeps it, in another unit where the meter had switched. */
  readonly onKeep: (unit: ReadingUnit, note: string) => void;
  readonly onTypeAgain: () => void;
}

/** Asked loudly, since a thousandfold slip cannot be seen afterwards: kilo-ohms read as ohms, or the other way. */
export function UnitQuestion({ question: { value, slip }, unit, onKeep, onTypeAgain }: UnitQuestionProps) {
  const meant = unitMeant(unit, slip);
  const far = slip.factor === 1000 ? 'a thousandth of' : 'a thousand times';
  return (
    <section className="unit-question" role="alertdialog" aria-label="A thousand times too large or too small?">
      <h2>{shownText(value, unit)}?</h2>
      <p>
        That is about {far} {AGAINST[slip.against.what]}, {ohmMetres(slip.against.figureOhmM)}. Look at the meter again:
        which unit does it show?
      </p>
      <div className="try-row">
        {meant && (
          <button type="button" className="line-button strong-button" onClick={() => onKeep(meant, '')}>
            It shows {shownText(value, meant)}
          </button>
        )}
        <button
          type="button"
          className="line-button"
          onClick={() => onKeep(unit, `About ${far} ${AGAINST[slip.against.what]}; the meter was looked at again.`)}
        >
          It does show {shownText(value, unit)}
        </button>
        <button type="button" className="line-button" onClick={onTypeAgain}>
          Type it again
        </button>
      </div>
    </section>
  );
}
