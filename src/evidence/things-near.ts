import type { LonLat } from '../position/crs';
import { FARTHEST_M, type Track } from '../position/track';
import type { PlacedThing } from './doubts/doubt-context';

/** Less than a degree of latitude anywhere, m. */
const DEGREE_M = 110_000;

interface Box {
  readonly middleLon: number;
  readonly halfLon: number;
  readonly south: number;
  readonly north: number;
}

/**
 * Of the things of a whole country's inventory those that could lie beside one of these lines: no rods stand farther
 * apart than a line may be long. Rough and never too narrow.
 */
export function thingsNear(things: readonly PlacedThing[], tracks: readonly Track[]): readonly PlacedThing[] {
  const boxes = tracks.map(boxOf);
  return things.filter(({ places }) => boxes.some((box) => touches(places, box)));
}

function boxOf({ fromM, bends, toM, placeAt }: Track): Box {
  const corners = [fromM, ...bends, toM].map((chainageM) => placeAt(chainageM));
  const middleLon = (corners[0] as LonLat).lon;
  const lats = corners.map(({ lat }) => lat);
  const reach = FARTHEST_M / DEGREE_M;
  const [south, north] = [Math.min(...lats) - reach, Math.max(...lats) + reach];
  const narrowest = Math.max(0.001, Math.cos((Math.min(89.9, Math.max(-south, north)) * Math.PI) / 180));
  const widest = corners.reduce((most, { lon }) => Math.max(most, Math.abs(turned(lon - middleLon))), 0);
  return { middleLon, halfLon: widest + reach / narrowest, south, north };
}

/** By the box of its places, since a pipe may cross a line between two corners that are far from it. */
function touches(places: readonly LonLat[], { middleLon, halfLon, south, north }: Box): boolean {
  let [west, east, low, high] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const { lon, lat } of places) {
    const at = turned(lon - middleLon);
    west = Math.min(west, at);
    east = Math.max(east, at);
    low = Math.min(low, lat);
    high = Math.max(high, lat);
  }
  return west <= halfLon && east >= -halfLon && low <= north && high >= south;
}

const turned = (degrees: number): number => degrees - 360 * Math.round(degrees / 360);
