import { localPlane } from '../../position/crs';
import type { Field } from './headers';
import { gridOf, hasPlace, readPlace } from './place';
import type { Sheet } from './sheet';

/** Points that are sketched. */
const POINTS = 500;

/** Where the points of a table fall, as far as that can be told before it is taken. */
export interface PreviewPlaces {
  /** `lon_lat`: degrees, WGS 84. `own_units`: easting and northing as in the file, whose system is not known yet. */
  readonly system: 'lon_lat' | 'own_units' | 'none';
  /** At most 500, evenly out of all rows. */
  readonly points: readonly (readonly [x: number, y: number])[];
  /** West, south, east, north, of those points. */
  readonly bounds: readonly [west: number, south: number, east: number, north: number] | null;
  /** Extent from west to east and from south to north in metres; null while the system is not known. */
  readonly extentM: readonly [width: number, height: number] | null;
}

export const NO_PLACES: PreviewPlaces = { system: 'none', points: [], bounds: null, extentM: null };

/** Reads the places of a sheet; what cannot be read is left out here, and told when the table is read. */
export function previewPlaces(sheet: Sheet): PreviewPlaces {
  const prefixes = (['', 'first_', 'last_'] as const).filter((prefix) => hasPlace(sheet, prefix));
  if (prefixes.length === 0) return NO_PLACES;
  const lacksSystem = prefixes.some(
    (prefix) => !sheet.has(`${prefix}lon` as Field) && !sheet.has('epsg') && gridOf(sheet) === null,
  );
  const every = Math.max(1, Math.ceil((sheet.rows.length * prefixes.length) / POINTS));
  const points: [number, number][] = [];
  for (let i = 0; i < sheet.rows.length; i += every) {
    const row = sheet.rows[i];
    if (!row) continue;
    for (const prefix of prefixes) {
      if (lacksSystem) {
        const x = sheet.number(row, `${prefix}easting` as Field);
        const y = sheet.number(row, `${prefix}northing` as Field);
        if (x !== null && y !== null) points.push([x, y]);
        continue;
      }
      const place = readPlace(sheet, row, prefix);
      if (place) points.push([place.lonLat.lon, place.lonLat.lat]);
    }
  }
  if (lacksSystem) return { system: 'own_units', points, bounds: boundsOf(points), extentM: null };
  return placesOf(points);
}

/** Where points given in degrees fall; at most 500 of them are shown. */
export function placesOf(lonLats: readonly (readonly [lon: number, lat: number])[]): PreviewPlaces {
  const every = Math.max(1, Math.ceil(lonLats.length / POINTS));
  const points = every === 1 ? lonLats : lonLats.filter((_, i) => i % every === 0);
  const bounds = boundsOf(points);
  return { system: bounds ? 'lon_lat' : 'none', points, bounds, extentM: bounds && extentOf(bounds) };
}

function extentOf([west, south, east, north]: NonNullable<PreviewPlaces['bounds']>): [number, number] | null {
  const plane = localPlane((west + east) / 2, (south + north) / 2);
  const [left, bottom] = plane.toPlane(west, south);
  const [right, top] = plane.toPlane(east, north);
  const extent: [number, number] = [right - left, top - bottom];
  // A plane does not reach around the Earth.
  return extent.every(Number.isFinite) ? extent : null;
}

function boundsOf(points: readonly (readonly [number, number])[]): PreviewPlaces['bounds'] {
  if (points.length === 0) return null;
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [x, y] of points) {
    west = Math.min(west, x);
    east = Math.max(east, x);
    south = Math.min(south, y);
    north = Math.max(north, y);
  }
  return [west, south, east, north];
}
