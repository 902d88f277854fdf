import type { Line, Reading } from '../survey/survey';
import type { Surroundings } from './anchors';
import { trackThroughReadings } from './own-track';
import { type TrackOutcome, trackThroughControls } from './track';

/**
 * Places a line: by its controls, or, when it has none, along the readings that brought their own places.
 * What cannot be placed comes back with a sentence that says what to add or correct.
 */
export function placeLine(line: Line, readings: readonly Reading[], surroundings: Surroundings): TrackOutcome {
  const hasControls = line.path.some((item) => item.kind !== 'leg' && !item.retired);
  if (!hasControls) {
    const own = readings.filter((reading) => reading.position && !reading.retired);
    if (own.length > 0) return trackThroughReadings(line, own, surroundings.grids);
  }
  return trackThroughControls(line, readings, surroundings);
}
