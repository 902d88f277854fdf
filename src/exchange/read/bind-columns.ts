import { byHeader, type FileColumns } from './columns';
import { type Field, type HeaderMatch, matchHeaders, matchMapped, nearestField, type TableKind } from './headers';
import type { LaidOut } from './laid-out';
import type { Notebook, Where } from './notebook';
import type { Column, SheetRow } from './sheet';
import { bareKey } from './vocabulary';

/** What the columns mean. */
export interface Bound {
  readonly columns: ReadonlyMap<Field, Column>;
  readonly joins: ReadonlyMap<Field, readonly Column[]>;
  /** Columns whose meaning another column had taken already; each is a fault. */
  readonly clashing: readonly Column[];
  readonly unmatched: readonly string[];
}

/** Finds what each column means, by the map and by the usual names. What is wrong is a fault in the notebook. */
export function bindColumns(
  kind: TableKind,
  { headers, headerRow, body }: LaidOut,
  map: FileColumns | null,
  notes: Notebook,
): Bound {
  const renames = byHeader(map?.columns);
  const ignored = new Set((map?.ignore ?? []).map(bareKey));
  const values = byHeader(map?.values);
  const joinedKeys = new Set(Object.values(map?.join ?? {}).flatMap((parts) => parts.map(bareKey)));
  const renamedEpsg = Object.values(map?.columns ?? {}).includes('epsg');
  const projected = map?.grid !== undefined || map?.constants?.epsg !== undefined || renamedEpsg;
  const usual = headerRow === null ? headers.map(() => null) : matchHeaders(kind, headers, projected);
  const present = new Map(headers.map((header, index) => [bareKey(header), index]));

  const used = headers.includes('') ? usedColumns(body, headers) : new Set<number>();
  const columns = new Map<Field, Column>();
  const clashing: Column[] = [];
  const unmatched: string[] = [];
  const columnOf = (index: number, match: HeaderMatch): Column => {
    const header = headers[index] ?? '';
    const words = values.get(bareKey(header));
    return {
      ...match,
      index,
      header: header || String(index + 1),
      values: words ? lowerKeys(words) : null,
    };
  };
  headers.forEach((header, index) => {
    const key = bareKey(header);
    const where: Where = { row: headerRow, column: header || String(index + 1) };
    const renamed = key === '' ? undefined : renames.get(key);
    if (renamed === null || renamed === '' || (key !== '' && ignored.has(key))) return;
    const match = renamed === undefined ? (usual[index] ?? null) : matchMapped(kind, renamed as Field, header);
    if (renamed === undefined && joinedKeys.has(key)) return;
    if (!match) {
      noteUnmatched(kind, header, index, used, where, notes);
      if (header !== '') unmatched.push(header);
      return;
    }
    const before = columns.get(match.field);
    if (before) {
      clashing.push(columnOf(index, match));
      notes.fault(
        where,
        header,
        `one column for ${match.field}`,
        `${notes.label}: the columns "${before.header}" and "${header}" both mean ${match.field}. Remove one, or say in a columns map which to ignore.`,
      );
      return;
    }
    if (match.doubt) {
      notes.guessed(
        where,
        header,
        match.field,
        `${notes.label}: "${header}" was read as ${match.field}; it would be ${match.doubt}.`,
      );
    }
    columns.set(match.field, columnOf(index, match));
  });

  const joins = new Map<Field, readonly Column[]>();
  for (const [field, parts] of Object.entries(map?.join ?? {})) {
    const found = parts.flatMap((part) => {
      const index = present.get(bareKey(part));
      return index === undefined ? [] : [columnOf(index, matchMapped(kind, field as Field, ''))];
    });
    joins.set(field as Field, found);
  }
  const asked = [
    ...Object.entries(map?.columns ?? {}).flatMap(([header, field]) => (field ? [header] : [])),
    ...Object.values(map?.join ?? {}).flat(),
  ];
  for (const header of asked) {
    if (present.has(bareKey(header))) continue;
    notes.fault(
      { row: headerRow, column: header },
      headers.join(', '),
      `a column "${header}"`,
      `${notes.label} has no column "${header}", which the columns map names. It has: ${headers.join(', ')}.`,
    );
  }
  return { columns, joins, clashing, unmatched };
}

/** Which columns without a header have anything in them, in one pass. */
function usedColumns(body: readonly SheetRow[], headers: readonly string[]): ReadonlySet<number> {
  const used = new Set<number>();
  for (const { cells } of body) {
    cells.forEach((cell, index) => {
      if (headers[index] === '' && !used.has(index) && cell.trim() !== '') used.add(index);
    });
  }
  return used;
}

function noteUnmatched(
  kind: TableKind,
  header: string,
  index: number,
  used: ReadonlySet<number>,
  where: Where,
  notes: Notebook,
): void {
  if (header === '') {
    if (!used.has(index)) return;
    notes.skipped(where, '', 'a header', `${notes.label}: column ${index + 1} has no header and was left out.`);
    return;
  }
  const near = nearestField(kind, header);
  notes.skipped(
    where,
    header,
    near ?? 'a known header',
    `${notes.label}: the column "${header}" is not known and was left out.${near ? ` If it is ${near}, rename it or say so in a columns map.` : ''}`,
  );
}

/** Words by their lower-case spelling. */
export function lowerKeys(words: Readonly<Record<string, string>>): ReadonlyMap<string, string> {
  return new Map(Object.entries(words).map(([cell, meaning]) => [cell.trim().toLowerCase(), meaning]));
}
