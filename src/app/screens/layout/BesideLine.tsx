import type { LineId } from '../../../survey/ids';
import { typedNumber } from '../../state/typed-value';
import { lineWords } from '../../words/line-words';
import { AskForm } from './AskForm';
import { Field } from './Field';
import { chainageSaid } from './fix-said';
import type { WayProps } from './PointForm';

/** The point lies so many metres at right angles beside another line. */
export function BesideLine({ content, line, before, chainageText, action, onItem, onCancel }: WayProps) {
  const others = content.survey.lines.filter(({ id, retired }) => id !== line.id && !retired);
  const was = before?.kind === 'offset' ? before : null;
  if (others.length === 0) return <p>There is no other line yet to measure from.</p>;
  return (
    <AskForm
      label="Beside another line"
      action={action}
      onCancel={onCancel}
      onSaid={(said) => {
        const [chainage, along, beside] = [chainageSaid(said), typedNumber(said('along')), typedNumber(said('beside'))];
        if (!chainage.ok) return chainage.sentence;
        if (!along.ok) return `At its chainage: ${along.sentence}`;
        if (!beside.ok) return `Metres beside it: ${beside.sentence}`;
        const side = said('side');
        if (side !== 'left' && side !== 'right') return 'Say on which side of the other line, looking along it.';
        return onItem({
          kind: 'offset',
          chainage_m: chainage.value,
          base_line: said('base') as LineId,
          base_chainage_m: along.value,
          offset_right_m: side === 'right' ? beside.value : -beside.value,
        });
      }}
    >
      <Field name="chainage" words="At, m" begin={chainageText} />
      <label className="lay-field">
        <span>Beside</span>
        <select name="base" defaultValue={was?.base_line ?? others[0]?.id}>
          {others.map(({ id, name }) => (
            <option key={id} value={id}>
              {lineWords(name)}
            </option>
          ))}
        </select>
      </label>
      <div className="lay-fields">
        <Field name="along" words="at its chainage, m" begin={was ? String(was.base_chainage_m) : ''} />
        <Field name="beside" words="metres beside it" begin={was ? String(Math.abs(was.offset_right_m)) : ''} />
      </div>
      <fieldset className="ways">
        <legend>Looking along the other line, to the</legend>
        {(['left', 'right'] as const).map((side) => (
          <label key={side} className="chip">
            <input
              type="radio"
              name="side"
              value={side}
              defaultChecked={was ? was.offset_right_m < 0 === (side === 'left') : false}
            />
            <span>{side}</span>
          </label>
        ))}
      </fieldset>
    </AskForm>
  );
}
