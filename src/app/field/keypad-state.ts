import type { Wetting } from '../../survey/survey';
import type { OnPath } from './over-range-path';
import { isSameSpot, type Spot } from './round';
import type { ThousandfoldSlip } from './unit-check';

/** What is being entered. Everything but the digits begins anew with every reading. */
export interface KeypadState {
  readonly typed: string;
  /** Milliamperes, where the meter shows millivolts: digits as typed. */
  readonly current: string;
  /** Which of the two numbers the keys write. */
  readonly entering: 'value' | 'current';
  /** The spot that somebody chose; null = the one that comes up. */
  readonly chosen: Spot | null;
  /** Null = as on the whole day. */
  readonly wetting: Wetting | null;
  readonly reDriven: readonly number[];
  readonly drivenDepthM: number | null;
  readonly meterSpacingM: number | null;
  readonly note: string;
  /** Where a reading over range has come to on its path; null = not on it. */
  readonly overRange: OnPath | null;
  /** A figure that looks like a slip of a thousand, waiting for an answer. */
  readonly question: { readonly value: number; readonly slip: ThousandfoldSlip } | null;
}

export const NOTHING_ENTERED: KeypadState = {
  typed: '',
  current: '',
  entering: 'value',
  chosen: null,
  wetting: null,
  reDriven: [],
  drivenDepthM: null,
  meterSpacingM: null,
  note: '',
  overRange: null,
  question: null,
};

export const KEYPAD_KEYS = ['1', '2', '3', '4', '5', '6', '7', '8', '9', '.', '0', 'rub_out'] as const;
/** The pad's own keys, and the one that turns the sign. */
export type KeypadKey = (typeof KEYPAD_KEYS)[number] | 'sign';

export type KeypadAction =
  | { readonly type: 'key'; readonly key: KeypadKey }
  | { readonly type: 'enter'; readonly entering: KeypadState['entering'] }
  | { readonly type: 'choose'; readonly spot: Spot }
  /** The same spot once more, with what was changed there. */
  | { readonly type: 'again'; readonly spot: Spot; readonly wetting?: Wetting; readonly reDriven?: readonly number[] }
  | { readonly type: 'wetting'; readonly wetting: Wetting | null }
  | { readonly type: 're_driven'; readonly rod: number }
  | { readonly type: 'driven_depth'; readonly depthM: number | null }
  | { readonly type: 'meter_spacing'; readonly spacingM: number | null }
  | { readonly type: 'note'; readonly note: string }
  | { readonly type: 'ask'; readonly question: KeypadState['question'] }
  | { readonly type: 'over_range'; readonly spot: Spot; readonly path: OnPath }
  | { readonly type: 'kept' };

/** More digits than a meter shows are a slip of the finger. */
const MOST_DIGITS = 8;

export function reduceKeypad(state: KeypadState, action: KeypadAction): KeypadState {
  switch (action.type) {
    case 'key':
      return state.entering === 'current'
        ? { ...state, current: typedAfter(state.current, action.key), question: null }
        : { ...state, typed: typedAfter(state.typed, action.key), question: null };
    case 'enter':
      return { ...state, entering: action.entering, question: null };
    case 'choose':
      if (state.chosen && isSameSpot(state.chosen, action.spot)) return state;
      return {
        ...NOTHING_ENTERED,
        typed: state.typed,
        current: state.current,
        entering: state.entering,
        chosen: action.spot,
      };
    case 'again':
      return {
        ...NOTHING_ENTERED,
        chosen: action.spot,
        wetting: action.wetting ?? null,
        reDriven: action.reDriven ?? [],
      };
    case 'wetting':
      return { ...state, wetting: action.wetting };
    case 're_driven': {
      const { rod } = action;
      const has = state.reDriven.includes(rod);
      return { ...state, reDriven: has ? state.reDriven.filter((other) => other !== rod) : [...state.reDriven, rod] };
    }
    case 'driven_depth':
      return { ...state, drivenDepthM: action.depthM };
    case 'meter_spacing':
      return { ...state, meterSpacingM: action.spacingM };
    case 'note':
      return { ...state, note: action.note };
    case 'ask':
      return { ...state, question: action.question };
    case 'over_range':
      return {
        ...state,
        typed: '',
        current: '',
        entering: 'value',
        question: null,
        reDriven: [],
        chosen: action.spot,
        overRange: action.path,
      };
    case 'kept':
      return NOTHING_ENTERED;
  }
}

function typedAfter(typed: string, key: KeypadKey): string {
  if (key === 'rub_out') return typed.slice(0, -1);
  // Leads the other way round show less than nothing: the sign is written down as the meter shows it.
  if (key === 'sign') return typed.startsWith('-') ? typed.slice(1) : `-${typed}`;
  const sign = typed.startsWith('-') ? '-' : '';
  const digits = typed.slice(sign.length);
  if (key === '.') return digits.includes('.') ? typed : `${sign}${digits === '' ? '0' : digits}.`;
  if (digits.replace('.', '').length >= MOST_DIGITS) return typed;
  return digits === '0' ? sign + key : typed + key;
}

/** The number that the digits make; null while they make none. */
export function typedFigure(typed: string): number | null {
  const number = /\d/.test(typed) ? Number(typed) : Number.NaN;
  return Number.isFinite(number) ? number : null;
}
