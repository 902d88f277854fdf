import type { ColumnsMap, FileColumns } from '../../../src/exchange/read/columns';
import { readTables, type TableOptions } from '../../../src/exchange/read/tables';
import type { Note } from '../../../src/survey/note';
import type { Line, Reading, Survey } from '../../../src/survey/survey';

export const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

/** Files by name; text is encoded as UTF-8. */
export type Files = Readonly<Record<string, string | Uint8Array>>;

export function read(files: Files, options: Partial<TableOptions> = {}): { survey: Survey | null; notes: Note[] } {
  const named = Object.entries(files).map(([name, content]) => ({
    name,
    bytes: typeof content === 'string' ? utf8(content) : content,
  }));
  return readTables(named, { seed: 'test', ...options });
}

/** The survey of tables that have no fault. */
export function survey(files: Files, options: Partial<TableOptions> = {}): Survey {
  const outcome = read(files, options);
  if (!outcome.survey) throw new Error(outcome.notes.map((note) => note.sentence).join('\n'));
  return outcome.survey;
}

/** The notes of one kind as `row:column`. */
export function places(notes: readonly Note[], kind: Note['kind']): string[] {
  return notes.filter((note) => note.kind === kind).map((note) => `${note.row}:${note.column}`);
}

/** The faults of tables; fails where there is none or a survey was made all the same. */
export function faults(files: Files, options: Partial<TableOptions> = {}): Note[] {
  const outcome = read(files, options);
  if (outcome.survey) throw new Error('a survey was made');
  return outcome.notes.filter((note) => note.kind === 'fault');
}

export function lineNamed(from: Survey, name: string): Line {
  const line = from.lines.find((candidate) => candidate.name === name);
  if (!line) throw new Error(`no line ${name}`);
  return line;
}

export function firstReading(from: Survey): Reading {
  const [reading] = from.readings;
  if (!reading) throw new Error('no reading');
  return reading;
}

export const mapOf = (file: string, columns: FileColumns): ColumnsMap => ({ files: { [file]: columns } });

/** Two placed points of a line 100 m long, so that readings have somewhere to be. */
export const TWO_POINTS = 'line,chainage_m,lon,lat\nL1,0,-91.6,17.1\nL1,100,-91.6,17.1009\n';

export const READINGS_HEAD = 'line,midpoint_m,spacing_m,value,unit,hookup';
export const ONE_READING = `${READINGS_HEAD}\nL1,10,2,345.6,ohm_m,pole_pole\n`;
