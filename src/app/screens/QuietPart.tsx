import { type FormEvent, useId, useState } from 'react';
import type { LineId } from '../../survey/ids';
import { referToQuietPart } from '../../survey/reference-edits';
import type { Content } from '../state/app-state';
import { isAmbiguous, typedNumber } from '../state/typed-value';
import { lineWords } from '../words/line-words';
import { Field } from './layout/Field';
import { useEdit } from './record/use-edit';

/** Where no reference place was read: the quiet part of a line stands in for one, with what that costs. */
export function QuietPart({ content }: { content: Content }) {
  const edit = useEdit();
  const id = useId();
  const [said, setSaid] = useState('');
  const lines = content.survey.lines.filter(({ retired }) => !retired);
  if (lines.length === 0) return null;

  const mark = async (event: FormEvent<HTMLFormElement>): Promise<void> => {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    const line = lines.find((each) => each.id === (form.get('line') as LineId));
    const [from, to] = [typedNumber(String(form.get('from') ?? '')), typedNumber(String(form.get('to') ?? ''))];
    if (!line || !from.ok || !to.ok) {
      const unsure = [from, to].find(isAmbiguous);
      setSaid(unsure ? unsure.sentence : 'Say from which metre to which, as numbers.');
      return;
    }
    const [fromM, toM] = [from.value, to.value];
    const refused = await edit((survey, author) => referToQuietPart(survey, { line, fromM, toM }, author));
    setSaid(refused ?? `${lineWords(line.name)} from ${fromM} to ${toM} m is a reference now. Undo takes it back.`);
  };

  return (
    <details>
      <summary>Use a quiet part of a line as reference</summary>
      <form className="quiet-part" onSubmit={mark}>
        <p>
          For want of a place far away. What lies under this part will not show, and what the whole line shares is taken
          for quiet ground.
        </p>
        <label htmlFor={`${id}-line`}>Line</label>
        <select id={`${id}-line`} name="line">
          {lines.map((line) => (
            <option key={line.id} value={line.id}>
              {lineWords(line.name)}
            </option>
          ))}
        </select>
        <Field name="from" words="From, m" />
        <Field name="to" words="To, m" />
        <button type="submit" className="line-button">
          Use it as reference
        </button>
        <p role="status">{said}</p>
      </form>
    </details>
  );
}
