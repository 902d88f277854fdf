import type { Selection } from './app-state';
import type { KarstFeaturesDrawn } from './karst-state';
import { selectedPlace } from './selected-places';

/** The circle that holds a selected feature 95 times of 100; null where none is selected. */
export function karstMarks(
  drawn: KarstFeaturesDrawn | null,
  selection: Selection | null,
): ReturnType<typeof selectedPlace> | null {
  if (!drawn || selection?.kind !== 'feature') return null;
  const place = drawn.places.get(selection.sid);
  return place ? selectedPlace(place.lon, place.lat, Math.max(place.r95M, LEAST_RING_M)) : null;
}

/** A circle smaller than this is not seen round a symbol. */
const LEAST_RING_M = 3;
