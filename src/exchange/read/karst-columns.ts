import * as z from 'zod/mini';
import { done, type Outcome, refuse } from '../../survey/outcome';
import type { RawFeature } from './karst-raw';
import { bareKey } from './vocabulary';

/*
 * How to read foreign tables and attribute lists of features: one JSON file.
 *
 * {
 *   "files": {
 *     "caves.csv": {                                the base name, case-blind; "*" = every other file
 *       "columns": { "FEATURE_CLASS": "type", "Remark": null },   header → field; null = kept as written, not understood
 *       "values": { "type": { "Valley": null, "Карст": "sinkhole_unknown" } },   cell → meaning; null = the row is not wanted
 *       "constants": { "type": "spring", "source": "County list", "accuracy_m": 30 },
 *       "crs": "EPSG:26915"                         system of easting and northing, or of a shapefile without a .prj
 *     }
 *   }
 * }
 */

/** What a column may mean, with the headers that are taken for it without being told. */
export const INVENTORY_FIELDS = {
  external_id: ['id', 'fid', 'objectid', 'gid', 'featureid', 'refnum', 'relateid', 'uid', 'code', '(id)'],
  type: ['featuretype', 'kind', 'class', 'featureclass', 'category', 'karsttype', 'feattype'],
  name: ['featurename', 'title', 'label', 'название'],
  status: ['state', 'verification', 'truesink'],
  source: ['rptsource', 'reportedby', 'origin'],
  confidentiality: ['confidential', 'protection', 'sensitivity'],
  note: ['notes', 'comment', 'comments', 'remark', 'remarks', 'description', 'descriptionraw', 'desc', 'примечание'],
  observed_at: ['date', 'observed', 'eventdate', 'dateobserved', 'time', 'дата'],
  entered_at: ['dateadd', 'datecreated', 'entered', 'created'],
  length_m: ['length', 'sinlngth', 'longaxism', 'longaxis', 'diameter', 'diameterm'],
  width_m: ['width', 'sinwidth', 'shortaxis', 'shortaxism'],
  depth_m: ['depth', 'sindepth'],
  long_axis_deg: ['azimuth', 'orientation', 'longaxisazimuth', 'trend', 'strike'],
  water: ['watsin', 'hydrology'],
  accuracy_m: ['accuracy', 'uncertainty', 'hacc', 'error', 'errorm', 'r95'],
  accuracy_level: [],
  lon: ['longitude', 'long', 'lng', 'x', 'londec', 'longdec', 'primlongdec', 'decimallongitude', 'primlondec'],
  lat: ['latitude', 'y', 'latdec', 'primlatdec', 'decimallatitude'],
  easting: ['utme', 'utmeasting', 'east', 'utmx'],
  northing: ['utmn', 'utmnorthing', 'north', 'utmy'],
  epsg: ['crs', 'srid'],
  lon_text: ['londms', 'longdms', 'primarylongdms', 'primlongdms', 'longitudedms'],
  lat_text: ['latdms', 'primarylatdms', 'primlatdms', 'latitudedms'],
  place_text: ['coordinates', 'coords', 'position', 'координаты'],
  owner_consent: ['consent', 'ownerconsent', 'landownerconsent'],
  photo: ['photos', 'image', 'images', 'picture'],
} as const satisfies Record<string, readonly string[]>;

export type InventoryField = keyof typeof INVENTORY_FIELDS;
const FIELDS = Object.keys(INVENTORY_FIELDS) as InventoryField[];

const mappingSchema = z.strictObject({
  columns: z.optional(z.record(z.string(), z.nullable(z.string()))),
  values: z.optional(z.record(z.string(), z.record(z.string(), z.nullable(z.string())))),
  constants: z.optional(z.record(z.string(), z.union([z.string(), z.number()]))),
  crs: z.optional(z.string()),
});
const columnsSchema = z.strictObject({ files: z.record(z.string(), mappingSchema) });
export type InventoryMapping = z.infer<typeof mappingSchema>;
export type InventoryColumns = z.infer<typeof columnsSchema>;

