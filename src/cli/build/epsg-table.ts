/**
 * Makes src/position/epsg-table.json from the EPSG register as packaged in epsg-index (a development dependency).
 * Run: npx tsx src/cli/build/epsg-table.ts
 * Kept: projected and two-dimensional geographic systems that proj4 brings to WGS 84 and back within a centimetre.
 * The others are kept by name with the reason, so that they are refused by name.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import proj4 from 'proj4';
import disagreements from './datum-disagreements.json';
import { withDatumShiftSetRight } from './datum-shifts';

interface IndexEntry {
  readonly code: string;
  readonly kind: string;
  readonly name: string;
  readonly proj4: string | null;
  readonly bbox: readonly [number, number, number, number] | null;
}

/**
 * `[name, definition]`, with a fourth member where PROJ places it otherwise by more than two metres: by how many.
 * `[name, '', reason]` for a system that cannot be used.
 */
export type EpsgRow = readonly [
  name: string,
  definition: string,
  refusal?: '' | 'grid' | 'datum' | 'axis' | 'projection',
  disagreementM?: number,
];

/** A system that PROJ places this far elsewhere is refused: one of both is wrong, or its datum has no one shift. */
const WORST_DISAGREEMENT_M = 30;
/** Less than that is what taking one datum for another costs anyway. */
const TOLD_DISAGREEMENT_M = 2;

const LON_LAT = '+proj=longlat +datum=WGS84';
const ROUND_TRIP_DEG = 1e-7; // about a centimetre

export const EPSG_TABLE_PATH = fileURLToPath(new URL('../../position/epsg-table.json', import.meta.url));

function survivesRoundTrip(definition: string, bbox: IndexEntry['bbox']): boolean {
  if (!bbox) return false;
  const [north, west, south, east] = bbox;
  const width = east >= west ? east - west : east + 360 - west;
  for (const share of [0.25, 0.5, 0.75]) {
    const lonRaw = west + width * share;
    const lon = lonRaw > 180 ? lonRaw - 360 : lonRaw;
    const lat = south + (north - south) * share;
    try {
      const projected = proj4(LON_LAT, definition, [lon, lat]);
      const [backLon, backLat] = proj4(definition, LON_LAT, projected) as [number, number];
      if (!(Math.abs(backLon - lon) < ROUND_TRIP_DEG && Math.abs(backLat - lat) < ROUND_TRIP_DEG)) return false;
    } catch {
      return false;
    }
  }
  return true;
}

function rowOf(entry: IndexEntry): EpsgRow | null {
  if (entry.kind !== 'CRS-PROJCRS' && entry.kind !== 'CRS-GEOGCRS') return null;
  const definition = withDatumShiftSetRight((entry.proj4 ?? '').replace(/ ?\+(no_defs|type=crs|wktext)/g, '').trim());
  if (!definition.startsWith('+proj=')) return [entry.name, '', 'projection'];
  if (/\+nadgrids=(?!@null)/.test(definition)) return [entry.name, '', 'grid'];
  const tied = /\+towgs84=|\+datum=|\+nadgrids=@null|\+ellps=(GRS80|WGS84)\b/.test(definition);
  if (!tied) return [entry.name, '', 'datum'];
  // proj4 leaves the order and the direction of axes to its caller.
  if (/\+axis=/.test(definition)) return [entry.name, '', 'axis'];
  const disagreementM = (disagreements as Record<string, number>)[entry.code] ?? 0;
  if (disagreementM > WORST_DISAGREEMENT_M) return [entry.name, '', 'datum'];
  if (!survivesRoundTrip(definition, entry.bbox)) return [entry.name, '', 'projection'];
  return disagreementM > TOLD_DISAGREEMENT_M ? [entry.name, definition, '', disagreementM] : [entry.name, definition];
}

/** The table as text, one system a line so that a change of the register shows as a change of lines. */
export function epsgTableText(): string {
  const path = createRequire(import.meta.url).resolve('epsg-index/all.json');
  const index = JSON.parse(readFileSync(path, 'utf8')) as Record<string, IndexEntry>;
  const rows = Object.values(index)
    .map((entry) => [Number(entry.code), rowOf(entry)] as const)
    .filter((pair): pair is readonly [number, EpsgRow] => pair[1] !== null)
    .sort(([a], [b]) => a - b)
    .map(([code, row]) => `"${code}":${JSON.stringify(row)}`);
  return `{\n${rows.join(',\n')}\n}\n`;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) writeFileSync(EPSG_TABLE_PATH, epsgTableText());
