import { placeByTwoTapes } from '../../../position/two-tapes';
import { uncertainPlaceOf } from '../../../position/uncertain-place';
import { metres } from '../../../survey/wording';
import { type KnownPoint, knownPoints } from '../../state/line-points';
import { typedNumber } from '../../state/typed-value';
import { AskForm } from './AskForm';
import { Field } from './Field';
import { chainageSaid } from './fix-said';
import type { WayProps } from './PointForm';

/** The point lies at two taped distances from two other points of the line. */
export function ByTwoTapes({ content, line, before, chainageText, action, onItem, onCancel }: WayProps) {
  const grids = content.survey.site.local_grids;
  const tapes = before?.kind === 'two_tapes' ? before : null;
  const known = knownPoints(line, content.findings, grids).filter(({ id }) => id !== before?.id);
  // What a tape started at may have been moved since: it is kept as it was written down.
  const kept: readonly KnownPoint[] = tapes
    ? [
        { id: 'first', chainageM: Number.NaN, position: tapes.first },
        { id: 'second', chainageM: Number.NaN, position: tapes.second },
      ]
    : [];
  const choices = [...kept, ...known];
  if (choices.length < 2) {
    return <p>Two tapes need two points of this line that are placed already. Place its ends first.</p>;
  }
  const words = ({ id, chainageM }: KnownPoint) =>
    Number.isNaN(chainageM) ? `as before (${id} point)` : `the point at ${metres(chainageM)}`;
  const choice = (name: string, begin: KnownPoint | undefined, label: string) => (
    <label className="lay-field">
      <span>{label}</span>
      <select name={name} defaultValue={begin?.id}>
        {choices.map((point) => (
          <option key={point.id} value={point.id}>
            {words(point)}
          </option>
        ))}
      </select>
    </label>
  );
  return (
    <AskForm
      label="By two tapes"
      action={action}
      onCancel={onCancel}
      onSaid={(said) => {
        const chainage = chainageSaid(said);
        if (!chainage.ok) return chainage.sentence;
        const [first, second] = ['first', 'second'].map((name) => choices.find(({ id }) => id === said(name)));
        const [one, two] = [typedNumber(said('first tape')), typedNumber(said('second tape'))];
        if (!one.ok) return `First tape: ${one.sentence}`;
        if (!two.ok) return `Second tape: ${two.sentence}`;
        if (!first || !second) return 'Choose the two points that the tapes start at.';
        const side = said('side');
        if (side !== 'left' && side !== 'right')
          return 'Say on which side the point lies, seen from the first to the second.';
        const [from, to] = [uncertainPlaceOf(first.position, grids), uncertainPlaceOf(second.position, grids)];
        if (!from.ok) return from.sentence;
        if (!to.ok) return to.sentence;
        // Tapes that do not meet are refused where they can be measured again.
        const place = placeByTwoTapes(from.value, one.value, to.value, two.value, side);
        if (!place.ok) return place.sentence;
        return onItem({
          kind: 'two_tapes',
          chainage_m: chainage.value,
          first: first.position,
          first_distance_m: one.value,
          second: second.position,
          second_distance_m: two.value,
          side,
        });
      }}
    >
      <Field name="chainage" words="At, m" begin={chainageText} />
      <div className="lay-fields two">
        {choice('first', choices[0], 'First tape from')}
        <Field name="first tape" words="reads, m" begin={tapes ? String(tapes.first_distance_m) : ''} />
        {choice('second', choices[1], 'Second tape from')}
        <Field name="second tape" words="reads, m" begin={tapes ? String(tapes.second_distance_m) : ''} />
      </div>
      <fieldset className="ways">
        <legend>Seen from the first to the second, the point lies to the</legend>
        {(['left', 'right'] as const).map((side) => (
          <label key={side} className="chip">
            <input type="radio" name="side" value={side} defaultChecked={tapes?.side === side} />
            <span>{side}</span>
          </label>
        ))}
      </fieldset>
    </AskForm>
  );
}
