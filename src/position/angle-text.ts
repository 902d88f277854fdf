// A CommonJS package whose names Node cannot see: only its default export is there everywhere.
import dms from 'geographiclib-dms';
import { done, type Outcome, refuse } from '../survey/outcome';

/** An angle read from text. */
export interface AngleText {
  /** Degrees, negative to the south and west; not checked against a range. */
  readonly deg: number;
  /** What a hemisphere letter says the angle is; null without one. */
  readonly axis: 'lon' | 'lat' | null;
  /** Whether the text was more than a plain decimal number, so that it is worth keeping as entered. */
  readonly composed: boolean;
}

/** No angle is longer; a longer text would cost the patterns its square. */
const LONGEST = 100;

const PLAIN = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;

// Whole words first: a lone O is east to some (Ost) and west to others (Ouest, Oeste), so it is refused.
const WORDS: readonly (readonly [RegExp, string])[] = [
  [/north|nord|norte/gi, 'N'],
  [/south|süd|sud|sur/gi, 'S'],
  [/oeste|ouest|west/gi, 'W'],
  [/east|este|est|osten|ost/gi, 'E'],
];

/**
 * Signs and letters to the few that are read below: d ' " for the parts, one of N S E W, a decimal point.
 * The grave accent is turned here because the library takes it for a degree sign.
 */
function normalise(text: string): string {
  let t = text
    .replace(/[\u00a0\u2000-\u200b\u202f\u2060\ufeff]/g, ' ')
    .replace(/[\u2212\u2010\u2011\u2012\u2013\u2014\ufe63\uff0d]/g, '-')
    .replace(/[°º˚∘⁰]/g, 'd')
    .replace(/''|´´|‘‘|’’|′′/g, '"')
    .replace(/[′‵´`‘’‛ʹˊˋ]/g, "'")
    .replace(/[″‶˝“”‟ʺ]/g, '"')
    .trim();
  for (const [word, letter] of WORDS) t = t.replace(word, letter);
  t = t.replace(/deg(rees?|\.)?/gi, 'd');
  // Spelt minutes and seconds only after a degree sign: alone, m may be metres and s is a hemisphere.
  t = t.replace(
    /(d\s*\d[\d.,]*)\s*m(?:in(?:utes?|\.)?)?\s*(?:(\d[\d.,]*)\s*s(?:ec(?:onds?|\.)?)?)?(?=\s*[NSEWO]?$)/i,
    (_, minutes: string, seconds: string | undefined) =>
      seconds === undefined ? `${minutes}'` : `${minutes}'${seconds}"`,
  );
  return t;
}

/**
 * Reads decimal degrees, degrees and minutes, or degrees, minutes and seconds, with or without N S E W, with a decimal
 * point or comma. A plain decimal is always decimal degrees (`47.51` is never 47° 51′). Parts may be divided by their
 * signs, by colons or by spaces (`47 30 15 N`).
 * Refusals: `not_an_angle`, `hemisphere_unclear` (a lone O), `sign_and_hemisphere` (`-47 S`).
 */
export function readAngle(text: string): Outcome<AngleText> {
  const trimmed = text.trim();
  if (trimmed.length > LONGEST) return notAnAngle(`${trimmed.slice(0, LONGEST)}…`);
  if (PLAIN.test(trimmed)) return done({ deg: Number(trimmed), axis: null, composed: false });

  let t = normalise(trimmed);
  // An angle has no thousands, so a single comma can only be the decimal sign.
  if (t.split(',').length === 2 && !t.includes('.')) t = t.replace(/(\d),(\d)/, '$1.$2');
  if (PLAIN.test(t)) return done({ deg: Number(t), axis: null, composed: false });

  const parts = /^([NSEWO]?)\s*([+-]?)([\d.:d'"\s]*)([NSEWO]?)$/i.exec(t);
  if (!parts) return notAnAngle(text);
  const [, before = '', sign = '', body = '', after = ''] = parts;
  if (!/\d/.test(body)) return notAnAngle(text);
  const letter = (before || after).toUpperCase();
  if (before && after) return notAnAngle(text);
  if (letter === 'O') {
    return refuse('hemisphere_unclear', `"${text}": O can mean east (Ost) or west (Ouest, Oeste). Write E or W.`);
  }
  if (letter && sign === '-') {
    return refuse('sign_and_hemisphere', `"${text}" has both a minus sign and ${letter}. Keep one of them.`);
  }
  // Without signs, numbers divided by spaces are degrees, minutes, seconds; with signs the spaces only please the eye.
  const joined = /[d'":]/.test(body) ? body.replace(/\s*([d'":])\s*/g, '$1').trim() : body.trim().replace(/\s+/g, ':');
  if (/\s/.test(joined) || (joined.includes(':') && /[d'"]/.test(joined))) return notAnAngle(text);
  try {
    const { val } = dms.Decode(`${sign}${joined}${letter}`);
    if (!Number.isFinite(val)) return notAnAngle(text);
    const axis = letter === '' ? null : letter === 'N' || letter === 'S' ? 'lat' : 'lon';
    return done({ deg: val, axis, composed: true });
  } catch (error) {
    // The library refuses with bare errors; any other kind is a fault of ours and must not pass for a refusal.
    if (!(error instanceof Error) || error.constructor !== Error) throw error;
    return notAnAngle(text);
  }
}

function notAnAngle(text: string): Outcome<AngleText> {
  return refuse(
    'not_an_angle',
    `"${text}" is not an angle. Write decimal degrees (47.5125, -91.63) or degrees, minutes, seconds (47° 30' 45" N).`,
  );
}
