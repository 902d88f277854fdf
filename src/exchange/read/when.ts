import type { Sheet, SheetRow } from './sheet';
import { LONGEST_WORD } from './vocabulary';

const DATE = /^(\d{4})[-/](\d{1,2})[-/](\d{1,2})$/;
/** Points are only ever used with the day first. */
const POINTED_DATE = /^(\d{1,2})\.(\d{1,2})\.(\d{4})$/;
const TIME = /^(\d{1,2}):(\d{2})(?::(\d{2})(\.\d+)?)?\s*(Z|[+-]\d{2}:?\d{2})?$/i;

const pad = (digits: string): string => digits.padStart(2, '0');

/** A calendar date as `2026-03-12`; null for anything else, also for 12/03/2026, which is two dates. */
export function readDate(text: string): string | null {
  const iso = DATE.exec(text);
  const pointed = POINTED_DATE.exec(text);
  const [year, month, day] = iso ? [iso[1], iso[2], iso[3]] : pointed ? [pointed[3], pointed[2], pointed[1]] : [];
  if (year === undefined || month === undefined || day === undefined) return null;
  const date = new Date(Date.UTC(Number(year), Number(month) - 1, Number(day)));
  const real = date.getUTCMonth() === Number(month) - 1 && date.getUTCDate() === Number(day);
  return real ? `${year}-${pad(month)}-${pad(day)}` : null;
}

function readTimeOfDay(text: string): string | null {
  const parts = TIME.exec(text);
  if (!parts) return null;
  const [, hour = '', minute = '', second, fraction = '', zone = ''] = parts;
  // 24:00 is the end of a day; no other time has that hour.
  const isMidnight =
    Number(hour) === 24 && Number(minute) === 0 && Number(second ?? 0) === 0 && !/[1-9]/.test(fraction);
  if ((Number(hour) > 23 && !isMidnight) || Number(minute) > 59 || Number(second ?? 0) > 60) return null;
  // The widest offsets in use are -12:00 and +14:00.
  const offset = /(\d{2}):?(\d{2})$/.exec(zone);
  if (offset && (Number(offset[1]) > 14 || Number(offset[2]) > 59)) return null;
  return `${pad(hour)}:${minute}${second === undefined ? '' : `:${second}${fraction}`}${zone.toUpperCase()}`;
}

/** Reads text as ISO 8601, with a space in place of the T, or with a date like 12.03.2026. */
export function readTime(text: string): string | null {
  if (text.length > LONGEST_WORD) return null;
  const date = readDate(text);
  if (date) return date;
  const [first = '', ...rest] = text.split(/[T\s]+/);
  const day = readDate(first);
  const time = readTimeOfDay(rest.join(''));
  return day && time ? `${day}T${time}` : null;
}

/**
 * When a row was made, from its `time`, its `date`, or a time of day in `time` with the date in `date` or in the name of
 * the outing. Null when blank, null with a fault when it cannot be understood.
 */
export function readWhen(sheet: Sheet, row: SheetRow): string | null {
  const time = sheet.text(row, 'time');
  const dateText = sheet.text(row, 'date');
  const date = dateText === null ? null : readDate(dateText);
  if (dateText !== null && date === null) {
    sheet.wrong(row, 'date', dateText, 'a date such as 2026-03-12');
    return null;
  }
  if (time === null) return date;
  const whole = readTime(time);
  if (whole !== null) return whole;
  const ofDay = readTimeOfDay(time);
  const day = date ?? readDate(sheet.text(row, 'outing') ?? '');
  if (ofDay !== null && day !== null) return `${day}T${ofDay}`;
  sheet.wrong(
    row,
    'time',
    time,
    ofDay === null ? 'a time such as 2026-03-12T14:05' : 'a time with its date, such as 2026-03-12T14:05',
  );
  return null;
}
