import { KEYPAD_KEYS, type KeypadKey } from '../../field/keypad-state';

export interface NumberPadProps {
  readonly typed: string;
  readonly unit: string;
  /** What the wide key at the side says. */
  readonly overRangeWords: string;
  readonly onKey: (key: KeypadKey) => void;
  readonly onOverRange: () => void;
  readonly onKeep: () => void;
}

/** Digits for a thumb: what was typed above, and two keys at the side that end a reading. */
export function NumberPad({ typed, unit, overRangeWords, onKey, onOverRange, onKeep }: NumberPadProps) {
  return (
    <div className="number-pad">
      <output className="typed" aria-label="The meter shows">
        <span className="typed-digits">{typed === '' ? '–' : typed}</span> <span className="typed-unit">{unit}</span>
      </output>
      <div className="digits">
        {KEYPAD_KEYS.map((key) => (
          <button
            key={key}
            type="button"
            className="digit"
            aria-label={key === 'rub_out' ? 'Rub out' : undefined}
            onClick={() => onKey(key)}
          >
            {key === 'rub_out' ? <RubOut /> : key}
          </button>
        ))}
      </div>
      <div className="ending-keys">
        <button type="button" className="over-key" onClick={onOverRange}>
          {overRangeWords}
        </button>
        <button type="button" className="keep-key" disabled={typed === ''} onClick={onKeep}>
          Keep
        </button>
      </div>
    </div>
  );
}

function RubOut() {
  return (
    <svg viewBox="0 0 32 24" width="32" height="24" aria-hidden="true">
      <path d="M11 3h18v18H11L3 12z M16 8l8 8 M24 8l-8 8" fill="none" stroke="currentColor" strokeWidth="2" />
    </svg>
  );
}
