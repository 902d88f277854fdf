import { readNumber } from '../../exchange/read/number-text';
import { done, type Outcome, refuse } from '../../survey/outcome';
import type { Reading } from '../../survey/survey';

/** A number typed by hand, with a decimal point or comma. `1,234` may be either and is refused. */
export function typedNumber(text: string): Outcome<number> {
  const typed = text.trim();
  const withPoint = readNumber(typed, '.');
  if (withPoint !== null) return done(withPoint);
  if (/^[+-]?\d{1,3},\d{3}$/.test(typed)) {
    const [thousand, decimal] = [typed.replace(',', ''), typed.replace(',', '.')];
    return refuse(
      'ambiguous_number',
      `“${typed}” may be ${thousand} or ${decimal}. Write it with a point, or without.`,
    );
  }
  const withComma = readNumber(typed, ',');
  if (withComma !== null) return done(withComma);
  return refuse('not_a_number', typed === '' ? 'Type a number.' : `“${typed}” is not a number.`);
}

const OVER_RANGE = /^(?:o[./]?l\.?|over(?: ?range)?|>)$/i;

/** What a value cell may hold: a number, or that the meter ran over range, with its limit where it is said. */
export function typedValue(text: string): Outcome<Pick<Reading, 'value' | 'status' | 'limit'>> {
  const typed = text.trim();
  if (OVER_RANGE.test(typed)) return done({ value: null, status: 'over_range', limit: null });
  const limit = /^>(.+)$/.exec(typed)?.[1];
  if (limit !== undefined) {
    const above = typedNumber(limit);
    return above.ok ? done({ value: null, status: 'over_range', limit: above.value }) : above;
  }
  const number = typedNumber(typed);
  if (number.ok) return done({ value: number.value, status: 'ok', limit: null });
  if (number.code === 'ambiguous_number') return number;
  return refuse('not_a_number', 'Type the number that the meter showed, or “over” where it showed none.');
}
