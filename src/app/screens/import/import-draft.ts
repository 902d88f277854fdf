import type { FileColumns } from '../../../exchange/read/columns';
import type { Field, TableKind } from '../../../exchange/read/headers';
import type { PreviewColumn } from '../../../exchange/read/preview';

/*
 * Corrections to how one table is read, each from one columns map to the next. Only what a person has said is in the map;
 * the rest is understood anew.
 */

/** Another kind of table: what was said of columns means nothing any more, how the text is parted still does. */
export function withTable(before: FileColumns | undefined, table: TableKind): FileColumns {
  const { header_row, skip_rows, delimiter, decimal } = before ?? {};
  return compact({ table, header_row, skip_rows, delimiter, decimal });
}

export function withDelimiter(before: FileColumns, delimiter: NonNullable<FileColumns['delimiter']>): FileColumns {
  return { ...before, delimiter };
}

export function withDecimal(before: FileColumns, decimal: NonNullable<FileColumns['decimal']>): FileColumns {
  return { ...before, decimal };
}

/** Other headers: those that were named before are not there any more. */
export function withHeaderRow(before: FileColumns, headerRow: number): FileColumns {
  const { columns: _, join: __, ignore: ___, ...rest } = before;
  return { ...rest, header_row: headerRow };
}

/**
 * Another meaning of a column; null leaves it out.
 * A second column for the line's name is joined to the first; any other meaning is taken from the column that had it.
 */
export function withMeaning(
  before: FileColumns,
  shown: readonly PreviewColumn[],
  header: string,
  field: Field | null,
): FileColumns {
  const said = new Map<string, Field | null>();
  for (const name of before.ignore ?? []) said.set(name, null);
  for (const [name, meaning] of Object.entries(before.columns ?? {})) said.set(name, (meaning || null) as Field | null);
  for (const [meaning, names] of Object.entries(before.join ?? {})) {
    for (const name of names) said.set(name, meaning as Field);
  }
  said.set(header, field);
  for (const other of shown) {
    if (field === null || other.header === header || other.field !== field) continue;
    said.set(other.header, field === 'line' ? field : null);
  }

  // In the order of the file, so that a joined name reads as its columns do.
  const columns: Record<string, Field | null> = {};
  const join: Record<string, string[]> = {};
  const order = shown.map((column) => column.header);
  const names = [...said.keys()].sort((p, q) => order.indexOf(p) - order.indexOf(q));
  for (const name of names) {
    const meaning = said.get(name) ?? null;
    const together = names.filter((other) => meaning !== null && said.get(other) === meaning);
    if (meaning !== null && together.length > 1) join[meaning] = together;
    else columns[name] = meaning;
  }
  const { ignore: _, ...rest } = before;
  return compact({ ...rest, columns: filled(columns), join: filled(join) });
}

/** A word or number that stands for the whole table; blank takes it back. */
export function withConstant(before: FileColumns, field: Field, text: string): FileColumns {
  const { [field]: _, ...others } = before.constants ?? {};
  const trimmed = text.trim();
  const constants = trimmed === '' ? others : { ...others, [field]: wordOrNumber(trimmed) };
  return compact({ ...before, constants: filled(constants) });
}

export function withGrid(before: FileColumns, grid: FileColumns['grid']): FileColumns {
  return compact({ ...before, grid });
}

/** Whether any column has this meaning. */
export function hasColumn(shown: readonly PreviewColumn[], field: Field): boolean {
  return shown.some((column) => column.field === field);
}

const wordOrNumber = (text: string): string | number => (/^-?\d+(?:\.\d+)?$/.test(text) ? Number(text) : text);

const filled = <T extends object>(record: T): T | undefined => (Object.keys(record).length === 0 ? undefined : record);

/** Without the keys that say nothing: a map has no undefined. */
function compact(columns: FileColumns): FileColumns {
  return Object.fromEntries(Object.entries(columns).filter(([, value]) => value !== undefined)) as FileColumns;
}
