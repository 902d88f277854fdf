import proj4 from 'proj4';
import { done, type Outcome, refuse } from '../survey/outcome';
import type { LocalGrid, Position } from '../survey/survey';
import { toMetres } from '../survey/units';
import epsgTable from './epsg-table.json';

export interface LonLat {
  readonly lon: number;
  readonly lat: number;
}

/** A system that coordinates may be given or asked in. `toLonLat` and `fromLonLat` work in degrees and metres. */
export interface Crs {
  readonly code: string;
  readonly name: string;
  readonly unit: 'metre' | 'degree' | 'other';
  /**
   * What taking its datum for WGS 84 may cost, as a 95 % radius in metres. NAD83 and ETRS89 differ from WGS 84 by one
   * or two metres and the difference grows (OSGeo/PROJ issue 4239); a Helmert shift of an older datum is good to some
   * metres (common practice, no source).
   */
  readonly datumUncertainty95M: number;
  toLonLat(x: number, y: number): LonLat;
  fromLonLat(lon: number, lat: number): readonly [x: number, y: number];
}

const WGS84 = '+proj=longlat +datum=WGS84';
const table = epsgTable as unknown as Record<string, readonly [string, string, string?, number?]>;

const REFUSALS: Record<string, string> = {
  grid: 'needs a datum grid file that is not here',
  datum: 'has no shift to WGS 84 in the table that can be relied on',
  axis: 'counts to the south or west, which is not read here',
  projection: 'uses a projection that cannot be computed here',
};

const known = new Map<string, Outcome<Crs>>();

/** The system of an `EPSG:n` code. Refusals: `unknown_crs`, `crs_needs_grid`, `crs_needs_datum`, `crs_needs_axis`, `crs_needs_projection`. */
export function crsOf(code: string): Outcome<Crs> {
  let outcome = known.get(code);
  if (!outcome) {
    outcome = makeCrs(code);
    known.set(code, outcome);
  }
  return outcome;
}

function makeCrs(code: string): Outcome<Crs> {
  const number = /^EPSG:(\d+)$/i.exec(code)?.[1];
  const row = number === undefined ? undefined : table[number];
  if (!row)
    return refuse(
      'unknown_crs',
      `${code} is not in the table of coordinate systems. Give an EPSG code such as EPSG:32615.`,
    );
  const [name, definition, reason, disagreementM = 0] = row;
  if (reason) {
    const why = REFUSALS[reason] ?? 'cannot be used';
    return refuse(
      `crs_needs_${reason}`,
      `EPSG:${number} (${name}) ${why}. Convert the coordinates first, for example to EPSG:4326 or a UTM zone.`,
    );
  }
  const converter = proj4(WGS84, definition);
  return done({
    code: `EPSG:${number}`,
    name,
    unit: unitOf(definition),
    datumUncertainty95M: Math.max(datumUncertainty95M(definition), disagreementM),
    toLonLat(x, y) {
      const [lon, lat] = converter.inverse([x, y]) as [number, number];
      return { lon, lat };
    },
    fromLonLat: (lon, lat) => converter.forward([lon, lat]) as [number, number],
  });
}

function unitOf(definition: string): Crs['unit'] {
  if (definition.includes('+proj=longlat')) return 'degree';
  return /\+units=(?!m\b)|\+to_meter=/.test(definition) ? 'other' : 'metre';
}

function datumUncertainty95M(definition: string): number {
  if (/\+datum=WGS84|\+nadgrids=@null|\+ellps=WGS84/.test(definition)) return 0;
  const shift = /\+towgs84=([^ ]+)/.exec(definition)?.[1];
  const shifted = shift?.split(',').some((parameter) => Number(parameter) !== 0);
  return shifted ? 5 : 2;
}

const gridPlanes = new WeakMap<LocalGrid, Plane>();

/**
 * Longitude and latitude of a position as entered, WGS 84 degrees.
 * Refusals: those of `crsOf`, `unknown_grid`, and `outside_crs` for a result that is not on the Earth.
 */
export function toLonLat(position: Position, grids: readonly LocalGrid[]): Outcome<LonLat> {
  let lonLat: LonLat;
  if (position.crs.startsWith('grid:')) {
    const grid = grids.find((candidate) => `grid:${candidate.name}` === position.crs);
    if (!grid) return refuse('unknown_grid', `The site has no local grid named ${position.crs.slice(5)}.`);
    let plane = gridPlanes.get(grid);
    if (!plane) {
      plane = localPlane(grid.origin_lon, grid.origin_lat);
      gridPlanes.set(grid, plane);
    }
    const bearing = (grid.bearing_deg * Math.PI) / 180;
    const right = toMetres(position.x, grid.unit);
    const ahead = toMetres(position.y, grid.unit);
    lonLat = plane.toLonLat(
      right * Math.cos(bearing) + ahead * Math.sin(bearing),
      ahead * Math.cos(bearing) - right * Math.sin(bearing),
    );
  } else if (position.crs === 'EPSG:4326') {
    lonLat = { lon: position.x, lat: position.y };
  } else {
    const crs = crsOf(position.crs);
    if (!crs.ok) return crs;
    lonLat = crs.value.toLonLat(position.x, position.y);
  }
  if (!(Math.abs(lonLat.lat) <= 90 && Math.abs(lonLat.lon) <= 180)) {
    return refuse(
      'outside_crs',
      `${position.x}, ${position.y} in ${position.crs} is not a place on the Earth. Are longitude and latitude swapped, or is the code wrong?`,
    );
  }
  return done(lonLat);
}

/** What the datum of a position adds to its uncertainty, 95 % radius in metres; 0 for WGS 84 and local grids. */
export function datumUncertaintyOf(crsCode: string): number {
  if (crsCode === 'EPSG:4326' || crsCode.startsWith('grid:')) return 0;
  const crs = crsOf(crsCode);
  return crs.ok ? crs.value.datumUncertainty95M : 0;
}

/** Read once: every line has a plane of its own, and reading a definition costs more than placing a hundred points. */
const LON_LAT = new proj4.Proj(WGS84);

export interface Plane {
  toPlane(lon: number, lat: number): readonly [x: number, y: number];
  toLonLat(x: number, y: number): LonLat;
}

/**
 * The metric plane of a line or a cluster: transverse Mercator of scale 1 centred on it, x east and y north in metres.
 * Its lengths are those of the ellipsoid to 0.05 mm within 2.5 km.
 */
export function localPlane(lon: number, lat: number): Plane {
  const converter = proj4(LON_LAT, `+proj=tmerc +lat_0=${lat} +lon_0=${lon} +k=1 +datum=WGS84`);
  return {
    toPlane: (lonDeg, latDeg) => converter.forward([lonDeg, latDeg]) as [number, number],
    toLonLat(x, y) {
      const [lonDeg, latDeg] = converter.inverse([x, y]) as [number, number];
      return { lon: lonDeg, lat: latDeg };
    },
  };
}
