import type { Hookup } from '../../survey/hookup';
import type { Note } from '../../survey/note';
import type { Survey } from '../../survey/survey';
import { assignPlaces } from './assign-places';
import { checkLinesPlaced, checkOutingsUsed, checkSwaps } from './checks';
import { baseName, type ColumnsMap, columnsFor, placesFor } from './columns';
import { noteMixedDatums } from './datum-mixed';
import { type Draft, emptyDraft } from './draft';
import { readFeatures } from './features';
import { TABLE_KINDS, type TableKind } from './headers';
import { readLegs } from './legs';
import { mergeDraft } from './merge';
import { Notebook } from './notebook';
import { gridOf } from './place';
import type { PlacesFormat } from './places-file';
import { draftPlaces } from './places-to-draft';
import { readPositions } from './positions';
import { placesFormatOf, readPlacesFile } from './read-places';
import { readReadings } from './readings';
import { giveLineRemotesToOutings, readRemotes } from './remotes';
import { hasControls, type Sheet, stemOf, visible } from './sheet';
import { openSheet } from './table';
import { type UnderstoodPlaces, understoodPlaces } from './understood-places';

/** Seed of the ids of what is read from tables: fixed, so that the same tables give the same ids in every program. */
export const TABLE_SEED = 'tables';

/** A file by its name, a path or a base name, and its content. */
export interface NamedBytes {
  readonly name: string;
  readonly bytes: Uint8Array;
}

export interface TableOptions {
  /** How to read files that are not named or headed as ours are. */
  readonly columns?: ColumnsMap;
  /** Ids come from it and the natural keys: the same seed and tables give the same ids. */
  readonly seed: string;
  /** The survey to read into; without one a new survey is made. */
  readonly into?: Survey;
  /** Name of the site of a new survey. */
  readonly siteName?: string;
}

/**
 * Which table a file is: by the columns map, else by its name (`positions.csv`, `Readings.tsv`, …).
 * Null for a file that is neither.
 */
export function tableKindOf(name: string, columns?: ColumnsMap): TableKind | null {
  const mapped = columnsFor(name, columns);
  if (mapped) return mapped.table;
  const stem = /^(.+)\.(?:csv|tsv|txt)$/i.exec(baseName(name))?.[1]?.toLowerCase();
  return TABLE_KINDS.find((kind) => kind === stem) ?? null;
}

/** Whether a file is one of places: GPX, KML, GeoJSON, or a table of nothing but names and coordinates. Null for none. */
export function placesKindOf({ name, bytes }: NamedBytes, columns?: ColumnsMap): PlacesFormat | null {
  return tableKindOf(name, columns) === null ? placesFormatOf(name, bytes) : null;
}

/**
 * Reads the tables of a folder, and the files of places beside them, as one survey.
 * `survey` is null when any note is a fault: nothing is half read. With `into`, entities are matched by their natural
 * keys; when the tables bring nothing new, `survey` is `into` itself.
 */
export function readTables(
  files: readonly NamedBytes[],
  options: TableOptions,
): { readonly survey: Survey | null; readonly notes: Note[] } {
  const { survey, notes } = readTablesAndPlaces(files, options);
  return { survey, notes };
}

