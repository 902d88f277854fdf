import { useState } from 'react';

export interface TypedFieldProps {
  readonly words: string;
  readonly said: string;
  readonly numeric: boolean;
  /** Whether it is in the way until it is said. */
  readonly needed?: boolean;
  readonly onSay: (text: string) => void;
}

/** A word or number to type. A decimal comma is taken for a point. */
export function TypedField({ words, said, numeric, needed = false, onSay }: TypedFieldProps) {
  const [text, setText] = useState(said);
  return (
    <label className="field" data-needed={needed}>
      <span>{words}</span>
      <input
        type="text"
        inputMode={numeric ? 'decimal' : 'text'}
        autoComplete="off"
        value={text}
        onChange={(event) => {
          const typed = event.target.value;
          setText(typed);
          onSay(numeric ? typed.replace(',', '.') : typed);
        }}
      />
    </label>
  );
}
