import type { MidpointFinding, TrackVertex } from '../findings';
import type { Track } from '../position/track';

/** The corners of a line, and where else the way of chainage over the ground changes: slopes, and the ends in use. */
export function trackVertices(track: Track, midpoints: readonly MidpointFinding[]): readonly TrackVertex[] {
  const corners = new Set([track.fromM, ...track.bends, track.toM]);
  const chainages = new Set([...corners, ...track.slopeBreaks]);
  let beforeM = 0;
  let beyondM = 0;
  for (const { chainageM, fromM, toM, spacingM } of midpoints) {
    const reach = Math.max(chainageM - fromM, toM - chainageM) + (spacingM ?? 0);
    beforeM = Math.max(beforeM, track.fromM - chainageM + reach);
    beyondM = Math.max(beyondM, chainageM + reach - track.toM);
  }
  if (beforeM > 0) chainages.add(track.fromM - beforeM);
  if (beyondM > 0) chainages.add(track.toM + beyondM);
  return [...chainages]
    .sort((p, q) => p - q)
    .map((chainageM) => {
      const { lon, lat } = track.placeAt(chainageM);
      return { chainageM, lon, lat, corner: corners.has(chainageM) };
    });
}
