// A CommonJS package whose names Node cannot see: only its default export is there everywhere.
import geomagnetism from 'geomagnetism';
import { done, type Outcome, refuse } from '../survey/outcome';
import type { LonLat } from './crs';

export interface Declination {
  /** Degrees by which the needle points east of true north; negative to the west. */
  readonly deg: number;
  /** Standard deviation: what the model itself leaves out, crustal fields included, not iron nearby. */
  readonly sigmaDeg: number;
  /** Horizontal intensity, nanotesla: what turns the needle. */
  readonly horizontalNT: number;
}

const FIRST_YEAR = 2025;
const END_YEAR = 2030;
/** Below this a compass is of no use: the blackout zone of the model's report (value from memory). */
const BLACKOUT_NT = 2000;

/** Of the model's report: the declination's error has a constant part and one that grows as the field weakens. */
const SIGMA_CONSTANT_DEG = 0.26;
const SIGMA_NT_DEG = 5417;

type Field = readonly [north: number, east: number];

/** The model at the beginning of 2025 and of 2026; made once, when first asked. */
let models: readonly [geomagnetism.GeomagnetismModel, geomagnetism.GeomagnetismModel] | null = null;

function fieldAt({ lon, lat }: LonLat, heightM: number, year: number): Field {
  // Between these dates the package holds the model for valid; its coefficients grow evenly, and so does the field.
  models ??= [
    geomagnetism.model(new Date(Date.UTC(FIRST_YEAR, 0, 1))),
    geomagnetism.model(new Date(Date.UTC(FIRST_YEAR + 1, 0, 1))),
  ];
  const point = [lat, lon, heightM / 1000];
  const [first, second] = [models[0].point(point), models[1].point(point)];
  const years = year - FIRST_YEAR;
  return [first.x + years * (second.x - first.x), first.y + years * (second.y - first.y)];
}

/**
 * Magnetic declination by the World Magnetic Model 2025 (NOAA NCEI and British Geological Survey, 2024).
 * @param heightM above the ellipsoid; a hundred metres change nothing that matters.
 * @param year decimal year, see `decimalYear`.
 * Refusals: `declination_years` outside 2025.0 to 2030.0, `compass_useless` where the horizontal field is under 2000 nT.
 */
export function declinationAt(place: LonLat, heightM: number, year: number): Outcome<Declination> {
  if (!(year >= FIRST_YEAR && year <= END_YEAR)) {
    return refuse(
      'declination_years',
      `The magnetic model here (WMM2025) holds from 2025 to 2029, not for ${Math.floor(year)}. Ask a geomagnetic service for the declination of that day, add it to the bearing, and enter the bearing as true.`,
    );
  }
  const [north, east] = fieldAt(place, heightM, year);
  const horizontalNT = Math.hypot(north, east);
  if (horizontalNT < BLACKOUT_NT) {
    return refuse(
      'compass_useless',
      'So near to a magnetic pole a compass does not point anywhere reliable. Place the line by two fixes, or take the bearing from the sun or a map and enter it as true.',
    );
  }
  return done({
    deg: (Math.atan2(east, north) * 180) / Math.PI,
    sigmaDeg: Math.hypot(SIGMA_CONSTANT_DEG, SIGMA_NT_DEG / horizontalNT),
    horizontalNT,
  });
}

/** The year of an ISO 8601 date or time with its fraction (`2026-07-02` → 2026.498…); null for anything else. */
export function decimalYear(date: string): number | null {
  const parts = /^(\d{4})-(\d{2})-(\d{2})(?:$|[T ])/.exec(date.trim());
  if (!parts) return null;
  const [year, month, day] = [Number(parts[1]), Number(parts[2]), Number(parts[3])];
  const at = new Date(Date.UTC(year, month - 1, day));
  if (at.getUTCMonth() !== month - 1 || at.getUTCDate() !== day) return null;
  const begin = Date.UTC(year, 0, 1);
  return year + (at.getTime() - begin) / (Date.UTC(year + 1, 0, 1) - begin);
}
