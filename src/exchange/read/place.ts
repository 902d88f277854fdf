import { accuracyOf, radius95M } from '../../position/accuracy';
import { readAngle } from '../../position/angle-text';
import { readPlaceText } from '../../position/coordinate-text';
import { type LonLat, toLonLat } from '../../position/crs';
import { readZone, zoneEpsg } from '../../position/grid-text';
import type { LocalGrid, Position } from '../../survey/survey';
import { type Field, metresPerUnit } from './headers';
import { type Sheet, type SheetRow, stemOf, withSaid } from './sheet';
import { LONGEST_WORD } from './vocabulary';
import { readWhen } from './when';

/** A place of a table: as entered, and where that is. */
export interface Place {
  readonly position: Position;
  readonly lonLat: LonLat;
}

type Prefix = '' | 'first_' | 'last_' | 'remote_';

/** Names a table's coordinate columns may go by in messages. */
export const COORDINATES = 'lon and lat (or easting, northing and epsg)';

/** A whole place in one cell, MGRS among others. */
const WRITTEN = 'coordinates' as Field;

const field = (prefix: Prefix, name: 'lon' | 'lat' | 'easting' | 'northing'): Field => `${prefix}${name}` as Field;

/** Whether the table has columns for such a place. */
export function hasPlace(sheet: Sheet, prefix: Prefix = ''): boolean {
  return (
    (sheet.has(field(prefix, 'lon')) && sheet.has(field(prefix, 'lat'))) ||
    (sheet.has(field(prefix, 'easting')) && sheet.has(field(prefix, 'northing'))) ||
    (prefix === '' && sheet.has(WRITTEN))
  );
}

/** Says that easting and northing go unused beside lon and lat. */
export function noteUnusedPair(sheet: Sheet): void {
  if (!sheet.has('lon') || !sheet.has('easting')) return;
  sheet.notes.skipped(
    sheet.where(null, 'easting'),
    'easting, northing',
    'one pair of coordinates',
    `${sheet.file} has lon and lat and also easting and northing; lon and lat were taken where they are given.`,
  );
}

/** The local grid that a columns map gives a table; null without one. Named after the file unless the map names it. */
export function gridOf(sheet: Sheet): LocalGrid | null {
  const grid = sheet.map?.grid;
  if (!grid) return null;
  const [lon, lat] = grid.origin_lon_lat;
  return {
    name: grid.name ?? stemOf(sheet.file),
    unit: grid.unit,
    origin_lon: lon,
    origin_lat: lat,
    bearing_deg: grid.bearing_deg ?? 0,
  };
}

/**
 * Reads the place of a row. Null when its cells are blank, null with a fault when they are no place: half a pair, no
 * number, off the Earth, an unknown coordinate system.
 * @param details what else is known of the place; the row's own place has the row's details.
 */
export function readPlace(sheet: Sheet, row: SheetRow, prefix: Prefix = '', details?: Partial<Position>): Place | null {
  const given = sheet.text(row, field(prefix, 'lon')) ?? sheet.text(row, field(prefix, 'lat'));
  const more = () => details ?? (prefix === '' ? readPlaceDetails(sheet, row) : {});
  if (given !== null) return readLonLat(sheet, row, prefix, more);
  const written = prefix === '' ? sheet.text(row, WRITTEN) : null;
  const isProjected = sheet.text(row, field(prefix, 'easting')) ?? sheet.text(row, field(prefix, 'northing'));
  return written !== null && isProjected === null
    ? readWritten(sheet, row, written, more)
    : readProjected(sheet, row, prefix, more);
}

/** Cells of this side and less say where a thing is; larger ones only about where. */
const EXACT_CELL_M = 1;

function readWritten(sheet: Sheet, row: SheetRow, text: string, details: () => Partial<Position>): Place | null {
  const grid = gridOf(sheet);
  const code = grid ? `grid:${grid.name}` : sheet.text(row, 'epsg') === null ? null : readEpsg(sheet, row, null);
  if (code === null && !grid && sheet.text(row, 'epsg') !== null) return null;
  const read = readPlaceText(text, { crs: code, grids: grid ? [grid] : [] });
  if (!read.ok) {
    const where = sheet.where(row, WRITTEN);
    sheet.notes.fault(where, text, 'a place', `${sheet.file}, row ${row.row}: ${where.column}: ${read.sentence}`);
    return null;
  }
  const { x, y, crs, lonLat, asEntered, cellM, order } = read.value;
  if (order === 'assumed') {
    sheet.notes.guessedOnce(
      'latitude first',
      sheet.where(row, WRITTEN),
      text,
      'latitude, then longitude',
      `${sheet.file}: two plain numbers in ${sheet.where(row, WRITTEN).column} were taken for latitude, then longitude. Give them columns of their own, lat and lon, if it is the other way round.`,
    );
  }
  const position: Position = { x, y, crs, ...(asEntered ? { as_entered: [...asEntered] } : {}), ...details() };
  return { position: cellM !== null && cellM > EXACT_CELL_M ? withCell(position, cellM) : position, lonLat };
}

