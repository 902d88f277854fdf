import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { basename, join } from 'node:path';
import { type ColumnsMap, readColumnsMap } from '../exchange/read/columns';
import { isPack, readPack } from '../exchange/read/pack';
import { readSurveyFile } from '../exchange/read/survey-file';
import { placesKindOf, readTables, TABLE_SEED } from '../exchange/read/tables';
import type { Note } from '../survey/note';
import type { Survey } from '../survey/survey';
import { asFileFault, BadInput, faultLine, faultOf } from './faults';

export interface SurveyInput {
  readonly survey: Survey;
  readonly notes: readonly Note[];
  /** Every file that was read: none of them may be written over. */
  readonly inputs: readonly string[];
}

const TABLE_FILE = /\.(csv|tsv|txt)$/i;
const PLACES_FILE = /\.(gpx|kml|geojson)$/i;
const STANDARD_TABLE = /^(positions|readings|legs|remotes|features)\.(csv|tsv|txt)$/i;

/** A survey from a `*.survey.json`, a folder of field tables and files of places, or one of these. Throws `BadInput`. */
export function readSurvey(path: string, columnsPath: string | undefined): SurveyInput {
  if (!existsSync(path)) throw faultOf(path, '1', '', 'a survey file or a folder of tables here');
  const isFolder = statSync(path).isDirectory();
  const { files, notes } = isFolder ? filesOf(path, columnsPath) : { files: [path], notes: [] };
  const [only] = files;
  if (only !== undefined && !isFolder && /\.zip$/i.test(only)) {
    const bytes = bytesOf(only);
    if (isPack(bytes)) {
      const read = readPack(bytes, only);
      return checked(read.survey, read.notes, [only]);
    }
  }
  if (only !== undefined && files.length === 1 && /\.json$/i.test(only)) {
    const bytes = bytesOf(only);
    if (placesKindOf({ name: only, bytes }) === null) {
      const read = readSurveyFile(bytes, only);
      return checked(read.survey, read.notes, [only]);
    }
  }

  let columns: ColumnsMap | undefined;
  if (columnsPath !== undefined) {
    if (!existsSync(columnsPath)) throw faultOf(columnsPath, '1', '', 'a columns file here');
    const read = readColumnsMap(bytesOf(columnsPath), columnsPath);
    notes.push(...read.notes);
    if (!read.columns) return checked(null, notes, []);
    columns = read.columns;
  }
  const wanted = isFolder ? files.filter((file) => isWanted(basename(file), columns)) : files;
  notes.push(...files.filter((file) => !wanted.includes(file)).map(leftAloneNote));
  const tables = wanted.map((file) => ({ name: file, bytes: bytesOf(file) }));
  const read = readTables(tables, { seed: TABLE_SEED, siteName: basename(path), ...(columns ? { columns } : {}) });
  const inputs = columnsPath === undefined ? wanted : [...wanted, columnsPath];
  return checked(read.survey, [...notes, ...read.notes], inputs);
}

/** The bytes of a file; what the file system refuses is `BadInput`. */
export function bytesOf(path: string): Uint8Array {
  try {
    return readFileSync(path);
  } catch (error) {
    // Some refusals do not name their path.
    throw asFileFault(Object.assign(error as Error, { path })) ?? error;
  }
}

function filesOf(folder: string, columnsPath: string | undefined): { files: string[]; notes: Note[] } {
  const names = readdirSync(folder).sort();
  const tables = names.filter((name) => TABLE_FILE.test(name) || PLACES_FILE.test(name));
  const surveys = names.filter((name) => name.endsWith('.survey.json'));
  const hasTables = tables.some((name) => STANDARD_TABLE.test(name));
  // Beside a survey, files of places alone are more likely what came of it.
  const hasPlaces = surveys.length === 0 && tables.some((name) => PLACES_FILE.test(name));
  if (columnsPath !== undefined || hasTables || hasPlaces) {
    const notes = names.filter((name) => WORKBOOK.test(name)).map((name) => workbookNote(join(folder, name)));
    return { files: tables.map((name) => join(folder, name)), notes };
  }
  if (surveys.length === 1) return { files: surveys.map((name) => join(folder, name)), notes: [] };
  const found = surveys.length === 0 ? 'no survey and no tables' : `${surveys.length} surveys and no tables`;
  throw faultOf(folder, '1', found, 'positions.csv and readings.csv, or one *.survey.json');
}

/**
 * Of a folder the tables with our names count, and what the columns map names; without a map, files of places too. A
 * folder holds much else, and a fault in a file that nobody asked for would stop the whole.
 */
function isWanted(name: string, columns: ColumnsMap | undefined): boolean {
  if (STANDARD_TABLE.test(name)) return true;
  if (!columns) return PLACES_FILE.test(name);
  const named = [...Object.keys(columns.files), ...Object.keys(columns.places ?? {})];
  return named.some((each) => each.toLowerCase() === name.toLowerCase());
}

const leftAloneNote = (file: string): Note => ({
  kind: 'skipped',
  file,
  row: null,
  column: null,
  read: basename(file),
  expected: 'positions, readings, legs, remotes or features',
  sentence: `${file} was left alone: it is not named like a table, and no columns map names it.`,
});

/** Spreadsheet files are not read, and a folder that has one probably means it. */
const WORKBOOK = /\.(xlsx?|xlsm|ods|numbers)$/i;

const workbookNote = (file: string): Note => ({
  kind: 'skipped',
  file,
  row: null,
  column: null,
  read: 'a workbook',
  expected: 'a table saved as CSV',
  sentence: `${file} is a workbook and was not read. Save its sheets as CSV first.`,
});

function checked(survey: Survey | null, notes: readonly Note[], inputs: readonly string[]): SurveyInput {
  const faults = notes.filter(({ kind }) => kind === 'fault');
  if (!survey || faults.length > 0) throw new BadInput(faults.map(faultLine));
  return { survey, notes, inputs };
}
