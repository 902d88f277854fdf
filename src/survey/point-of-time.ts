/** Digits of a day; then, where they are said, of a time of day; then of a zone. */
const ISO = /^(\d{4}-\d{2}-\d{2})(?:T(\d{2}:\d{2}(?::\d{2}(?:\.\d+)?)?)(?:(Z)|([+-]\d{2}):?(\d{2}))?)?$/i;

/** Whether a time says how far its clock was from UTC. Without that it is told by the wall clock of the place. */
export const saysZone = (time: string): boolean => {
  const [, , , utc, hours] = ISO.exec(time) ?? [];
  return utc !== undefined || hours !== undefined;
};

/**
 * An ISO 8601 time in milliseconds since 1970; null for any other text. One without a zone is counted as if it were UTC,
 * and a mere day as its begin: never by the zone of the machine, on which no result may depend.
 */
export function pointOfTime(time: string): number | null {
  const [said, day, clock, , hours, minutes] = ISO.exec(time) ?? [];
  if (said === undefined) return null;
  const zone = hours === undefined ? 'Z' : `${hours}:${minutes}`;
  const point = Date.parse(clock === undefined ? `${day}` : `${day}T${clock}${zone}`);
  return Number.isNaN(point) ? null : point;
}
