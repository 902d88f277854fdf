import type { LonLat } from '../../position/crs';
import { FARTHEST_M } from '../../position/track';
import { metres } from '../../survey/wording';
import { doubtAbout, type FindDoubts } from './doubt-context';

const EARTH_RADIUS_M = 6_371_000;

type Direction = readonly [x: number, y: number, z: number];

function directionOf({ lon, lat }: LonLat): Direction {
  const [lambda, phi] = [(lon * Math.PI) / 180, (lat * Math.PI) / 180];
  return [Math.cos(phi) * Math.cos(lambda), Math.cos(phi) * Math.sin(lambda), Math.sin(phi)];
}

/** Through the Earth, which is near enough to tell some metres from another county. */
const apartM = (p: Direction, q: Direction): number =>
  EARTH_RADIUS_M * Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);

/**
 * A control far from all others of its line that would lie among them with longitude and latitude exchanged.
 * A line that could be placed has no such control.
 */
export const probableLonLatSwap: FindDoubts = ({ line, placed }) => {
  if (placed.ok || placed.controls.length < 2) return [];
  const { controls } = placed;
  const directions = controls.map(({ place }) => directionOf(place));
  const isAmongOthers = (direction: Direction, self: number): boolean =>
    directions.some((other, k) => k !== self && apartM(direction, other) <= FARTHEST_M);
  return controls.flatMap(({ place, chainageM }, i) => {
    if (Math.abs(place.lon) > 90) return [];
    const exchanged = directionOf({ lon: place.lat, lat: place.lon });
    if (isAmongOthers(directions[i] as Direction, i) || !isAmongOthers(exchanged, i)) return [];
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
