import { done, type Outcome, refuse } from '../../survey/outcome';

/* Attribute tables of shapefiles: dBASE III, fixed widths, every cell as text. */

export interface DbfTable {
  readonly headers: readonly string[];
  /** In the order of the records; a record that is marked as deleted is blank. */
  readonly rows: readonly Readonly<Record<string, string>>[];
}

const LABELS: readonly (readonly [RegExp, string])[] = [
  [/utf-?8|65001/i, 'utf-8'],
  [/1251/, 'windows-1251'],
  [/1250/, 'windows-1250'],
  [/8859-?1|1252|latin1/i, 'windows-1252'],
  [/866/, 'ibm866'],
];

/** Reads a .dbf. Refusal: `not_a_dbf`. Without a said encoding: UTF-8 where that is possible, else Windows-1252. */
export function readDbf(bytes: Uint8Array, encoding: string | null): Outcome<DbfTable> {
  const broken = refuse('not_a_dbf', 'The .dbf beside the shapefile is broken off or damaged.');
  if (bytes.length < 33) return broken;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const [count, headerLength, rowLength] = [view.getUint32(4, true), view.getUint16(8, true), view.getUint16(10, true)];
  if (rowLength === 0 || headerLength > bytes.length) return broken;
  const label = LABELS.find(([pattern]) => encoding !== null && pattern.test(encoding))?.[1] ?? null;
  const textOf = (from: number, length: number): string => {
    const piece = bytes.subarray(from, from + length);
    if (label !== null) return new TextDecoder(label).decode(piece);
    try {
      return new TextDecoder('utf-8', { fatal: true }).decode(piece);
    } catch {
      return new TextDecoder('windows-1252').decode(piece);
    }
  };
  const columns: { name: string; from: number; length: number }[] = [];
  let offset = 1;
  for (let at = 32; at + 32 <= headerLength && bytes[at] !== 0x0d; at += 32) {
    const length = bytes[at + 16] as number;
    const name = textOf(at, 11)
      .replace(/\0[\s\S]*$/, '')
      .trim();
    columns.push({ name, from: offset, length });
    offset += length;
  }
  const rows: Record<string, string>[] = [];
  for (let i = 0; i < count; i += 1) {
    const start = headerLength + i * rowLength;
    if (start + rowLength > bytes.length) break;
    const row: Record<string, string> = {};
    // 2A marks a deleted record.
    if (bytes[start] !== 0x2a) {
      for (const { name, from, length } of columns) {
        const cell = textOf(start + from, length)
          .replace(/\0/g, '')
          .trim();
        if (cell !== '' && !/^\*+$/.test(cell)) row[name] = cell;
      }
    }
    rows.push(row);
  }
  return done({ headers: columns.map(({ name }) => name), rows });
}
