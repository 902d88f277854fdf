import type { TrackVertex } from '../findings';

/** Where a chainage of a line lies on the ground; beyond its ends along its last straight. */
export function groundPlaceAt(track: readonly TrackVertex[], chainageM: number): { lon: number; lat: number } {
  let i = 1;
  while (i < track.length - 1 && (track[i] as TrackVertex).chainageM < chainageM) i += 1;
  const [from, to] = [track[i - 1] as TrackVertex, track[i] as TrackVertex];
  const share = (chainageM - from.chainageM) / (to.chainageM - from.chainageM || 1);
  // The shorter way round, so that a line across 180° stays one line.
  const turn = to.lon - from.lon - 360 * Math.round((to.lon - from.lon) / 360);
  return { lon: from.lon + share * turn, lat: from.lat + share * (to.lat - from.lat) };
}
