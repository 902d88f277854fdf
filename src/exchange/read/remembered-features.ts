import type { Survey } from '../../survey/survey';
import { type InventoryMapping, readInventoryColumns } from './karst-columns';
import { bareKey } from './vocabulary';

/*
 * How files of karst features were read is remembered beside the maps of tables, in `site.column_mappings`: under
 * `features` what was said of one file, with the headers that it had.
 */

const keyOf = (headers: readonly string[]): string => headers.map(bareKey).join('\u0000');

/** The entry that remembers how a file was read; null where nothing was said. */
export function featuresMapping(file: string, mapping: InventoryMapping, headers: readonly string[]): object | null {
  return Object.keys(mapping).length === 0 ? null : { features: { [file]: mapping }, headers: [...headers] };
}

/** How a file of these headers was read before; the latest way counts. Null when none was. */
export function recallFeatures(survey: Survey, headers: readonly string[]): InventoryMapping | null {
  const wanted = keyOf(headers);
  for (const entry of [...survey.site.column_mappings].reverse()) {
    const { features, headers: own } = entry as { features?: unknown; headers?: unknown };
    if (typeof features !== 'object' || features === null || !Array.isArray(own)) continue;
    if (keyOf(own.map(String)) !== wanted) continue;
    const read = readInventoryColumns({ files: features });
    const [mapping] = read.ok ? Object.values(read.value.files) : [];
    if (mapping) return mapping;
  }
  return null;
}
