import { disclose } from '../discretion/disclose';
import {
  baseName,
  type ColumnsMap,
  columnsFor,
  type FileColumns,
  placesFor,
  readColumnsMap,
} from '../exchange/read/columns';
import { previewTable, type TablePreview } from '../exchange/read/preview';
import { recallColumns, recallPlaces, rememberColumns, rememberPlaces } from '../exchange/read/remembered-columns';
import { readSurveyFile } from '../exchange/read/survey-file';
import {
  type NamedBytes,
  placesKindOf,
  readTables,
  readTablesAndPlaces,
  TABLE_SEED,
  tableKindOf,
} from '../exchange/read/tables';
import type { UnderstoodPlaces } from '../exchange/read/understood-places';
import { surveyTables, type WrittenTables } from '../exchange/write/tables';
import type { Findings } from '../findings';
import { emptySurvey } from '../survey/empty-survey';
import type { Note } from '../survey/note';
import type { Survey } from '../survey/survey';

/** What files come to under a columns map. */
export interface Understood {
  /** Of tables. */
  readonly previews: readonly TablePreview[];
  /** Of GPX, KML, GeoJSON and tables of plain places. */
  readonly places: readonly UnderstoodPlaces[];
  /** Everything that reading them has to say; with a fault among it they cannot be taken. */
  readonly notes: readonly Note[];
  /** What the survey would have more of; null while there is a fault. */
  readonly brings: { readonly lines: number; readonly readings: number; readonly changes: boolean } | null;
}

export type Looked =
  | { readonly kind: 'survey'; readonly survey: Survey | null; readonly notes: readonly Note[] }
  | {
      readonly kind: 'tables';
      /** Names of the files that are read: all but columns maps. */
      readonly files: readonly string[];
      readonly columns: ColumnsMap;
      readonly understood: Understood;
      /** Files of which a columns map among the files speaks. */
      readonly stated: readonly string[];
      /** What was wrong with such a map; the tables are then understood without it. */
      readonly mapFaults: readonly Note[];
    };

export interface Target {
  /** The survey to read into; null for a new one. */
  readonly into: Survey | null;
  readonly siteName: string;
  /** Chance from the page, for the id of a new survey. */
  readonly seed: string;
}

/** What the import worker can be asked. Plain data in, plain data out. */
export interface ImportTable {
  /** Takes files in hand: a survey document is read, tables are understood as well as can be without help. */
  look(files: readonly NamedBytes[], open: Survey | null): Looked;
  /** What the files in hand come to under a corrected map. Changes nothing. */
  understand(columns: ColumnsMap, into: Survey | null): Understood;
  /** Reads the files in hand; `survey` is null while there is a fault. The map is remembered in the survey. */
  take(columns: ColumnsMap, target: Target): { readonly survey: Survey | null; readonly notes: readonly Note[] };
  /** The way back: a survey as the tables that could be brought in again. */
  tables(survey: Survey, findings: Findings): WrittenTables;
}

