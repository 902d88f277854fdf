import Papa from 'papaparse';
import { readInventoryFile } from '../../src/exchange/read/karst-features';
import { readTables } from '../../src/exchange/read/tables';
import { seeded } from '../helpers/made-survey';
import { growth, quickest } from './part';

export interface ImportBench {
  readonly rows: number;
  readonly parseMs: number;
  readonly readMs: number;
  /** From a hundredth of the rows to all of them. */
  readonly exponent: number;
}

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

function readingsTable(rows: number): string {
  const random = seeded(rows);
  const lines = ['line,midpoint_m,spacing_m,value,unit,hookup,outing'];
  for (let i = 0; i < rows; i += 1) {
    const at = `L${Math.floor(i / 100)},${8 + (Math.floor(i / 5) % 20)},${[1, 2, 3, 5, 8][i % 5]}`;
    lines.push(`${at},${(200 + 200 * random()).toFixed(1)},ohm_m,pole_pole,day ${Math.floor(i / 5000)}`);
  }
  return `${lines.join('\n')}\n`;
}

function positionsTable(rows: number): string {
  const lines = ['line,chainage_m,lon,lat'];
  for (let i = 0; i < Math.ceil(rows / 100); i += 1) {
    const lat = (37.4 + 2e-4 * (i % 100)).toFixed(6);
    const lon = -91.9 + 1e-3 * Math.floor(i / 100);
    lines.push(`L${i},0,${lon.toFixed(6)},${lat}`, `L${i},40,${(lon + 4.5e-4).toFixed(6)},${lat}`);
  }
  return `${lines.join('\n')}\n`;
}

/** Readings read, checked, placed on their lines and made entities, against papaparse alone on the same text. */
export function benchTables(rows = 100_000): ImportBench {
  const read = (count: number) => {
    const files = [
      { name: 'positions.csv', bytes: bytes(positionsTable(count)) },
      { name: 'readings.csv', bytes: bytes(readingsTable(count)) },
    ];
    return quickest(3, () => {
      if (!readTables(files, { seed: 'bench' }).survey) throw new Error('the tables are no survey');
    });
  };
  const text = readingsTable(rows);
  const parseMs = quickest(3, () => Papa.parse(text, { header: false }));
  const readMs = read(rows);
  return { rows, parseMs, readMs, exponent: growth(rows / 100, read(rows / 100), rows, readMs) };
}

function featureTable(rows: number): string {
  const random = seeded(rows);
  const lines = ['id,name,type,lon,lat,accuracy_m,source'];
  for (let i = 0; i < rows; i += 1) {
    const kind = ['sinkhole', 'spring', 'cave entrance', 'ponor'][i % 4];
    const place = `${(10 + 2 * random()).toFixed(6)},${(47 + 2 * random()).toFixed(6)}`;
    lines.push(`${i},Feature ${i},${kind},${place},${1 + (i % 30)},list A`);
  }
  return `${lines.join('\n')}\n`;
}

/** The same for karst features. */
export function benchFeatures(rows = 100_000): ImportBench {
  const read = (count: number) => {
    const file = bytes(featureTable(count));
    return quickest(3, () => {
      if (!readInventoryFile('features.csv', file).ok) throw new Error('the table is no inventory');
    });
  };
  const text = featureTable(rows);
  const parseMs = quickest(3, () => Papa.parse(text, { header: false }));
  const readMs = read(rows);
  return { rows, parseMs, readMs, exponent: growth(rows / 100, read(rows / 100), rows, readMs) };
}
