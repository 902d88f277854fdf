import { mayBeThousands, readNumber } from '../../exchange/read/number-text';
import { done, type Outcome, refuse } from '../../survey/outcome';
import type { Reading } from '../../survey/survey';

/** Digits of Arabic (two kinds) and of Devanagari, as keyboards of these scripts write them. */
const OTHER_DIGIT = /[\u0660-\u0669\u06f0-\u06f9\u0966-\u096f]/g;

/** A text with the digits and the number signs of other scripts as 0 to 9, a point, and apostrophes between thousands. */
export const latinDigits = (text: string): string =>
  text
    .replace(OTHER_DIGIT, (digit) => String((digit.charCodeAt(0) - (digit < '\u0966' ? 0 : 6)) & 0xf))
    .replaceAll('\u066b', '.')
    .replaceAll('\u066c', "'");

/** A number typed by hand, with a decimal point or comma, in digits of any of these scripts. `1,234` may be two numbers and is refused. */
export function typedNumber(text: string): Outcome<number> {
  const typed = latinDigits(text.trim());
  const withPoint = readNumber(typed, '.');
  if (withPoint !== null) return done(withPoint);
  if (mayBeThousands(typed)) {
    const [thousand, decimal] = [typed.replace(',', ''), typed.replace(',', '.')];
    return refuse(
      'ambiguous_number',
      `“${typed}” may be ${thousand} or ${decimal}. Write it as one of these, or as ${typed}0.`,
    );
  }
  const withComma = readNumber(typed, ',');
  if (withComma !== null) return done(withComma);
  return refuse('not_a_number', typed === '' ? 'Type a number.' : `“${typed}” is not a number.`);
}

/** Whether a text may be two numbers, and so has to be typed in another way. */
export const isAmbiguous = (outcome: Outcome<unknown> | null): outcome is Extract<Outcome<never>, { ok: false }> =>
  outcome?.ok === false && outcome.code === 'ambiguous_number';

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
  if (isAmbiguous(number)) return number;
  return refuse('not_a_number', 'Type the number that the meter showed, or “over” where it showed none.');
}
