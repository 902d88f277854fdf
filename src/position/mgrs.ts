import { done, type Outcome, refuse } from '../survey/outcome';
import { crsOf, type LonLat } from './crs';
import { bandEnds, utmEpsg, utmZoneOf, zoneEnds } from './utm';

/*
 * The Military Grid Reference System within UTM: zone, band, square of 100 km, digits (NGA.SIG.0012, 2014). The scheme
 * of square letters is that of WGS 84 (AA). Projected by our own engine: the usual packages truncate an approximation,
 * which may name the neighbouring metre.
 */

const COLUMNS = ['ABCDEFGH', 'JKLMNPQR', 'STUVWXYZ'] as const;
const ROWS = 'ABCDEFGHJKLMNPQRSTUV';
const SQUARE_M = 100_000;
const ROWS_M = ROWS.length * SQUARE_M;
const MOST_DIGITS = 5;
/** A square may reach over the end of its zone or band; what lies farther out than this is a slip of the pen. */
const SLACK_DEG = 0.01;

export interface MgrsCell {
  /** WGS 84 / UTM of the zone that the text names. */
  readonly epsg: string;
  /** South-west corner of the cell, metres. */
  readonly easting: number;
  readonly northing: number;
  /** Side of the cell: 1 m with ten digits, 100 km with none. */
  readonly sideM: number;
}

/** Rows begin with A in odd zones and with F in even ones. */
const rowShift = (zone: number): number => (zone % 2 === 0 ? 5 : 0);

/** Whether a text has the shape of MGRS: a zone, three letters, digits. Its letters may still be wrong. */
export const looksLikeMgrs = (text: string): boolean => MGRS.test(text.trim());
const MGRS = /^(\d{1,2})\s*([A-Z])\s*([A-Z])([A-Z])\s*([\d\s]*)$/i;
const POLAR = /^[ABYZ]\s*[A-Z]{2}\s*[\d\s]*$/i;
export const looksLikePolarMgrs = (text: string): boolean => POLAR.test(text.trim());

/**
 * Reads MGRS, with or without spaces (`32TNT9414161486`, `32T NT 94141 61486`).
 * Refusals: `mgrs_polar` beyond UTM, `mgrs_digits` for an odd number or more than ten, `mgrs_square` for letters that name
 * no square of that zone and band.
 */
export function readMgrs(text: string): Outcome<MgrsCell> {
  const parts = MGRS.exec(text.trim());
  if (!parts) {
    return looksLikePolarMgrs(text)
      ? refuse(
          'mgrs_polar',
          `"${text.trim()}" lies beyond 80° S or 84° N, where MGRS is polar. Give the place in degrees, or in EPSG:5041 or EPSG:5042.`,
        )
      : refuse('mgrs_square', `"${text.trim()}" is not an MGRS reference. One looks like 32T NT 94141 61486.`);
  }
  const zone = Number(parts[1]);
  const [band, column, row] = [parts[2], parts[3], parts[4]].map((letter) => (letter as string).toUpperCase()) as [
    string,
    string,
    string,
  ];
  const halves = (parts[5] ?? '').trim().split(/\s+/);
  const digits = halves.join('');
  const isUneven = halves.length === 2 && halves[0]?.length !== halves[1]?.length;
  if (digits.length % 2 !== 0 || digits.length > 2 * MOST_DIGITS || isUneven) {
    return refuse(
      'mgrs_digits',
      `"${text.trim()}": easting and northing need the same number of digits, one to five each. One is missing, or one too many.`,
    );
  }
  const cell = cellOf({ zone, band, column, row, digits });
  return cell
    ? done(cell)
    : refuse(
        'mgrs_square',
        `"${text.trim()}": there is no square ${column}${row} in ${zone}${band}. Check the letters; I and O are never used.`,
      );
}

interface Parts {
  readonly zone: number;
  readonly band: string;
  readonly column: string;
  readonly row: string;
  readonly digits: string;
}

function cellOf({ zone, band, column, row, digits }: Parts): MgrsCell | null {
  const latitudes = bandEnds(band);
  const longitudes = zone >= 1 && zone <= 60 ? zoneEnds(zone, band) : null;
  const columnIndex = (COLUMNS[(zone + 2) % 3] as string).indexOf(column);
  const rowIndex = ROWS.indexOf(row);
  if (!latitudes || !longitudes || columnIndex < 0 || rowIndex < 0) return null;
  const half = digits.length / 2;
  const sideM = SQUARE_M / 10 ** half;
  const easting = SQUARE_M * (columnIndex + 1) + Number(digits.slice(0, half) || '0') * sideM;
  const inRow = ((rowIndex - rowShift(zone) + ROWS.length) % ROWS.length) * SQUARE_M;
  const epsg = utmEpsg(zone, band >= 'N' ? 'north' : 'south');
  const crs = crsOf(epsg);
  if (!crs.ok) return null;
  for (let base = 0; base < 10_000_000; base += ROWS_M) {
    const northing = base + inRow + Number(digits.slice(half) || '0') * sideM;
    const corners = [0, sideM].flatMap((dx) => [0, sideM].map((dy) => crs.value.toLonLat(easting + dx, northing + dy)));
    if (overlaps(corners, ({ lat }) => lat, latitudes) && overlaps(corners, unwrapped(longitudes), longitudes)) {
      return { epsg, easting, northing, sideM };
    }
  }
  return null;
}

const unwrapped =
  ([west, east]: readonly [number, number]) =>
  ({ lon }: LonLat): number =>
    lon - 360 * Math.round((lon - (west + east) / 2) / 360);

function overlaps(
  corners: readonly LonLat[],
  of: (corner: LonLat) => number,
  [low, high]: readonly [number, number],
): boolean {
  const values = corners.map(of);
  return Math.max(...values) >= low - SLACK_DEG && Math.min(...values) <= high + SLACK_DEG;
}

/**
 * The MGRS reference of the cell in which a place lies; `digits` for each of easting and northing, 0 to 5 (5 = 1 m).
 * Cut off, never rounded, as the standard wants. Refuses `outside_utm`.
 */
export function mgrsText(place: LonLat, digits: number): Outcome<string> {
  const found = utmZoneOf(place);
  if (!found.ok) return found;
  const { zone, band, epsg } = found.value;
  const crs = crsOf(epsg);
  if (!crs.ok) return crs;
  const [easting, northing] = crs.value.fromLonLat(place.lon, place.lat).map(Math.floor) as [number, number];
  const column = (COLUMNS[(zone + 2) % 3] as string)[Math.floor(easting / SQUARE_M) - 1] ?? '';
  const row = ROWS[(Math.floor(northing / SQUARE_M) + rowShift(zone)) % ROWS.length] ?? '';
  const cut = (metres: number): string =>
    String(metres % SQUARE_M)
      .padStart(MOST_DIGITS, '0')
      .slice(0, digits);
  const numbers = digits > 0 ? ` ${cut(easting)} ${cut(northing)}` : '';
  return done(`${zone}${band} ${column}${row}${numbers}`);
}
