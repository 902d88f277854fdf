import * as z from 'zod/mini';
import type { Note } from '../../survey/note';
import { LENGTH_UNITS } from '../../survey/units';
import { decodeText } from './decode';
import { editDistance, type Field, fieldsOf, TABLE_KINDS } from './headers';
import { type FilePlaces, filePlacesSchema } from './places-map';
import { bareKey } from './vocabulary';

/*
 * The columns map: how to read tables that are not named or headed as ours are. One JSON file for a folder.
 *
 * {
 *   "files": {
 *     "lines 2016.txt": {                        the file's base name, case-blind
 *       "table": "positions",                    positions | readings | legs | remotes | features
 *       "header_row": 1,                         line of the file that holds the headers; 0 = none, columns are "1", "2", …
 *       "skip_rows": 0,                          lines at the top that are no part of the table
 *       "delimiter": ",",                        "," ";" "\t" "|" or "spaces"
 *       "decimal": ".",                          "." or ","
 *       "columns": {                             header as in the file → field of the table; null or "" = not wanted
 *         "Line ID": "line",
 *         "Lon. 1st electrode": "first_lon"
 *       },
 *       "ignore": ["operator"],                  headers that are not wanted, the same as null above
 *       "join": { "line": ["block", "track"] },  a field put together from several columns, parted by a space
 *       "values": { "array": { "W": "wenner_alpha" } },   header or field → what stands in its cells → what it means
 *       "constants": { "unit": "ohm_m", "hookup": "wenner_alpha", "step_m": 5, "electrodes": 48, "epsg": 32614 },
 *       "grid": {                                easting and northing are in a plane grid of the site's own
 *         "name": "field", "unit": "km",         name: the file's own without one; unit m | km | ft | us_survey_ft
 *         "origin_lon_lat": [-122.3, 37.4],      where easting 0, northing 0 is
 *         "bearing_deg": 0                       from true north to the northing axis, clockwise
 *       }
 *     }
 *   }
 * }
 *
 * Files of places (GPX, KML, GeoJSON) have an entry under "places" beside "files", described in `places-map.ts`.
 * Everything but "table" may be left out and is then found as in a table without a map. Headers are matched without
 * regard to case, spaces and punctuation; those that the map does not name are matched as usual.
 * A constant stands for every row whose own cell is blank or that has no such column.
 * Positions may give an electrode's number in `electrode` with the constant `step_m` in place of `chainage_m`, or one row
 * a line with `first_lon first_lat last_lon last_lat` (or `_easting _northing`), a remote electrode in `remote_lon
 * remote_lat`, `step_m`, and `electrodes` (their number; without it, the number that fits the two places best).
 */

const name = z.string().check(z.minLength(1));

const localGridSchema = z.strictObject({
  name: z.optional(name),
  unit: z.enum(LENGTH_UNITS),
  origin_lon_lat: z.tuple([z.number().check(z.gte(-180), z.lte(180)), z.number().check(z.gte(-90), z.lte(90))]),
  bearing_deg: z.optional(z.number()),
});

const fileColumnsSchema = z.strictObject({
  table: z.enum(TABLE_KINDS),
  header_row: z.optional(z.int().check(z.nonnegative())),
  skip_rows: z.optional(z.int().check(z.nonnegative())),
  delimiter: z.optional(z.enum([',', ';', '\t', '|', 'spaces'])),
  decimal: z.optional(z.enum(['.', ','])),
  columns: z.optional(z.record(z.string(), z.nullable(z.string()))),
  ignore: z.optional(z.array(z.string())),
  join: z.optional(z.record(z.string(), z.array(z.string()).check(z.minLength(1)))),
  values: z.optional(z.record(z.string(), z.record(z.string(), z.string()))),
  constants: z.optional(z.record(z.string(), z.union([z.string(), z.number(), z.boolean()]))),
  grid: z.optional(localGridSchema),
});

const columnsMapSchema = z
  .strictObject({
    files: z.optional(z.record(z.string(), fileColumnsSchema)),
    places: z.optional(z.record(z.string(), filePlacesSchema)),
  })
  .check(z.refine(({ files, places }) => files !== undefined || places !== undefined, 'neither "files" nor "places"'));

/** How to read a folder's tables; the keys of `files` are base names. Described at the top of this file. */
export interface ColumnsMap {
  readonly files: Record<string, FileColumns>;
  /** How to read files of places, described in `places-map.ts`. */
  readonly places?: Record<string, FilePlaces>;
}
/** How to read one table. */
export type FileColumns = z.infer<typeof fileColumnsSchema>;

