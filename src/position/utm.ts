import { done, type Outcome, refuse } from '../survey/outcome';
import type { LonLat } from './crs';

/** Latitude bands of 8° from 80° S; the last has 12°. */
const BANDS = 'CDEFGHJKLMNPQRSTUVWX';
export const UTM_SOUTH_END = -80;
export const UTM_NORTH_END = 84;

export interface UtmZone {
  /** 1 to 60. */
  readonly zone: number;
  /** Letter of the latitude band, C to X without I and O; from N on it is north of the equator. */
  readonly band: string;
  readonly hemisphere: 'north' | 'south';
  /** WGS 84 / UTM: EPSG:326zz in the north, EPSG:327zz in the south. */
  readonly epsg: string;
}

export const utmEpsg = (zone: number, hemisphere: 'north' | 'south'): string =>
  `EPSG:${(hemisphere === 'north' ? 32600 : 32700) + zone}`;

/** Longitude of a zone's middle, degrees. */
export const centralMeridian = (zone: number): number => 6 * zone - 183;

/**
 * The UTM zone in which a place lies, with the widened zones of south-west Norway (32V) and Svalbard (31X, 33X, 35X,
 * 37X). A place at 180° is in zone 1. Rules: NGA.SIG.0012 (2014; from memory).
 * Refuses `outside_utm` beyond 80° S and 84° N.
 */
export function utmZoneOf({ lon, lat }: LonLat): Outcome<UtmZone> {
  if (!(lat >= UTM_SOUTH_END && lat <= UTM_NORTH_END) || !Number.isFinite(lon)) {
    return refuse(
      'outside_utm',
      `UTM reaches from 80° S to 84° N, and this place is at latitude ${Number(lat.toFixed(4))}. Use degrees, or polar stereographic coordinates (EPSG:5041 or EPSG:5042).`,
    );
  }
  const east = ((((lon + 180) % 360) + 360) % 360) - 180;
  const band = BANDS[Math.min(BANDS.length - 1, Math.floor((lat - UTM_SOUTH_END) / 8))] as string;
  let zone = Math.floor((east + 180) / 6) + 1;
  if (band === 'V' && zone === 31 && east >= 3) zone = 32;
  if (band === 'X' && east >= 0 && east < 42) zone = east < 9 ? 31 : east < 21 ? 33 : east < 33 ? 35 : 37;
  const hemisphere = lat >= 0 ? 'north' : 'south';
  return done({ zone, band, hemisphere, epsg: utmEpsg(zone, hemisphere) });
}

/** Southern and northern end of a latitude band, degrees; null for a letter that is none. */
export function bandEnds(band: string): readonly [south: number, north: number] | null {
  const index = BANDS.indexOf(band);
  if (index < 0 || band.length !== 1) return null;
  const south = UTM_SOUTH_END + 8 * index;
  return [south, band === 'X' ? UTM_NORTH_END : south + 8];
}

/** Western and eastern end of a zone in a band, degrees; null where there is no such zone (32X, 34X, 36X). */
export function zoneEnds(zone: number, band: string): readonly [west: number, east: number] | null {
  const west = centralMeridian(zone) - 3;
  if (band === 'V' && zone === 31) return [west, 3];
  if (band === 'V' && zone === 32) return [3, 12];
  if (band === 'X' && zone >= 31 && zone <= 37) {
    return ({ 31: [0, 9], 33: [9, 21], 35: [21, 33], 37: [33, 42] } as const)[zone as 31] ?? null;
  }
  return [west, west + 6];
}