/** The middle of a cell is as far from its corners as that; a place in it is no surer, whatever the device said. */
function withCell(position: Position, cellM: number): Position {
  const radius = Math.hypot(radius95M(accuracyOf(position).sigmaM), cellM / Math.SQRT2);
  return { ...position, accuracy_m: Math.round(radius * 10) / 10, accuracy_level: 95 };
}

function readLonLat(sheet: Sheet, row: SheetRow, prefix: Prefix, details: () => Partial<Position>): Place | null {
  const [lonField, latField] = [field(prefix, 'lon'), field(prefix, 'lat')];
  const lonText = sheet.text(row, lonField);
  const latText = sheet.text(row, latField);
  const lon = readDegrees(sheet, row, lonField, lonText, 'lon');
  const lat = readDegrees(sheet, row, latField, latText, 'lat');
  if (lon === null || lat === null) return null;
  if (!inRange(sheet, row, lonField, latField, lon.deg, lat.deg)) return null;

  // The code of lon and lat matters only where it is not that of easting and northing beside them.
  const code = sheet.has(field(prefix, 'easting')) ? 'EPSG:4326' : (readEpsg(sheet, row, null) ?? 'EPSG:4326');
  const asEntered = lon.composed || lat.composed ? { as_entered: [lonText ?? '', latText ?? ''] } : {};
  const position: Position = { x: lon.deg, y: lat.deg, crs: code, ...asEntered, ...details() };
  if (code !== 'EPSG:4326') {
    const placed = toLonLat(position, []);
    // A geographic code moves a point by its datum only; a projected one would throw degrees across the Earth.
    if (placed.ok && Math.hypot(placed.value.lon - lon.deg, placed.value.lat - lat.deg) > 0.05) {
      sheet.wrong(
        row,
        'epsg',
        code,
        `a code of longitude and latitude, such as 4326, beside ${lonField} and ${latField}`,
      );
      return null;
    }
  }
  return locate(sheet, row, position);
}

function readDegrees(sheet: Sheet, row: SheetRow, name: Field, text: string | null, axis: 'lon' | 'lat') {
  const expected = axis === 'lon' ? 'a longitude' : 'a latitude';
  if (text === null) {
    sheet.wrong(row, name, '', `${expected}, since its partner is given`);
    return null;
  }
  const angle = readAngle(text);
  if (!angle.ok) {
    const hint =
      angle.code === 'not_an_angle' ? ` in degrees, such as 47.5125 or 47° 30' 45" N` : `: ${angle.sentence}`;
    sheet.wrong(row, name, text, expected + hint);
    return null;
  }
  if (angle.value.axis !== null && angle.value.axis !== axis) {
    sheet.wrong(row, name, text, `${expected}; its letter says otherwise, so lon and lat are probably swapped`);
    return null;
  }
  return angle.value;
}

function inRange(sheet: Sheet, row: SheetRow, lonField: Field, latField: Field, lon: number, lat: number): boolean {
  if (Math.abs(lat) <= 90 && Math.abs(lon) <= 180) return true;
  if (Math.abs(lat) > 90 && Math.abs(lat) <= 180 && Math.abs(lon) <= 90) {
    sheet.wrong(row, latField, String(lat), 'a latitude from -90 to 90; lon and lat are probably swapped');
    return false;
  }
  if (Math.abs(lat) > 90) sheet.wrong(row, latField, String(lat), 'a latitude from -90 to 90 degrees');
  if (Math.abs(lon) > 180) sheet.wrong(row, lonField, String(lon), 'a longitude from -180 to 180 degrees');
  return false;
}

function readProjected(sheet: Sheet, row: SheetRow, prefix: Prefix, details: () => Partial<Position>): Place | null {
  const [eastField, northField] = [field(prefix, 'easting'), field(prefix, 'northing')];
  if (sheet.text(row, eastField) === null && sheet.text(row, northField) === null) return null;
  // Both are read before either is judged, so that a row with two faults tells both.
  const easting = sheet.number(row, eastField);
  const northing = sheet.number(row, northField);
  if (sheet.text(row, eastField) === null) sheet.wrong(row, eastField, '', 'an easting, since the northing is given');
  if (sheet.text(row, northField) === null) sheet.wrong(row, northField, '', 'a northing, since the easting is given');
  const crs = crsOfRow(sheet, row, eastField, easting === null || northing === null ? null : [easting, northing]);
  if (easting === null || northing === null || crs === null) return null;
  return locate(sheet, row, { x: easting, y: northing, crs, ...details() });
}

type Pair = readonly [easting: number, northing: number];

