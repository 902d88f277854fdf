import { typedNumber } from '../../state/typed-value';

export interface NoteFormProps {
  readonly note: string;
  readonly meterSpacingM: number | null;
  readonly onNote: (note: string) => void;
  readonly onMeterSpacing: (spacingM: number | null) => void;
  readonly onClose: () => void;
}

/** What is rarely said of a reading, before it is kept: a note, and a meter that was set to another spacing. */
export function NoteForm({ note, meterSpacingM, onNote, onMeterSpacing, onClose }: NoteFormProps) {
  return (
    <section className="note-form" aria-label="Note">
      <label>
        <span>Note for this reading</span>
        <input type="text" value={note} onChange={(event) => onNote(event.target.value)} />
      </label>
      <label>
        <span>Meter set to another spacing, m</span>
        <input
          type="text"
          inputMode="decimal"
          autoComplete="off"
          defaultValue={meterSpacingM ?? ''}
          onChange={(event) => {
            const spacing = typedNumber(event.target.value);
            onMeterSpacing(spacing.ok && spacing.value > 0 ? spacing.value : null);
          }}
        />
      </label>
      <button type="button" className="line-button" onClick={onClose}>
        Done
      </button>
    </section>
  );
}
