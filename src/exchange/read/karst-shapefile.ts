import { crsOf } from '../../position/crs';
import { done, type Outcome, refuse } from '../../survey/outcome';
import type { Position } from '../../survey/survey';
import { readDbf } from './karst-dbf';
import { type FeatureFault, fault, type RawFeature, type RawFile } from './karst-raw';

/*
 * Shapefiles by the technical description of July 1998: points, multipoints, polylines and polygons, also with Z and M,
 * whose heights are taken for points. Outer rings run clockwise there, holes the other way.
 */

const HEADER = 100;

export interface ShapefileParts {
  readonly shp: Uint8Array;
  readonly dbf: Uint8Array | null;
  /** Text of the .prj; null without one. */
  readonly prj: string | null;
  /** Encoding by the .cpg, such as `UTF-8`; null without one. */
  readonly cpg: string | null;
}

/** The EPSG code of a .prj: by its own code, else by its name where that says it; null for another system. */
export function epsgOfPrj(prj: string): string | null {
  const coded = [...prj.matchAll(/AUTHORITY\s*\[\s*"EPSG"\s*,\s*"?(\d+)"?\s*\]/gi)].pop()?.[1];
  // The last one is that of the whole only when nothing but brackets follow.
  if (coded !== undefined && /AUTHORITY\s*\[\s*"EPSG"\s*,\s*"?\d+"?\s*\]\s*\]\s*$/i.test(prj)) return `EPSG:${coded}`;
  const name = /^\s*(PROJCS|GEOGCS)\s*\[\s*"([^"]+)"/i.exec(prj);
  const key = (name?.[2] ?? '').toLowerCase().replace(/[^a-z0-9]/g, '');
  if (name?.[1]?.toUpperCase() === 'GEOGCS') {
    const codes: Record<string, number> = {
      gcswgs1984: 4326,
      wgs84: 4326,
      gcsnorthamerican1983: 4269,
      nad83: 4269,
      gcsetrs1989: 4258,
      etrs89: 4258,
    };
    return codes[key] === undefined ? null : `EPSG:${codes[key]}`;
  }
  if (/webmercator/.test(key)) return 'EPSG:3857';
  const utm = /^(wgs1984|wgs84|nad1983|nad83|etrs1989|etrs89)utmzone(\d{1,2})(n|s)$/.exec(key);
  if (!utm) return null;
  const [, datum = '', zone = '', side = ''] = utm;
  const z = zone.padStart(2, '0');
  if (datum.startsWith('wgs')) return `EPSG:32${side === 'n' ? '6' : '7'}${z}`;
  if (side !== 'n') return null;
  return datum.startsWith('nad') ? `EPSG:269${z}` : `EPSG:258${z}`;
}

/** Reads a shapefile. Refusals: `not_a_shapefile`, `no_crs` (give it in the columns map), those of `crsOf`. */
export function readShapefile({ shp, dbf, prj, cpg }: ShapefileParts, givenCrs: string | null): Outcome<RawFile> {
  const view = new DataView(shp.buffer, shp.byteOffset, shp.byteLength);
  if (shp.length < HEADER || view.getInt32(0) !== 9994) {
    return refuse('not_a_shapefile', 'The .shp file is broken off or is no shapefile.');
  }
  const code = givenCrs ?? (prj === null ? null : epsgOfPrj(prj));
  if (code === null) {
    return refuse(
      'no_crs',
      prj === null
        ? 'The shapefile has no .prj, so nobody can know where it is. Give its system under "crs" in a columns map.'
        : `The .prj names a system whose EPSG code cannot be told (${prj.slice(0, 60)}). Give it under "crs" in a columns map.`,
    );
  }
  const crs = crsOf(code);
  if (!crs.ok) return crs;
  const rows = dbf ? readDbf(dbf, cpg) : null;
  if (rows && !rows.ok) return rows;
  const table = rows?.ok ? rows.value : { headers: [], rows: [] };
  const features: RawFeature[] = [];
  const faults: FeatureFault[] = [];
  let at = HEADER;
  for (let row = 1; at + 8 <= shp.length; row += 1) {
    const length = view.getInt32(at + 4) * 2;
    const start = at + 8;
    at = start + length;
    if (length < 4 || at > shp.length) {
      faults.push(
        fault('bad_geometry', row, 'a broken record', `Record ${row} breaks off; it and what follows were left out.`),
      );
      break;
    }
    const fields = table.rows[row - 1] ?? {};
    const made = recordOf(new DataView(shp.buffer, shp.byteOffset + start, length), row, code);
    if (typeof made === 'string') faults.push(fault('bad_geometry', row, 'a record', made));
    else {
      for (const [i, shape] of made.entries()) {
        features.push({ ...shape, row, fields, piece: made.length > 1 ? i + 1 : null });
      }
    }
  }
  return done({ features, faults, headers: table.headers });
}

type Shape = Pick<RawFeature, 'shape' | 'positions' | 'parts'>;

/** The shapes of a record; a sentence when it cannot be read. */
function recordOf(view: DataView, row: number, crs: string): readonly Shape[] | string {
  const type = view.getInt32(0, true);
  const point = (offset: number): Position => ({
    x: view.getFloat64(offset, true),
    y: view.getFloat64(offset + 8, true),
    crs,
  });
  const size = view.byteLength;
  const kind = type % 10;
  if (type === 0) return [{ shape: 'point', positions: [], parts: [] }];
  if (![1, 3, 5, 8].includes(kind) || type > 28)
    return `Record ${row} is of kind ${type}, which is not read here; it was left out.`;
  if (kind === 1) {
    if (size < 20) return `Record ${row} breaks off; it was left out.`;
    const height = type === 11 && size >= 28 ? view.getFloat64(20, true) : Number.NaN;
    const place = point(4);
    return [
      {
        shape: 'point',
        positions: [Math.abs(height) <= 12_000 ? { ...place, elevation_m: height } : place],
        parts: [],
      },
    ];
  }
  if (size < (kind === 8 ? 40 : 44)) return `Record ${row} breaks off; it was left out.`;
  const [partCount, count] =
    kind === 8 ? [0, view.getInt32(36, true)] : [view.getInt32(36, true), view.getInt32(40, true)];
  const from = kind === 8 ? 40 : 44 + 4 * partCount;
  if (partCount < 0 || count < 1 || from + 16 * count > size)
    return `Record ${row} breaks off or is empty; it was left out.`;
  const positions = Array.from({ length: count }, (_, i) => point(from + 16 * i));
  if (kind === 8) return positions.map((position) => ({ shape: 'point' as const, positions: [position], parts: [] }));
  const starts = Array.from({ length: partCount }, (_, i) => view.getInt32(44 + 4 * i, true));
  if (starts[0] !== 0 || starts.some((start, i) => i > 0 && (start <= (starts[i - 1] as number) || start >= count))) {
    return `Record ${row} has parts that do not follow each other; it was left out.`;
  }
  const parts = starts.map((start, i) => {
    const hole = kind === 5 && turnsLeft(positions.slice(start, starts[i + 1] ?? count));
    return hole ? { from: start, hole } : { from: start };
  });
  return [{ shape: kind === 3 ? 'line' : 'area', positions, parts: parts.length > 1 ? parts : [] }];
}

function turnsLeft(ring: readonly Position[]): boolean {
  let sum = 0;
  ring.forEach((p, i) => {
    const q = ring[(i + 1) % ring.length] as Position;
    sum +=
      (p.x - (ring[0] as Position).x) * (q.y - (ring[0] as Position).y) -
      (q.x - (ring[0] as Position).x) * (p.y - (ring[0] as Position).y);
  });
  return sum > 0;
}