function crsOfRow(sheet: Sheet, row: SheetRow, eastField: Field, pair: Pair | null): string | null {
  const unit = sheet.lengthUnit(eastField);
  const grid = gridOf(sheet);
  if (grid) {
    const stated = metresPerUnit(grid.unit.replaceAll('_', ''));
    if (unit !== null && metresPerUnit(unit) !== stated) {
      const where = sheet.where(null, eastField);
      sheet.notes.faultOnce(
        'grid unit',
        where,
        unit,
        grid.unit,
        `${sheet.file}: the header says ${unit}, the grid in the columns map says ${grid.unit}. Make them agree.`,
      );
      return null;
    }
    return `grid:${grid.name}`;
  }
  // Without both numbers a zone says nothing; what is wrong with them has been told already.
  if (pair === null && readZone(sheet.text(row, 'epsg') ?? '')) return null;
  const code = readEpsg(sheet, row, pair);
  if (code === null) {
    // One that is there and cannot be read has been told already.
    if (sheet.text(row, 'epsg') !== null) return null;
    const where = sheet.where(row, 'epsg');
    sheet.notes.faultOnce(
      'no epsg',
      sheet.has('epsg') ? where : { row: sheet.headerRow ?? 1, column: 'epsg' },
      '',
      'an EPSG code',
      `${sheet.file}: easting and northing mean nothing without their EPSG code. Add an epsg column (32615, say), a constant, or a grid in a columns map.`,
    );
    return null;
  }
  if (unit !== null && metresPerUnit(unit) !== 1) {
    sheet.notes.guessedOnce(
      'projected unit',
      sheet.where(null, eastField),
      unit,
      `the unit of ${code}`,
      `${sheet.file}: easting and northing were taken as they stand, in the unit of ${code} itself.`,
    );
  }
  return code;
}

/** The row's code; beside an easting and a northing also a UTM zone, such as 32N, 32T or "zone 15 north". */
function readEpsg(sheet: Sheet, row: SheetRow, pair: Pair | null): string | null {
  const text = sheet.text(row, 'epsg');
  if (text === null) return null;
  const zone = pair && readZone(text);
  if (zone) {
    const code = zoneEpsg(zone, ...pair);
    if (code.ok) return code.value;
    const where = sheet.where(row, 'epsg');
    sheet.notes.fault(where, text, 'a UTM zone', `${sheet.file}, row ${row.row}: ${where.column}: ${code.sentence}`);
    return null;
  }
  const digits = /^(?:epsg)?[\s:]*(\d{4,6})$/i.exec(text)?.[1];
  if (digits === undefined) {
    sheet.wrong(row, 'epsg', text, 'an EPSG code such as 32615');
    return null;
  }
  return `EPSG:${digits}`;
}

function locate(sheet: Sheet, row: SheetRow, position: Position): Place | null {
  const grid = gridOf(sheet);
  const placed = toLonLat(position, grid ? [grid] : []);
  if (placed.ok) return { position, lonLat: placed.value };
  const isCode = placed.code !== 'outside_crs';
  // An unusable code is unusable in every row; a place off the Earth is the row's own fault.
  const where = sheet.where(row, isCode ? 'epsg' : 'easting');
  const read = isCode ? position.crs : `${position.x}, ${position.y}`;
  const expected = isCode ? 'a coordinate system that can be computed here' : `a place in ${position.crs}`;
  const sentence = `${sheet.file}, row ${row.row}: ${placed.sentence}`;
  if (isCode) sheet.notes.faultOnce(`${placed.code} ${position.crs}`, where, read, expected, sentence);
  else sheet.notes.fault(where, read, expected, sentence);
  return null;
}

/** Elevation, accuracy, source, device and time of a row's place, those that are blank left out. */
export function readPlaceDetails(sheet: Sheet, row: SheetRow): Partial<Position> {
  const elevation = sheet.number(row, 'elevation_m');
  const accuracy = sheet.number(row, 'accuracy_m');
  if (accuracy !== null && accuracy < 0) sheet.wrong(row, 'accuracy_m', String(accuracy), 'a radius of 0 m or more');
  const level = sheet.word(row, 'accuracy_level', readLevel, ['68', '95']);
  const hdop = sheet.number(row, 'hdop');
  const source = sheet.text(row, 'source');
  const device = sheet.text(row, 'device');
  // A reading's or a feature's time is its own, not that of the place.
  const time = sheet.kind === 'positions' || sheet.kind === 'remotes' ? readWhen(sheet, row) : null;
  return withSaid<Partial<Position>>(
    {},
    { elevation_m: elevation, accuracy_m: accuracy, accuracy_level: level, hdop, source, device, time },
  );
}

function readLevel(text: string): 68 | 95 | null {
  if (text.length > LONGEST_WORD) return null;
  const level = text.replace(/\s*%$/, '');
  return level === '68' ? 68 : level === '95' ? 95 : null;
}