/** Reads a columns map for features. Refusals: `not_a_map` (where), `unknown_field` (which). */
export function readInventoryColumns(json: unknown): Outcome<InventoryColumns> {
  const parsed = columnsSchema.safeParse(json);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    const where = issue?.path.map(String).join(' › ') || 'the map';
    return refuse('not_a_map', `The columns map is wrong at ${where}: ${issue?.message ?? 'not readable'}.`);
  }
  for (const [file, { columns = {}, constants = {}, values = {} }] of Object.entries(parsed.data.files)) {
    const named = [
      ...Object.values(columns).filter((field) => field !== null),
      ...Object.keys(constants),
      ...Object.keys(values),
    ];
    const wrong = named.find((field) => !(FIELDS as readonly string[]).includes(field));
    if (wrong !== undefined) {
      return refuse('unknown_field', `The columns map names “${wrong}” for ${file}. It may be: ${FIELDS.join(', ')}.`);
    }
  }
  return done(parsed.data);
}

/** What the map says of a file; that under "*" where it does not name it. */
export function mappingFor(baseName: string, map: InventoryColumns | undefined): InventoryMapping {
  const entries = Object.entries(map?.files ?? {});
  const own = entries.find(([name]) => name.toLowerCase() === baseName.toLowerCase());
  return (own ?? entries.find(([name]) => name === '*'))?.[1] ?? {};
}

/** A column of a file and what it was taken for: what a preview shows. */
export interface ColumnMeaning {
  readonly header: string;
  readonly field: InventoryField | null;
  readonly said: boolean;
}

/** Which column is which field: as the map says, else by the header; a field is taken by the first that fits. */
export function columnMeanings(headers: readonly string[], mapping: InventoryMapping): readonly ColumnMeaning[] {
  const said = new Map(Object.entries(mapping.columns ?? {}).map(([header, field]) => [bareKey(header), field]));
  const taken = new Set<string>([...said.values()].flatMap((field) => field ?? []));
  const exact = new Set(headers.map(bareKey));
  return headers.map((header) => {
    const key = bareKey(header);
    if (said.has(key)) return { header, field: (said.get(key) ?? null) as InventoryField | null, said: true };
    const field = FIELDS.find(
      (candidate) =>
        bareKey(candidate) === key ||
        header.toLowerCase() === candidate ||
        ((INVENTORY_FIELDS[candidate] as readonly string[]).includes(header === '(id)' ? header : key) &&
          !exact.has(bareKey(candidate))),
    );
    if (field === undefined || taken.has(field)) return { header, field: null, said: false };
    taken.add(field);
    return { header, field, said: false };
  });
}

/** What a feature says of a field, as text; null where its file says nothing. */
export type CellOf = (raw: RawFeature, field: InventoryField) => string | null;

/** Where the cells of a field are, what they mean, and what stands for a blank one. */
export interface FieldSource {
  readonly header: string | undefined;
  readonly meanings: ReadonlyMap<string, string | null> | undefined;
  readonly constant: string | null;
}

/** The fields that a file says anything of. */
export function fieldSources(
  columns: readonly ColumnMeaning[],
  { values, constants }: InventoryMapping,
): ReadonlyMap<InventoryField, FieldSource> {
  const headers = new Map(columns.flatMap(({ header, field }) => (field ? [[field, header] as const] : [])));
  const sources = new Map<InventoryField, FieldSource>();
  for (const field of [...headers.keys(), ...(Object.keys(constants ?? {}) as InventoryField[])]) {
    const words = values?.[field];
    const constant = constants?.[field];
    sources.set(field, {
      header: headers.get(field),
      meanings: words && new Map(Object.entries(words).map(([word, meaning]) => [bareKey(word), meaning])),
      constant: constant === undefined ? null : String(constant),
    });
  }
  return sources;
}

/** Reads cells by field, by way of the meanings and constants of the map. */
export function cellsFrom(sources: ReadonlyMap<InventoryField, FieldSource>): CellOf {
  return (raw, field) => {
    const source = sources.get(field);
    if (source === undefined) return null;
    const text = source.header === undefined ? undefined : raw.fields[source.header];
    const meaning = text === undefined ? undefined : source.meanings?.get(bareKey(text));
    const said = meaning === undefined ? text : (meaning ?? undefined);
    return said ?? source.constant;
  };
}
