import { KEYPAD_KEYS, type KeypadKey } from '../../field/keypad-state';

export interface NumberPadProps {
  readonly typed: string;
  readonly unit: string;
  /** Milliamperes that go with it, where the meter shows millivolts; else null. */
  readonly current: string | null;
  readonly entering: 'value' | 'current';
  readonly canKeep: boolean;
  /** What the wide key at the side says; null = there is nothing left to try over range. */
  readonly overRangeWords: string | null;
  readonly onKey: (key: KeypadKey) => void;
  readonly onOverRange: () => void;
  readonly onKeep: () => void;
  readonly onEnter: (entering: 'value' | 'current') => void;
}

/** Digits for a thumb: what was typed above, and two keys at the side that end a reading. */
export function NumberPad(props: NumberPadProps) {
  const { typed, unit, current, entering, canKeep, overRangeWords, onKey, onOverRange, onKeep, onEnter } = props;
  const currentNext = current !== null && entering === 'value';
  return (
    <div className="number-pad">
      <div className="typed">
        <button type="button" className="sign-key" aria-label="Plus or minus" onClick={() => onKey('sign')}>
          ±
        </button>
        <output aria-label="The meter shows" data-entering={entering === 'value' || undefined}>
          <span className="typed-digits">{shown(typed)}</span> <span className="typed-unit">{unit}</span>
        </output>
        {current !== null && (
          <button
            type="button"
            className="typed-current"
            aria-label={`Current: ${current === '' ? 'not typed' : current} mA`}
            aria-pressed={entering === 'current'}
            onClick={() => onEnter(entering === 'current' ? 'value' : 'current')}
          >
            <span className="typed-digits">{shown(current)}</span> <span className="typed-unit">mA</span>
          </button>
        )}
      </div>
      <div className="digits">
        {KEYPAD_KEYS.map((key) => (
          <button
            key={key}
            type="button"
            className="digit"
            aria-label={key === 'rub_out' ? 'Delete the last digit' : undefined}
            onClick={() => onKey(key)}
          >
            {key === 'rub_out' ? <RubOut /> : key}
          </button>
        ))}
      </div>
      <div className="ending-keys">
        <button type="button" className="over-key" disabled={overRangeWords === null} onClick={onOverRange}>
          {overRangeWords ?? 'Over range'}
        </button>
        <button type="button" className="keep-key" disabled={!canKeep} onClick={onKeep}>
          {currentNext ? 'then mA' : 'Keep'}
        </button>
      </div>
    </div>
  );
}

/** With a minus that is as wide as the digits. */
const shown = (typed: string): string => (typed === '' ? '–' : typed.replace('-', '−'));

function RubOut() {
  return (
    <svg viewBox="0 0 32 24" width="32" height="24" aria-hidden="true">
      <path d="M11 3h18v18H11L3 12z M16 8l8 8 M24 8l-8 8" fill="none" stroke="currentColor" strokeWidth="2" />
    </svg>
  );
}
