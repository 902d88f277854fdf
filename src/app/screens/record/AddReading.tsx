import { type FormEvent, useId, useState } from 'react';
import { addReading } from '../../../survey/edits';
import type { Hookup } from '../../../survey/hookup';
import type { ReadingId } from '../../../survey/ids';
import type { ReadingUnit } from '../../../survey/units';
import type { Content } from '../../state/app-state';
import { HOOKUP_OPTIONS, UNIT_OPTIONS } from '../../state/cell-edit';
import type { RecordRow } from '../../state/record-rows';
import { typedNumber, typedValue } from '../../state/typed-value';
import { useEdit } from './use-edit';

export interface AddReadingProps {
  readonly content: Content;
  /** The reading at hand: the new one begins with its line, unit, hookup and outing. */
  readonly like: RecordRow | null;
  readonly onAdded: (id: ReadingId) => void;
  readonly onClose: () => void;
}

/** Adds a reading by hand. What it shares with the one at hand is filled in; its place and value never are. */
export function AddReading({ content, like, onAdded, onClose }: AddReadingProps) {
  const edit = useEdit();
  const [refused, setRefused] = useState<string | null>(null);
  const id = useId();
  const lines = content.survey.lines.filter(({ retired }) => !retired);
  const add = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = event.currentTarget;
    const said = new FormData(form);
    const text = (name: string) => String(said.get(name) ?? '');
    const [midpoint, spacing, value] = [
      typedNumber(text('midpoint')),
      typedNumber(text('spacing')),
      typedValue(text('value')),
    ];
    const line = lines.find((one) => one.id === text('line'));
    if (!line) return setRefused('Choose the line.');
    if (!midpoint.ok) return setRefused(`At: ${midpoint.sentence}`);
    if (!spacing.ok) return setRefused(`Spacing: ${spacing.sentence}`);
    if (!value.ok) return setRefused(value.sentence);
    if (text('unit') === '') return setRefused('Choose the unit that the meter showed.');
    const outing = like?.line.id === line.id ? like.reading.outing : null;
    let added: ReadingId | undefined;
    const sentence = await edit((survey, author) => {
      const change = addReading(
        survey,
        {
          line: line.id,
          midpoint_m: midpoint.value,
          spacing_m: spacing.value,
          ...value.value,
          unit: text('unit') as ReadingUnit,
          hookup: (text('hookup') || null) as Hookup | null,
          ...(outing ? { outing } : {}),
        },
        crypto.randomUUID(),
        author,
      );
      if (change.ok) added = change.value.put?.readings?.[0]?.id;
      return change;
    });
    setRefused(sentence);
    if (sentence !== null) return;
    // The next one is most often at the next place of the same line.
    for (const name of ['midpoint', 'value']) {
      const field = form.elements.namedItem(name);
      if (field instanceof HTMLInputElement) field.value = '';
    }
    const first = form.elements.namedItem('midpoint');
    if (added) onAdded(added);
    if (first instanceof HTMLInputElement) first.focus();
  };

  const field = (name: string, words: string, inputMode: 'decimal' | 'text' = 'decimal') => (
    <label>
      <span>{words}</span>
      <input name={name} type="text" inputMode={inputMode} autoComplete="off" />
    </label>
  );
  return (
    <form
      className="add-reading"
      aria-label="Add a reading"
      aria-describedby={refused === null ? undefined : `${id}-refused`}
      onSubmit={(event) => void add(event)}
      onKeyDown={(event) => {
        if (event.key === 'Escape') onClose();
      }}
    >
      <label>
        <span>Line</span>
        <select name="line" defaultValue={like?.line.id ?? lines[0]?.id}>
          {lines.map((line) => (
            <option key={line.id} value={line.id}>
              {line.name}
            </option>
          ))}
        </select>
      </label>
      {field('midpoint', 'At, m')}
      {field('spacing', 'Spacing, m')}
      {field('value', 'Meter showed', 'text')}
      <label>
        <span>Unit</span>
        <select name="unit" defaultValue={like?.reading.unit ?? ''}>
          <option value="">choose</option>
          {UNIT_OPTIONS.map(({ value, words }) => (
            <option key={value} value={value}>
              {words}
            </option>
          ))}
        </select>
      </label>
      <label>
        <span>Hookup</span>
        <select name="hookup" defaultValue={like?.hookup ?? ''}>
          <option value="">as its line</option>
          {HOOKUP_OPTIONS.map(({ value, words }) => (
            <option key={value} value={value}>
              {words}
            </option>
          ))}
        </select>
      </label>
      {refused !== null && (
        <p className="refused" role="alert" id={`${id}-refused`}>
          {refused}
        </p>
      )}
      <div className="reason-buttons">
        <button type="submit" className="line-button strong-button">
          Add
        </button>
        <button type="button" className="line-button" onClick={onClose}>
          Close
        </button>
      </div>
    </form>
  );
}
