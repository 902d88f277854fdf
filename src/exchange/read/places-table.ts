import type { Position } from '../../survey/survey';
import { bindColumns } from './bind-columns';
import { decodeText } from './decode';
import { matchHeaders } from './headers';
import { Notebook } from './notebook';
import { hasPlace, noteUnusedPair, readPlace } from './place';
import { type PlacesFile, PlacesGathering } from './places-file';
import { layOut, openSheet } from './table';

/*
 * Tables of plain places: coordinates and a name, and no column that says which line. Cells are read as those of every
 * other table: any delimiter, degrees and minutes, a decimal comma.
 */

/** Text that is looked at to tell which table it is. */
const HEAD_LENGTH = 65_536;

/** Fields that make a table one of the survey's own kinds. */
const TELLING = {
  positions: ['line', 'chainage_m', 'electrode', 'first_lon', 'first_easting', 'last_lon', 'last_easting'],
  readings: ['value', 'midpoint_m', 'spacing_m'],
  legs: ['bearing_deg', 'distance_m'],
  remotes: ['outing'],
  features: ['type'],
} as const;

/** Whether a file is a table of coordinates that no other kind of table would claim. */
export function isPlainPlaces(bytes: Uint8Array, fileName: string): boolean {
  const decoded = decodeText(bytes);
  if (!decoded.ok) return false;
  const scratch = new Notebook(fileName);
  const laid = layOut(decoded.value.text.slice(0, HEAD_LENGTH), 'features', null, scratch, 'as_read');
  if (laid === null || laid.headerRow === null) return false;
  const { columns } = bindColumns('features', laid, null, scratch);
  const placed = (columns.has('lon') && columns.has('lat')) || (columns.has('easting') && columns.has('northing'));
  if (!placed) return false;
  return Object.entries(TELLING).every(([kind, fields]) => {
    const matches = matchHeaders(kind as keyof typeof TELLING, laid.headers, false);
    return !matches.some((match) => match && (fields as readonly string[]).includes(match.field));
  });
}

/** Reads a table of plain places; null with faults where it cannot be parted. */
export function readPlacesTable(bytes: Uint8Array, notes: Notebook): PlacesFile | null {
  const sheet = openSheet(bytes, 'features', null, notes);
  if (sheet === null) return null;
  const places = new PlacesGathering('table', notes);
  noteUnusedPair(sheet);
  let blank = 0;
  for (const row of sheet.rows) {
    const troubles = notes.troubles;
    const name = sheet.text(row, 'name');
    const place = hasPlace(sheet) ? readPlace(sheet, row) : null;
    const time = places.time(sheet.text(row, 'time'), row.row);
    if (place === null) {
      places.leftOut += 1;
      if (notes.troubles === troubles) blank += 1;
      continue;
    }
    const position: Position = { source: 'table', ...place.position, ...(time === null ? {} : { time }) };
    places.point({ position, lonLat: place.lonLat, row: row.row }, { name, remark: sheet.text(row, 'note') });
  }
  if (blank > 0) {
    notes.skipped(
      { row: null, column: null },
      `${blank} without a place`,
      'coordinates',
      `${notes.label}: ${blank} of its ${sheet.rows.length} rows have no coordinates and were left out.`,
    );
  }
  return places.finish();
}
