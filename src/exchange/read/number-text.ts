import { LONGEST_WORD } from './vocabulary';

export type DecimalSign = '.' | ',';

/** `1,234` may be a thousand and more, or one and a bit; no thousands begin with a nought. */
export const mayBeThousands = (text: string): boolean => /^[+-]?[1-9]\d{0,2},\d{3}$/.test(text);

const PLAIN = /^-?\d+(?:\.\d+)?$/;
const SPACES = /[ \u00a0\u2007\u2008\u2009\u200a\u202f]/g;
const MINUS = /[\u2212\u2010\u2011\u2012\u2013\ufe63\uff0d]/;

/**
 * A number as people and spreadsheets write it; null for anything else (words, NaN, Infinity, 0x10, an empty text).
 *
 * Taken: a sign (also the Unicode minus), an exponent, groups of exactly three digits parted by spaces (also thin and
 * no-break ones) or apostrophes.
 * The other mark (`,` where the decimal sign is `.`, and the reverse) parts thousands only where no doubt is left:
 * twice or more (`1,234,567`), or before a decimal sign (`1,234.5`). Alone it is refused: `1,234` may be either.
 */
export function readNumber(text: string, decimal: DecimalSign): number | null {
  // Most cells of most tables; the rest of the way is slow.
  if (text.length > LONGEST_WORD) return null;
  if (decimal === '.' && PLAIN.test(text)) return finite(text);

  let t = text.trim().replace(MINUS, '-').replace(SPACES, ' ').replace(/[’]/g, "'");
  const parts = /^([+-]?) ?([\d.,' ]+)((?:[eE][+-]?\d+)?)$/.exec(t);
  if (!parts) return null;
  const [, sign = '', digits = '', exponent = ''] = parts;
  const pieces = digits.split(decimal);
  if (pieces.length > 2) return null;
  const [whole = '', fraction] = pieces;
  if (fraction !== undefined && !/^\d*$/.test(fraction)) return null;
  if (whole === '' && !fraction) return null;

  const other = decimal === '.' ? ',' : '.';
  const mark = [' ', "'", other].find((candidate) => whole.includes(candidate));
  if (mark === undefined) {
    if (!/^\d*$/.test(whole)) return null;
  } else {
    const groups = whole.split(mark);
    if (!groups.every((group, i) => (i === 0 ? /^\d{1,3}$/ : /^\d{3}$/).test(group))) return null;
    if (mark === other && groups.length === 2 && fraction === undefined) return null;
  }
  t = `${sign}${whole.replace(/\D/g, '') || '0'}.${fraction || '0'}${exponent}`;
  return finite(t);
}

function finite(text: string): number | null {
  const value = Number(text);
  return Number.isFinite(value) ? value : null;
}

/**
 * The decimal sign that a file's number cells use, judged by the cells that have just one mark between digits.
 * A mark before exactly three digits counts only where the cells are not parted by commas, since `1,234` in a comma file
 * is more often a thousand.
 */
export function guessDecimalSign(cells: Iterable<string>, delimiter: string): DecimalSign {
  let commas = 0;
  let points = 0;
  for (const cell of cells) {
    if (cell.length > LONGEST_WORD) continue;
    const t = cell.trim();
    if (/^[-+\u2212]?\d+\.\d+(?:[eE][-+]?\d+)?$/.test(t)) points += 1;
    else if (/^[-+\u2212]?\d+,\d+(?:[eE][-+]?\d+)?$/.test(t) && (delimiter !== ',' || !/,\d{3}$/.test(t))) commas += 1;
    // Both marks: the later one is the decimal sign.
    else if (/^[-+\u2212]?\d{1,3}(?:\.\d{3})+,\d+$/.test(t)) commas += 1;
  }
  return commas > points ? ',' : '.';
}
