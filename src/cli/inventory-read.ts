import { existsSync, statSync } from 'node:fs';
import { basename } from 'node:path';
import { type InventoryColumns, readInventoryColumns } from '../exchange/read/karst-columns';
import { type InventoryFile, readInventoryFile } from '../exchange/read/karst-features';
import type { Feature, LocalGrid, Survey } from '../survey/survey';
import { BadInput, faultOf, printable } from './faults';
import { bytesOf, readSurvey } from './read-survey';

/** One keeper's file: a survey with features, or a foreign file of features. */
export interface KeeperFile {
  readonly path: string;
  readonly features: readonly Feature[];
  readonly grids: readonly LocalGrid[];
  readonly survey: Survey | null;
  /** How a foreign file was read; null for a survey. */
  readonly read: InventoryFile | null;
  readonly inputs: readonly string[];
}

/** JSON of a file; bad input where it is none. */
export function jsonOf(path: string): unknown {
  if (!existsSync(path)) throw faultOf(path, '1', '', 'a file here');
  const text = new TextDecoder().decode(bytesOf(path));
  try {
    return JSON.parse(text);
  } catch (error) {
    throw faultOf(path, '1', 'no JSON', `JSON; ${error instanceof Error ? error.message.split('\n')[0] : ''}`);
  }
}

export function columnsOf(path: string | undefined): InventoryColumns | undefined {
  if (path === undefined) return undefined;
  const read = readInventoryColumns(jsonOf(path));
  if (!read.ok) throw faultOf(path, '1', read.code, read.sentence);
  return read.value;
}

/** Reads keepers' files, in the order given. Throws `BadInput` for one that cannot be read at all. */
export function readKeepers(paths: readonly string[], columnsPath: string | undefined): readonly KeeperFile[] {
  if (paths.length === 0) throw faultOf('arguments', '1', '', 'one file of karst features at least');
  const columns = columnsOf(columnsPath);
  return paths.map((path) => {
    if (!existsSync(path)) throw faultOf(path, '1', '', 'a file of karst features here');
    if (statSync(path).isDirectory() || isSurveyFile(path)) {
      const { survey, inputs } = readSurvey(path, undefined);
      return { path, features: survey.features, grids: survey.site.local_grids, survey, read: null, inputs };
    }
    const read = readInventoryFile(path, bytesOf(path), columns);
    if (!read.ok)
      throw new BadInput([`${path}:1:1: read "${read.code}"; expected a file of karst features. ${read.sentence}`]);
    const inputs = columnsPath === undefined ? [path] : [path, columnsPath];
    return { path, features: read.value.features, grids: [], survey: null, read: read.value, inputs };
  });
}

function isSurveyFile(path: string): boolean {
  if (/\.survey\.json$/i.test(path)) return true;
  if (!/\.json$/i.test(path)) return false;
  return /"format"\s*:\s*"hollowline-survey"/.test(new TextDecoder().decode(bytesOf(path).subarray(0, 2000)));
}

/** How a foreign file was read, for a document. */
export function readDocument({ path, features, read }: KeeperFile): object {
  if (!read) return { file: basename(path), format: 'survey', features: features.length };
  return {
    file: basename(path),
    rows: read.rows,
    features: read.features.length,
    unwanted: read.unwanted,
    left_out: read.faults.filter(({ leftOut }) => leftOut).length,
    columns: read.columns.map(({ header, field, said }) => ({ header, field, said })),
    types: read.types,
    faults: read.faults.map(({ code, row, name, leftOut, distanceM, read: text, sentence }) => ({
      code,
      row,
      name,
      left_out: leftOut,
      distance_m: distanceM === null ? null : Number(distanceM.toFixed(1)),
      read: text,
      sentence,
    })),
  };
}

/** The same for a person: counts, unknown words, and every fault up to a limit. */
export function readLines(keeper: KeeperFile, most = 50): readonly string[] {
  const { path, features, read } = keeper;
  if (!read) return [`${basename(path)}: ${features.length} features of a survey.`];
  const unknown = read.types.filter(({ type, wanted }) => wanted && type === null);
  const guessed = read.types.filter(({ by }) => by === 'beginning');
  const rest = read.faults.length - most;
  return [
    `${basename(path)}: ${read.rows} rows, ${read.features.length} features${read.unwanted > 0 ? `, ${read.unwanted} rows not wanted` : ''}.`,
    ...guessed.map(({ word, count, type }) => `  “${word}” (${count}) was taken for ${type}.`),
    ...(unknown.length > 0
      ? [
          `  No known type, kept as written and left out of measures: ${unknown
            .slice(0, 12)
            .map(({ word, count }) => `${word} (${count})`)
            .join(', ')}${unknown.length > 12 ? ` and ${unknown.length - 12} more words` : ''}.`,
        ]
      : []),
    ...read.faults.slice(0, most).map(({ code, sentence }) => `  ${code}: ${sentence}`),
    ...(rest > 0 ? [`  and ${rest} more; --json lists all.`] : []),
  ].map(printable);
}
