import type { FileColumns } from '../../../exchange/read/columns';
import { LENGTH_UNITS, type LengthUnit } from '../../../survey/units';

/** A grid of the site's own as it is being typed. */
export interface GridText {
  readonly unit: LengthUnit;
  readonly lat: string;
  readonly lon: string;
  readonly bearing: string;
}

/** What there is to begin with: a known grid, or the unit that a header names. */
export function gridText(grid: FileColumns['grid'], headerUnit: string | null): GridText {
  const [lon, lat] = grid?.origin_lon_lat ?? [];
  return {
    unit: grid?.unit ?? LENGTH_UNITS.find((unit) => unit === headerUnit) ?? 'm',
    lat: lat === undefined ? '' : String(lat),
    lon: lon === undefined ? '' : String(lon),
    bearing: String(grid?.bearing_deg ?? 0),
  };
}

/** The grid, once every number is there and on the Earth; undefined before. */
export function gridFrom({ unit, lat, lon, bearing }: GridText): FileColumns['grid'] {
  const [latDeg, lonDeg, bearingDeg] = [numberOf(lat), numberOf(lon), numberOf(bearing)];
  if (latDeg === null || lonDeg === null || bearingDeg === null) return undefined;
  if (Math.abs(latDeg) > 90 || Math.abs(lonDeg) > 180) return undefined;
  return { unit, origin_lon_lat: [lonDeg, latDeg], ...(bearingDeg === 0 ? {} : { bearing_deg: bearingDeg }) };
}

function numberOf(text: string): number | null {
  return /^\s*-?\d+(?:\.\d+)?\s*$/.test(text) ? Number(text) : null;
}