/**
 * Reads a columns map. Null with faults when it is not JSON, not of the shape above, or names a field that its table has
 * not; each fault says where.
 */
export function readColumnsMap(
  bytes: Uint8Array,
  file: string,
): { readonly columns: ColumnsMap | null; readonly notes: Note[] } {
  const notes: Note[] = [];
  const fault = (column: string | null, read: string, expected: string, sentence: string): void => {
    notes.push({ kind: 'fault', file, row: null, column, read, expected, sentence });
  };
  const decoded = decodeText(bytes);
  if (!decoded.ok) {
    fault(null, 'the file', 'a columns map in JSON', decoded.sentence);
    return { columns: null, notes };
  }
  if (decoded.value.guessed) {
    fault(null, decoded.value.encoding, 'UTF-8', 'The columns map is not UTF-8 text. Save it as UTF-8.');
    return { columns: null, notes };
  }
  let json: unknown;
  try {
    json = JSON.parse(decoded.value.text);
  } catch (error) {
    const why = error instanceof Error ? error.message : 'not JSON';
    fault(null, decoded.value.text.trim().slice(0, 40), 'JSON', `The columns map is not JSON: ${why}.`);
    return { columns: null, notes };
  }
  const parsed = columnsMapSchema.safeParse(json);
  if (!parsed.success) {
    for (const issue of parsed.error.issues) {
      const where = issue.path.map(String).join(' › ') || 'the map';
      const read = issue.code === 'unrecognized_keys' ? issue.keys.join(', ') : where;
      fault(where, read, 'the shape of a columns map', `The columns map is wrong at ${where}: ${issue.message}.`);
    }
    return { columns: null, notes };
  }
  const { files = {}, places } = parsed.data;
  for (const [base, columns] of Object.entries(files)) {
    for (const { key, field } of namedFields(columns)) {
      if ((fieldsOf(columns.table) as readonly string[]).includes(field)) continue;
      const where = `files › ${base} › ${key}`;
      const hint = nearest(field, fieldsOf(columns.table));
      fault(
        where,
        field,
        `a field of the ${columns.table} table`,
        `The columns map names "${field}" at ${where}, which a ${columns.table} table has not.${hint} It may be: ${fieldsOf(columns.table).join(', ')}.`,
      );
    }
  }
  return { columns: notes.length > 0 ? null : { files, ...(places ? { places } : {}) }, notes };
}

function* namedFields(columns: FileColumns): Generator<{ key: string; field: string }> {
  for (const [header, field] of Object.entries(columns.columns ?? {})) {
    if (field) yield { key: `columns › ${header}`, field };
  }
  for (const field of Object.keys(columns.join ?? {})) yield { key: 'join', field };
  for (const field of Object.keys(columns.constants ?? {})) yield { key: 'constants', field };
}

function nearest(word: string, fields: readonly Field[]): string {
  const near = fields.find((field) => editDistance(word.toLowerCase(), field, 3) < 3);
  return near ? ` Is ${near} meant?` : '';
}

/** What a survey remembers of how a table was read; null when it is no such thing. */
export function fileColumnsFrom(remembered: unknown): FileColumns | null {
  const parsed = fileColumnsSchema.safeParse(remembered);
  if (!parsed.success) return null;
  const fields: readonly string[] = fieldsOf(parsed.data.table);
  return [...namedFields(parsed.data)].every(({ field }) => fields.includes(field)) ? parsed.data : null;
}

/** Last part of a path, for either kind of slash. */
export function baseName(path: string): string {
  return path.slice(Math.max(path.lastIndexOf('/'), path.lastIndexOf('\\')) + 1);
}

/** What the map says of a file, found by its base name whatever its case; null if it says nothing. */
export function columnsFor(path: string, columns: ColumnsMap | undefined): FileColumns | null {
  const wanted = baseName(path).toLowerCase();
  const entry = Object.entries(columns?.files ?? {}).find(([base]) => base.toLowerCase() === wanted);
  return entry ? entry[1] : null;
}

/** What the map says of a file of places; null if it says nothing. */
export function placesFor(path: string, columns: ColumnsMap | undefined): FilePlaces | null {
  const wanted = baseName(path).toLowerCase();
  const entry = Object.entries(columns?.places ?? {}).find(([base]) => base.toLowerCase() === wanted);
  return entry ? entry[1] : null;
}

/** Header by its key, for the parts of a map that speak of headers. */
export function byHeader<T>(record: Readonly<Record<string, T>> | undefined): ReadonlyMap<string, T> {
  return new Map(Object.entries(record ?? {}).map(([header, value]) => [bareKey(header), value]));
}
