import { useEffect, useRef } from 'react';
import { KEYPAD_KEYS, type KeypadKey } from '../../field/keypad-state';
import { latinDigits } from '../../state/typed-value';

/** The keys of a keyboard do what the pad does, wherever nobody is typing into a field. */
export function usePadKeys(onKey: (key: KeypadKey) => void, onEnter: () => void): void {
  const now = useRef({ onKey, onEnter });
  useEffect(() => {
    now.current = { onKey, onEnter };
  });
  useEffect(() => {
    const heard = (event: KeyboardEvent): void => {
      if (event.ctrlKey || event.metaKey || event.altKey || isControl(event.target)) return;
      const key = event.key === 'Backspace' ? 'rub_out' : event.key === ',' ? '.' : latinDigits(event.key);
      const pad = event.key === '-' ? 'sign' : KEYPAD_KEYS.find((each) => each === key);
      if (pad) now.current.onKey(pad);
      // Enter on a button is that button's own.
      else if (event.key === 'Enter' && !(event.target instanceof HTMLButtonElement)) now.current.onEnter();
      else return;
      event.preventDefault();
    };
    document.addEventListener('keydown', heard);
    return () => document.removeEventListener('keydown', heard);
  }, []);
}

const isControl = (target: EventTarget | null): boolean =>
  target instanceof HTMLInputElement || target instanceof HTMLSelectElement || target instanceof HTMLTextAreaElement;
