import type { Author } from '../survey/edits';
import { wallTime } from '../wall-clock';

/** Who edits here, and now. People get names with the outings; until then it is the device that speaks. */
export function author(): Author {
  return { by: 'this device', at: wallTime(new Date()) };
}
