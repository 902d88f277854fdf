import type { Wetting } from '../../../survey/survey';
import type { KeypadState } from '../../field/keypad-state';

export interface ReadingChipsProps {
  readonly state: KeypadState;
  readonly rodCount: number;
  /** How every rod is wetted on this day. */
  readonly usual: Wetting;
  readonly canRepeat: boolean;
  readonly noting: boolean;
  readonly onAgain: () => void;
  readonly onWetting: (wetting: Wetting | null) => void;
  readonly onReDriven: (rod: number) => void;
  readonly onNote: () => void;
}

/** What may be true of this one reading, each with one tap before its digits. */
export function ReadingChips(props: ReadingChipsProps) {
  const { state, rodCount, usual, canRepeat, noting, onAgain, onWetting, onReDriven, onNote } = props;
  const otherwise: Wetting = usual === 'none' ? 'water' : 'none';
  const isOtherwise = state.wetting !== null && state.wetting !== usual;
  return (
    <div className="reading-chips">
      <button type="button" className="toggle" disabled={!canRepeat} onClick={onAgain}>
        Again
      </button>
      <button
        type="button"
        className="toggle"
        aria-pressed={isOtherwise}
        onClick={() => onWetting(isOtherwise ? null : otherwise)}
      >
        {usual === 'none' ? 'Wetted' : 'Not wetted'}
      </button>
      {Array.from({ length: rodCount }, (_, i) => i + 1).map((rod) => (
        <button
          key={rod}
          type="button"
          className="toggle"
          aria-pressed={state.reDriven.includes(rod)}
          onClick={() => onReDriven(rod)}
        >
          Rod {rod} <span className="one-word">re-driven</span>
        </button>
      ))}
      <button type="button" className="toggle" aria-pressed={noting || state.note !== ''} onClick={onNote}>
        Note
      </button>
    </div>
  );
}
