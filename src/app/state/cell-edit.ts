import type { ReadingCorrection } from '../../survey/edits';
import { HOOKUP_LABEL, HOOKUPS, type Hookup } from '../../survey/hookup';
import { done, type Outcome, refuse } from '../../survey/outcome';
import type { Wetting } from '../../survey/survey';
import { READING_UNITS, type ReadingUnit, UNIT_LABEL } from '../../survey/units';
import { shownValueWords, WETTING_WORDS } from '../words/record-words';
import type { RecordColumn, RecordRow } from './record-rows';
import { typedNumber, typedValue } from './typed-value';

export interface Option {
  readonly value: string;
  readonly words: string;
}

/** How a cell is edited: by typing, or by choosing. */
export type CellEditing =
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'choice'; readonly value: string; readonly options: readonly Option[] };

const HOOKUP_OPTIONS: readonly Option[] = HOOKUPS.map((value) => ({ value, words: HOOKUP_LABEL[value] }));
const UNIT_OPTIONS: readonly Option[] = READING_UNITS.map((value) => ({ value, words: UNIT_LABEL[value] }));
const WETTINGS = Object.keys(WETTING_WORDS) as Wetting[];
const WETTING_OPTIONS: readonly Option[] = WETTINGS.map((value) => ({ value, words: WETTING_WORDS[value] }));

export { HOOKUP_OPTIONS, UNIT_OPTIONS };

/** What the editor of a cell begins with; null for a cell that is computed, or that the reading's own electrodes or place set. */
export function cellEditing({ reading, hookup, wetting }: RecordRow, column: RecordColumn): CellEditing | null {
  const placedOtherwise = Boolean(reading.electrodes ?? reading.position);
  switch (column) {
    case 'chainage':
      return placedOtherwise ? null : { kind: 'text', text: numberText(reading.midpoint_m) };
    case 'spacing':
      return reading.electrodes ? null : { kind: 'text', text: numberText(reading.spacing_m) };
    case 'value':
      return { kind: 'text', text: reading.value === null && !reading.limit ? 'over' : shownValueWords(reading) };
    case 'unit':
      return { kind: 'choice', value: reading.unit, options: UNIT_OPTIONS };
    case 'hookup':
      return { kind: 'choice', value: hookup, options: HOOKUP_OPTIONS };
    case 'wetting':
      return { kind: 'choice', value: wetting, options: WETTING_OPTIONS };
    default:
      return null;
  }
}

const numberText = (value: number | null | undefined): string => (typeof value === 'number' ? String(value) : '');

/** The correction that a cell's text asks for; null when it says what is there already. */
export function cellCorrection(row: RecordRow, column: RecordColumn, text: string): Outcome<ReadingCorrection | null> {
  const { reading } = row;
  const before = cellEditing(row, column);
  if (!before)
    return refuse('not_editable', 'This is computed, so it cannot be typed over. Correct what it comes from.');
  if (text.trim() === (before.kind === 'text' ? before.text : before.value)) return done(null);
  switch (column) {
    case 'chainage': {
      const midpoint = typedNumber(text);
      return midpoint.ok ? done({ midpoint_m: midpoint.value }) : midpoint;
    }
    case 'spacing': {
      const spacing = typedNumber(text);
      return spacing.ok ? done({ spacing_m: spacing.value }) : spacing;
    }
    case 'value': {
      const typed = typedValue(text);
      if (!typed.ok) return typed;
      const { status, limit, ...value } = typed.value;
      // A rejected reading stays rejected, whatever it showed; a limit that was known is kept beside a value.
      const state = reading.status === 'rejected' ? {} : { status };
      return done({ ...value, ...state, ...(limit === null ? {} : { limit }) });
    }
    case 'unit':
      return done({ unit: text as ReadingUnit });
    case 'hookup':
      return done({ hookup: text as Hookup });
    case 'wetting':
      return done({ wetting: text as Wetting });
    default:
      return done(null);
  }
}