export function createImportTable(): ImportTable {
  let tables: readonly NamedBytes[] = [];

  function understand(columns: ColumnsMap, into: Survey | null): Understood {
    const previews = tables
      .filter((file) => placesKindOf(file, columns) === null)
      .map(({ name, bytes }) => previewTable(bytes, name, columns.files[name]));
    const unknown = previews.filter(({ kind }) => kind === null);
    const known = tables.filter(({ name }) => !unknown.some(({ file }) => file === name));
    const untaken = unknown.flatMap(whyUnknown);
    if (known.length === 0) return { previews, places: [], notes: untaken, brings: null };
    const { survey, notes, places } = readTablesAndPlaces(known, {
      columns,
      seed: TABLE_SEED,
      ...(into ? { into } : {}),
    });
    const brings = survey && {
      lines: survey.lines.length - (into?.lines.length ?? 0),
      readings: survey.readings.length - (into?.readings.length ?? 0),
      changes: survey !== into,
    };
    return { previews, places, notes: [...untaken, ...notes], brings: untaken.length === 0 ? brings : null };
  }

  return {
    look(files, open) {
      const documents = files.filter(({ name }) => WHOLE_SURVEY.test(name));
      if (documents.length > 0 && files.length > 1) return { kind: 'survey', ...notAlone(documents) };
      const [only] = files;
      if (only && files.length === 1 && isDocument(only)) {
        return { kind: 'survey', ...readSurveyFile(only.bytes, only.name) };
      }
      const maps = files.filter(isDocument);
      tables = files.filter((file) => !maps.includes(file)).map(({ name, bytes }) => ({ name: baseName(name), bytes }));
      const read = maps.map(({ name, bytes }) => readColumnsMap(bytes, name));
      const statedMaps = read.flatMap((map) => map.columns ?? []);
      const stated = statedFor(tables, statedMaps);
      const places = placesMap(tables, statedMaps, open);
      const columns: ColumnsMap = { files: { ...firstMap(tables, open), ...stated }, ...places };
      return {
        kind: 'tables',
        files: files.filter((file) => !maps.includes(file)).map(({ name }) => name),
        columns,
        understood: understand(columns, null),
        stated: Object.keys(stated),
        mapFaults: read.flatMap((map) => map.notes),
      };
    },
    understand,
    take(columns, { into, siteName, seed }) {
      // Only the survey's own id is new: lines and readings have those that the command line gives them.
      const base = into ?? emptySurvey(seed, siteName);
      const { survey, notes } = readTables(tables, { columns, seed: TABLE_SEED, into: base });
      if (!survey) return { survey, notes };
      const headers = new Map(
        tables
          .filter((file) => placesKindOf(file, columns) === null)
          .map(({ name, bytes }) => [
            name,
            previewTable(bytes, name, columns.files[name]).columns.map(({ header }) => header),
          ]),
      );
      return { survey: rememberPlaces(rememberColumns(survey, columns, headers), columns.places), notes };
    },
    tables: (survey, findings) => surveyTables(disclose(survey, findings, 'surveyor')),
  };
}

function notAlone(documents: readonly NamedBytes[]): { survey: null; notes: Note[] } {
  const notes = documents.map(({ name }) => ({
    kind: 'fault' as const,
    file: name,
    row: null,
    column: null,
    read: name,
    expected: 'a survey document by itself',
    sentence: `${name} is a whole survey. Open it by itself, and bring in tables afterwards.`,
  }));
  return { survey: null, notes };
}

/** What columns maps among the files say of the tables beside them. */
function statedFor(tables: readonly NamedBytes[], maps: readonly ColumnsMap[]): ColumnsMap['files'] {
  const files: Record<string, FileColumns> = {};
  for (const { name } of tables) {
    for (const map of maps) {
      const columns = columnsFor(name, map);
      if (columns) files[name] = columns;
    }
  }
  return files;
}

/** How each file is read at first: as one like it was read before, else by its name and headers. */
function firstMap(tables: readonly NamedBytes[], open: Survey | null): ColumnsMap['files'] {
  const files: Record<string, FileColumns> = {};
  for (const { name, bytes } of tables) {
    if (placesKindOf({ name, bytes }) !== null) continue;
    const known = open ? recallColumns(open, bytes, name) : null;
    const kind = known ? known.table : (tableKindOf(name) ?? previewTable(bytes, name).kind);
    if (kind) files[name] = known ?? { table: kind };
  }
  return files;
}

/** A survey or a columns map, which are JSON as GeoJSON is. */
const isDocument = (file: NamedBytes): boolean =>
  (/\.json$/i.test(file.name) || WHOLE_SURVEY.test(file.name)) && placesKindOf(file) === null;

/** Also as it comes through a share sheet, which takes texts only and may number them. */
const WHOLE_SURVEY = /\.survey[^.]*\.(json|txt)$/i;

/** How files of places are read at first: as a map among the files says, else as they were read before. */
function placesMap(
  tables: readonly NamedBytes[],
  maps: readonly ColumnsMap[],
  open: Survey | null,
): Pick<ColumnsMap, 'places'> {
  const places = Object.fromEntries(
    tables.flatMap((file) => {
      if (placesKindOf(file) === null) return [];
      const stated = maps.flatMap((map) => placesFor(file.name, map) ?? [])[0];
      const said = stated ?? (open ? recallPlaces(open, file.name) : null);
      return said ? [[file.name, said] as const] : [];
    }),
  );
  return Object.keys(places).length > 0 ? { places } : {};
}

/** A file that is no known table is a fault here: somebody chose it, so it is not to be left out in silence. */
function whyUnknown({ file, encoding, notes }: TablePreview): readonly Note[] {
  if (encoding === null) return notes;
  const sentence = `${file}: say what this table holds, or leave the file out.`;
  return [{ kind: 'fault', file, row: null, column: null, read: file, expected: 'a kind of table', sentence }];
}
