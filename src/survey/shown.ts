import type { Reading } from './survey';
import { shownText } from './wording';

/** A reading as the meter showed it, with unit and state: "485 Ω·m, wetted", "over range (> 19990 Ω·m)". */
export function shownAs(reading: Reading): string {
  const wetted =
    reading.wetting === 'water' ? ', wetted' : reading.wetting === 'salt_water' ? ', wetted with salt water' : '';
  const shown =
    reading.status === 'over_range' || reading.value === null
      ? `over range${reading.limit ? ` (> ${shownText(reading.limit, reading.unit)})` : ''}`
      : `${shownText(reading.value, reading.unit)}${reading.unit === 'mV' && reading.current_ma ? ` at ${Number(reading.current_ma.toPrecision(12))} mA` : ''}`;
  const rejected = reading.status === 'rejected' ? `, rejected: ${reading.status_reason ?? 'no reason given'}` : '';
  return `${shown}${wetted}${rejected}`;
}
