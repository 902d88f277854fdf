import { useId } from 'react';

export interface FieldProps {
  readonly name: string;
  readonly words: string;
  readonly begin?: string;
  readonly inputMode?: 'decimal' | 'text';
  readonly type?: 'text' | 'date';
  readonly hint?: string;
  readonly onChange?: (text: string) => void;
}

/** A word or number to type, with its name above it and what it may be below. */
export function Field({ name, words, begin = '', inputMode = 'decimal', type = 'text', hint, onChange }: FieldProps) {
  const id = useId();
  return (
    <div className="lay-field">
      <label htmlFor={id}>{words}</label>
      <input
        id={id}
        name={name}
        type={type}
        inputMode={inputMode}
        autoComplete="off"
        defaultValue={begin}
        aria-describedby={hint === undefined ? undefined : `${id}-hint`}
        onChange={(event) => onChange?.(event.target.value)}
      />
      {hint !== undefined && (
        <span className="quiet" id={`${id}-hint`}>
          {hint}
        </span>
      )}
    </div>
  );
}
