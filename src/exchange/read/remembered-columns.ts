import type { Survey } from '../../survey/survey';
import { type ColumnsMap, type FileColumns, fileColumnsFrom } from './columns';
import { TABLE_KINDS } from './headers';
import { type FilePlaces, filePlacesFrom } from './places-map';
import { headersOf } from './preview';
import { bareKey } from './vocabulary';

/*
 * A survey remembers how its tables were read, so that the next file of the same headers is read alike. Each entry of
 * `site.column_mappings` is a columns map of one file, which the command line takes as it is, with the headers that the
 * file had.
 */

interface Entry {
  readonly files: ColumnsMap['files'];
  readonly headers: readonly string[];
}

const keyOf = (headers: readonly string[]): string => headers.map(bareKey).join('\u0000');

/** The survey with a map remembered for each file; a file that needs no map is not remembered. */
export function rememberColumns(
  survey: Survey,
  columns: ColumnsMap,
  headersByFile: ReadonlyMap<string, readonly string[]>,
): Survey {
  let mappings: readonly object[] = survey.site.column_mappings;
  for (const [file, of] of Object.entries(columns.files)) {
    const headers = headersByFile.get(file);
    if (!headers || needsNoMap(file, of)) continue;
    const entry: Entry = { files: { [file]: of }, headers };
    if (mappings.some((known) => JSON.stringify(known) === JSON.stringify(entry))) continue;
    mappings = [...mappings.filter((known) => !(isEntry(known) && keyOf(known.headers) === keyOf(headers))), entry];
  }
  if (mappings === survey.site.column_mappings) return survey;
  const { revised } = survey.site;
  const site = { ...survey.site, column_mappings: mappings, revised: { ...revised, count: revised.count + 1 } };
  return { ...survey, site };
}

/** How a file of these headers was read before; the latest way counts. Null when none was. */
export function recallColumns(survey: Survey, bytes: Uint8Array, fileName: string): FileColumns | null {
  for (const { files, headers } of survey.site.column_mappings.filter(isEntry).reverse()) {
    const columns = fileColumnsFrom(Object.values(files)[0]);
    if (columns === null) continue;
    const own = headersOf(bytes, fileName, columns);
    if (own !== null && keyOf(own) === keyOf(headers)) return columns;
  }
  return null;
}

/** The survey with how its files of places were read remembered by their names. */
export function rememberPlaces(survey: Survey, places: ColumnsMap['places']): Survey {
  let mappings: readonly object[] = survey.site.column_mappings;
  for (const [file, of] of Object.entries(places ?? {})) {
    const entry = { places: { [file]: of } };
    if (Object.keys(of).length === 0 || mappings.some((known) => JSON.stringify(known) === JSON.stringify(entry)))
      continue;
    mappings = [...mappings.filter((known) => !(isPlacesEntry(known) && file in known.places)), entry];
  }
  if (mappings === survey.site.column_mappings) return survey;
  const { revised } = survey.site;
  const site = { ...survey.site, column_mappings: mappings, revised: { ...revised, count: revised.count + 1 } };
  return { ...survey, site };
}

/** How a file of places of this name was read before; null when none was. */
export function recallPlaces(survey: Survey, file: string): FilePlaces | null {
  const entry = survey.site.column_mappings.filter(isPlacesEntry).find(({ places }) => file in places);
  return filePlacesFrom(entry?.places[file]);
}

const isPlacesEntry = (mapping: object): mapping is { readonly places: Readonly<Record<string, unknown>> } => {
  const { places } = mapping as { places?: unknown };
  return typeof places === 'object' && places !== null;
};

/** A table named and headed as ours are. */
function needsNoMap(file: string, columns: FileColumns): boolean {
  const stem = file.replace(/\.[^.]*$/, '').toLowerCase();
  return TABLE_KINDS.some((kind) => kind === stem && kind === columns.table) && Object.keys(columns).length === 1;
}

function isEntry(mapping: object): mapping is Entry {
  const { files, headers } = mapping as Partial<Entry>;
  return typeof files === 'object' && Array.isArray(headers);
}
