import { type ReadingUnit, UNIT_LABEL } from './units';

/** A number with so many significant digits, without an exponent and without trailing zeros behind the point. */
export function significant(value: number, digits: number): string {
  if (value === 0 || !Number.isFinite(value)) return String(value);
  const rounded = Number(value.toPrecision(digits));
  const exponent = Math.floor(Math.log10(Math.abs(rounded)));
  const text = rounded.toFixed(Math.min(12, Math.max(0, digits - 1 - exponent)));
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}

/** A length or a chainage to the centimetre at most: "12.5 m". */
export const metres = (value: number): string => `${Number(value.toFixed(2))} m`;

/** A figure to three digits, which is more than a field reading is worth: "1230 Ω·m". */
export const ohmMetres = (value: number): string => `${significant(value, 3)} Ω·m`;

/** A ratio to the hundredth, or three digits when large: "1.23", "14.1". */
export const ratioText = (value: number): string => (value < 10 ? value.toFixed(2) : significant(value, 3));

/** The value as the meter showed it, with its unit. */
export const shownText = (value: number, unit: ReadingUnit): string =>
  `${Number(value.toPrecision(12))} ${UNIT_LABEL[unit]}`;

/** "1 reading", "3 readings". */
export const counted = (count: number, one: string, many = `${one}s`): string => `${count} ${count === 1 ? one : many}`;

/** A list of chainages that stays short: "3, 4, 7 m and 12 more". */
export function chainageList(chainages: readonly number[], most = 6): string {
  const distinct = [...new Set(chainages)].sort((p, q) => p - q);
  const head = distinct.slice(0, most).map((chainage) => String(Number(chainage.toFixed(2))));
  const rest = distinct.length - head.length;
  return `${head.join(', ')} m${rest > 0 ? ` and ${rest} more` : ''}`;
}

/** A list of names that stays short: "A, B, C and 12 more". */
export function nameList(names: readonly string[], most = 6): string {
  const rest = names.length - most;
  return rest > 0 ? `${names.slice(0, most).join(', ')} and ${rest} more` : names.join(', ');
}