/** The same, with what the names in files of places were taken for. */
export function readTablesAndPlaces(
  files: readonly NamedBytes[],
  options: TableOptions,
): { readonly survey: Survey | null; readonly notes: Note[]; readonly places: readonly UnderstoodPlaces[] } {
  const { columns, seed, into, siteName } = options;
  const draft = emptyDraft();
  const books: Notebook[] = [];
  const opened: Sheet[] = [];
  const unreadable = new Set<TableKind>();
  // Positions before readings, so that lines stand in the order of the positions table.
  const sorted = TABLE_KINDS.flatMap((kind) => files.filter(({ name }) => tableKindOf(name, columns) === kind));
  for (const { name, bytes } of sorted) {
    const kind = tableKindOf(name, columns);
    if (kind === null) continue;
    const notes = new Notebook(name);
    books.push(notes);
    const sheet = openSheet(bytes, kind, columnsFor(name, columns), notes);
    if (sheet === null) {
      unreadable.add(kind);
      continue;
    }
    opened.push(sheet);
    takeGrid(sheet, draft);
    readSheet(sheet, draft, into);
  }
  const ofPlaces = files.flatMap((file) => {
    const format = placesKindOf(file, columns);
    return format ? [{ ...file, format }] : [];
  });
  const places: UnderstoodPlaces[] = [];
  let placesTaken = 0;
  // After every table, since names are matched with the lines that those have.
  for (const { name, bytes, format } of ofPlaces) {
    const notes = new Notebook(name);
    books.push(notes);
    const map = placesFor(name, columns);
    const read = readPlacesFile(bytes, format, notes);
    const lines = [...draft.lines.keys(), ...(into?.lines ?? []).flatMap((line) => (line.retired ? [] : [line.name]))];
    const assigned = read && assignPlaces(read, [...new Set(lines)], stemOf(name), map);
    places.push(understoodPlaces(name, read, assigned));
    if (read === null || assigned === null) unreadable.add('positions');
    else if (notes.troubles === 0) placesTaken += draftPlaces(assigned, read.format, map, draft, into, notes).taken;
  }
  const rest = noteOthers(files, columns, sorted.length, ofPlaces);
  if (ofPlaces.length > 0 && placesTaken === 0 && sorted.length === 0 && books.every((book) => book.troubles === 0)) {
    const why = books.flatMap((book) => book.all()).find(({ kind }) => kind === 'skipped');
    rest.push(nothingPlaced(ofPlaces[0] as NamedBytes, why));
  }
  if (siteName !== undefined && hasControls(siteName)) rest.push(siteNameFault(sorted[0]?.name ?? '', siteName));

  giveLineRemotesToOutings(draft);
  // A line that lost its points to faults already told must not be told off for having none.
  const placesLost =
    unreadable.has('positions') ||
    unreadable.has('legs') ||
    opened.some(({ kind, notes }) => (kind === 'positions' || kind === 'legs') && notes.troubles > 0) ||
    books.slice(sorted.length).some(({ troubles }) => troubles > 0);
  const positionsGiven = placesTaken > 0 || sorted.some(({ name }) => tableKindOf(name, columns) === 'positions');
  if (!placesLost) checkLinesPlaced(draft, into, positionsGiven);
  checkOutingsUsed(draft, into);
  checkSwaps(draft, into);
  noteMixedDatums(draft);

  const faulty = books.some((book) => book.troubles > 0) || rest.some(({ kind }) => kind === 'fault');
  if (faulty) return { survey: null, notes: [...books.flatMap((book) => book.all()), ...rest], places };
  const { survey, overwritten } = mergeDraft(draft, seed, siteName ?? 'Unnamed site', into);
  if (overwritten > 0) rest.push(overwriteNote(sorted[0]?.name ?? '', overwritten));
  return { survey, notes: [...books.flatMap((book) => book.all()), ...rest], places };
}

/** Reads one opened table into the draft of them all. */
export function readSheet(sheet: Sheet, draft: Draft, into: Survey | undefined): void {
  switch (sheet.kind) {
    case 'positions':
      readPositions(sheet, draft);
      break;
    case 'readings':
      readReadings(sheet, draft, knownHookups(into));
      break;
    case 'legs':
      readLegs(sheet, draft);
      break;
    case 'remotes':
      readRemotes(sheet, draft);
      break;
    case 'features':
      readFeatures(sheet, draft);
      break;
  }
}

function knownHookups(into: Survey | undefined): (line: string) => Hookup | null {
  const known = new Map(into?.lines.map((line) => [line.name, line.hookup ?? null]));
  return (line) => known.get(line) ?? null;
}

