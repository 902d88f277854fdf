import type { LonLat } from '../../position/crs';
import { geodesicDistanceM } from '../../position/geodesic';
import { metres } from '../../survey/wording';
import { doubtAbout, type FindDoubts } from './doubt-context';

/** A resistivity line is not longer than this. */
const FAR_M = 5000;

/** A control far from all others of its line that would lie among them with longitude and latitude exchanged. */
export const probableLonLatSwap: FindDoubts = ({ line, placed }) => {
  const { controls } = placed.ok ? placed.track : placed;
  const nearest = (place: LonLat, except: string): number =>
    Math.min(...controls.filter(({ id }) => id !== except).map((other) => geodesicDistanceM(place, other.place)));
  if (controls.length < 2) return [];
  return controls.flatMap(({ id, place, chainageM }) => {
    const swapped: LonLat = { lon: place.lat, lat: place.lon };
    if (Math.abs(swapped.lat) > 90) return [];
    if (nearest(place, id) <= FAR_M || nearest(swapped, id) > FAR_M) return [];
    return [
      doubtAbout({
        code: 'probable_lon_lat_swap',
        severity: 'serious',
        line: line.id,
        chainageM,
        sentence: `Line ${line.name}: the point at ${metres(chainageM)} lies far from the rest of the line, and among it with longitude and latitude exchanged.`,
        remedy: 'Exchange the two numbers of that point.',
      }),
    ];
  });
};
