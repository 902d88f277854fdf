import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { basename, join } from 'node:path';
import { readColumnsMap } from '../exchange/read/columns';
import { readSurveyFile } from '../exchange/read/survey-file';
import { readTables } from '../exchange/read/tables';
import type { Note } from '../survey/note';
import type { Survey } from '../survey/survey';
import { BadInput, faultLine } from './faults';

export interface SurveyInput {
  readonly survey: Survey;
  readonly notes: readonly Note[];
  /** Every file that was read: none of them may be written over. */
  readonly inputs: readonly string[];
}

const TABLE_FILE = /\.(csv|tsv|txt)$/i;
const STANDARD_TABLE = /^(positions|readings|legs|remotes|features)\.(csv|tsv|txt)$/i;

/** Ids of a survey read from tables: fixed, so that the same tables give the same ids at every run. */
const TABLE_SEED = 'tables';

/** A survey from a `*.survey.json`, a folder of field tables, or one table. Throws `BadInput`. */
export function readSurvey(path: string, columnsPath: string | undefined): SurveyInput {
  if (!existsSync(path))
    throw new BadInput([`${path}:1:1: read ""; expected a survey file or a folder of tables here`]);
  const files = statSync(path).isDirectory() ? filesOf(path, columnsPath) : [path];
  const [only] = files;
  if (only !== undefined && files.length === 1 && /\.json$/i.test(only)) {
    const read = readSurveyFile(readFileSync(only), only);
    return checked(read.survey, read.notes, [only]);
  }

  let columns: Parameters<typeof readTables>[1]['columns'];
  const notes: Note[] = [];
  if (columnsPath !== undefined) {
    if (!existsSync(columnsPath)) throw new BadInput([`${columnsPath}:1:1: read ""; expected a columns file here`]);
    const read = readColumnsMap(readFileSync(columnsPath), columnsPath);
    notes.push(...read.notes);
    if (!read.columns) return checked(null, notes, []);
    columns = read.columns;
  }
  const tables = files.map((file) => ({ name: file, bytes: readFileSync(file) }));
  const read = readTables(tables, { seed: TABLE_SEED, siteName: basename(path), ...(columns ? { columns } : {}) });
  const inputs = columnsPath === undefined ? files : [...files, columnsPath];
  return checked(read.survey, [...notes, ...read.notes], inputs);
}

function filesOf(folder: string, columnsPath: string | undefined): string[] {
  const names = readdirSync(folder).sort();
  const tables = names.filter((name) => TABLE_FILE.test(name));
  if (columnsPath !== undefined || tables.some((name) => STANDARD_TABLE.test(name))) {
    return tables.map((name) => join(folder, name));
  }
  const surveys = names.filter((name) => name.endsWith('.survey.json'));
  if (surveys.length === 1) return surveys.map((name) => join(folder, name));
  throw new BadInput([
    `${folder}:1:1: read ${surveys.length} survey files and no tables; expected positions.csv and readings.csv, or one *.survey.json`,
  ]);
}

function checked(survey: Survey | null, notes: readonly Note[], inputs: readonly string[]): SurveyInput {
  const faults = notes.filter(({ kind }) => kind === 'fault');
  if (!survey || faults.length > 0) throw new BadInput(faults.map(faultLine));
  return { survey, notes, inputs };
}
