import { useState } from 'react';
import { isAmbiguous, typedNumber } from '../../state/typed-value';

export interface TypedFieldProps {
  readonly words: string;
  readonly said: string;
  readonly numeric: boolean;
  /** Whether it is in the way until it is said. */
  readonly needed?: boolean;
  readonly onSay: (text: string) => void;
}

/** A word or number to type. A number is said with a point, however it was typed; what may be two numbers is said as it stands. */
export function TypedField({ words, said, numeric, needed = false, onSay }: TypedFieldProps) {
  const [text, setText] = useState(said);
  const number = numeric ? typedNumber(text) : null;
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
          onSay(numeric ? plainNumber(typed) : typed);
        }}
      />
      {isAmbiguous(number) && <span role="alert">{number.sentence}</span>}
    </label>
  );
}

function plainNumber(typed: string): string {
  const number = typedNumber(typed);
  return number.ok ? String(number.value) : typed;
}
