/*
 * What the clock and the calendar on the wall say. The day of a reading is the day where it was read, which in most of
 * the world is another than that of UTC for some hours.
 */

const two = (number: number): string => String(number).padStart(2, '0');

/** The day, as 2026-05-12. */
export const wallDay = (now: Date): string =>
  `${String(now.getFullYear()).padStart(4, '0')}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;

/** The day and the time in words for a person, as 2026-05-12 09:05. */
export const wallWords = (now: Date): string => `${wallDay(now)} ${two(now.getHours())}:${two(now.getMinutes())}`;

/** Day, time and how far the clock is from UTC (ISO 8601): 2026-05-12T09:05:00.000+13:00. So an hour that comes twice in autumn is told apart. */
export function wallTime(now: Date): string {
  const eastMin = Math.round(-now.getTimezoneOffset());
  if (eastMin === 0) return now.toISOString();
  const offset = `${eastMin < 0 ? '-' : '+'}${two(Math.floor(Math.abs(eastMin) / 60))}:${two(Math.abs(eastMin) % 60)}`;
  return new Date(now.getTime() + eastMin * 60_000).toISOString().replace('Z', offset);
}