function takeGrid(sheet: Sheet, draft: Draft): void {
  const grid = gridOf(sheet);
  if (!grid) return;
  const before = draft.grids.get(grid.name);
  if (before && JSON.stringify(before.grid) !== JSON.stringify(grid)) {
    sheet.notes.fault(
      { row: null, column: 'grid' },
      grid.name,
      'one grid under one name',
      `The columns map gives ${before.sheet.file} and ${sheet.file} different grids under the name ${grid.name}. Name them apart.`,
    );
    return;
  }
  draft.grids.set(grid.name, { grid, sheet });
}

/** Notes for files that are no table, for files that the map names and that are not there, and for having no table. */
function noteOthers(
  files: readonly NamedBytes[],
  columns: ColumnsMap | undefined,
  tables: number,
  ofPlaces: readonly NamedBytes[],
): Note[] {
  const whole = { row: null, column: null };
  const placesNames = new Set(ofPlaces.map(({ name }) => name));
  const notes: Note[] = files
    .filter(({ name }) => tableKindOf(name, columns) === null && !placesNames.has(name))
    .map(({ name }) => ({
      kind: 'skipped' as const,
      file: name,
      ...whole,
      read: baseName(name),
      expected: 'positions, readings, legs, remotes or features',
      sentence: `${name} was left alone: it is not named like a table, and no columns map names it.`,
    }));
  const there = new Set(files.map(({ name }) => baseName(name).toLowerCase()));
  for (const base of [...Object.keys(columns?.files ?? {}), ...Object.keys(columns?.places ?? {})]) {
    if (there.has(base.toLowerCase())) continue;
    notes.push({
      kind: 'skipped',
      file: base,
      ...whole,
      read: 'no such file',
      expected: 'a file that the columns map names',
      sentence: `The columns map names ${base}, which is not among the files.`,
    });
  }
  if (tables === 0 && ofPlaces.length === 0) {
    notes.push({
      kind: 'fault',
      file: files[0]?.name ?? '',
      ...whole,
      read: files.length === 0 ? 'no file' : files.map(({ name }) => baseName(name)).join(', '),
      expected: 'positions.csv, readings.csv, legs.csv, remotes.csv or features.csv',
      sentence:
        'There is no table here. Name the files positions.csv and readings.csv, or say in a columns map which file is what.',
    });
  }
  return notes;
}

function nothingPlaced({ name }: NamedBytes, why: Note | undefined): Note {
  const base = baseName(name);
  const example = `{"places": {"${base}": {"names": {"P24": {"line": "L1", "electrode": 24}}, "step_m": 5}}}`;
  return {
    kind: 'fault',
    file: name,
    row: null,
    column: null,
    read: 'no place of a line',
    expected:
      'a line, or two points named such as "L1 e24" or "L1 12.5 m"; or a columns map that says under "places" what the names are',
    sentence: `${base} has nothing in it that could be taken as a line. ${why ? `${why.sentence} ` : ''}It has to have a line, or two points that name places of one, such as "L1 e24" or "L1 12.5 m"; or say what its names are in a columns map: ${example}.`,
  };
}

function siteNameFault(file: string, siteName: string): Note {
  return {
    kind: 'fault',
    file,
    row: null,
    column: null,
    read: visible(siteName),
    expected: 'a site name (that of the folder) without line breaks, tabs and other control characters',
    sentence: `The site is named "${visible(siteName)}" after its folder, which has control characters in its name. Rename it.`,
  };
}

function overwriteNote(file: string, overwritten: number): Note {
  return {
    kind: 'guessed',
    file,
    row: null,
    column: null,
    read: `${overwritten} changed by a person`,
    expected: 'the table to agree with the survey',
    sentence: `${overwritten} ${overwritten === 1 ? 'entry' : 'entries'} of the survey had been changed by a person and now ${overwritten === 1 ? 'has' : 'have'} the values of the tables again.`,
  };
}
