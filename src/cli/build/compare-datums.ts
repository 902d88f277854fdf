/**
 * Compares every usable system of the table with PROJ at three places of its area and writes those that differ by more
 * than a metre to datum-disagreements.json, code → metres rounded up. Takes some minutes; run it when the register or
 * the datum shifts change: npx tsx src/cli/build/compare-datums.ts
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import proj4 from 'proj4';
import { withDatumShiftSetRight } from './datum-shifts';

interface IndexEntry {
  readonly code: string;
  readonly kind: string;
  readonly proj4: string | null;
  readonly bbox: readonly [north: number, west: number, south: number, east: number] | null;
}

interface Gdal {
  gdaltransform(points: readonly (readonly number[])[], options: readonly string[]): Promise<number[][]>;
}

const LON_LAT = '+proj=longlat +datum=WGS84';
const METRES_PER_DEGREE = 111_195;
const WORTH_A_NOTE_M = 1;
/** Systems with higher numbers are another publisher's: PROJ does not know them by EPSG. */
const LAST_EPSG_CODE = 32_767;
/** No datum is that far off: PROJ did not know the system, and gdal3.js gave what was in its memory. */
const NO_ANSWER_M = 10_000;

async function openGdal(): Promise<Gdal> {
  const initialise = (await import('gdal3.js/node.js')).default as (options: object) => Promise<unknown>;
  const folder = join(dirname(createRequire(import.meta.url).resolve('gdal3.js/node.js')), 'dist/package');
  const quiet = { logHandler: () => {}, errorHandler: () => {} };
  return (await initialise({ path: relative(process.cwd(), folder), dest: tmpdir(), ...quiet })) as Gdal;
}

/** Three places of an area, longitude and latitude. */
export function placesIn([north, west, south, east]: NonNullable<IndexEntry['bbox']>): readonly [number, number][] {
  const width = east >= west ? east - west : east + 360 - west;
  return [0.25, 0.5, 0.75].map((share) => {
    const lon = west + width * share;
    return [lon > 180 ? lon - 360 : lon, south + (north - south) * share];
  });
}

async function disagreementM(gdal: Gdal, entry: IndexEntry): Promise<number | null> {
  const definition = withDatumShiftSetRight((entry.proj4 ?? '').replace(/ ?\+(no_defs|type=crs|wktext)/g, '').trim());
  const tied = /\+towgs84=|\+datum=|\+nadgrids=@null|\+ellps=(GRS80|WGS84)\b/.test(definition);
  const usable = definition.startsWith('+proj=') && tied && !/\+nadgrids=(?!@null)|\+axis=/.test(definition);
  if (Number(entry.code) > LAST_EPSG_CODE) return null;
  if (!usable || !entry.bbox || !/^CRS-(PROJ|GEOG)CRS$/.test(entry.kind)) return null;
  const places = placesIn(entry.bbox);
  try {
    const theirs = await gdal.gdaltransform(places, ['-s_srs', `${LON_LAT} +no_defs`, '-t_srs', `EPSG:${entry.code}`]);
    return places.reduce((worst, [lon, lat], i) => {
      const [backLon, backLat] = proj4(definition, LON_LAT, (theirs[i] as number[]).slice(0, 2)) as [number, number];
      const turn = backLon - lon - 360 * Math.round((backLon - lon) / 360);
      const apart = METRES_PER_DEGREE * Math.hypot(turn * Math.cos((lat * Math.PI) / 180), backLat - lat);
      return Number.isFinite(apart) ? Math.max(worst, apart) : worst;
    }, 0);
  } catch {
    // A system that either side cannot compute has nothing to compare.
    return null;
  }
}

async function main(): Promise<void> {
  const path = createRequire(import.meta.url).resolve('epsg-index/all.json');
  const index = JSON.parse(readFileSync(path, 'utf8')) as Record<string, IndexEntry>;
  const gdal = await openGdal();
  const lines: string[] = [];
  for (const entry of Object.values(index).sort((p, q) => Number(p.code) - Number(q.code))) {
    const apart = await disagreementM(gdal, entry);
    if (apart !== null && apart > WORTH_A_NOTE_M && apart < NO_ANSWER_M)
      lines.push(`  "${entry.code}": ${Math.ceil(apart)}`);
  }
  const target = fileURLToPath(new URL('./datum-disagreements.json', import.meta.url));
  writeFileSync(target, `{\n${lines.join(',\n')}\n}\n`);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await main();
