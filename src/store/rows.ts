import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import { type Change, COLLECTIONS } from '../survey/commit';
import { ENTRY_KINDS, type EntryKind } from '../survey/history';
import { done, type Outcome, refuse } from '../survey/outcome';
import type { Survey } from '../survey/survey';
import { readSurveyDocument } from '../survey/versions';

/*
 * What stands in the database. Surveys and changes stand there as JSON text, so that a digest of the text tells whether
 * they are still what was written.
 */

/** A survey in the list of those kept. It changes with every entry, in the same transaction. */
export interface HeadRow {
  readonly key: string;
  readonly name: string;
  readonly kept_at: string | null;
  readonly changed_at: string | null;
  readonly archived_at: string | null;
  /** The number of the last entry. */
  readonly seq: number;
  /** The number of the last entry that the newest base holds. */
  readonly base_seq: number;
}

/** A survey as it was after the entry numbered `seq`. */
export interface BaseRow {
  readonly of: string;
  readonly seq: number;
  readonly at: string;
  readonly text: string;
  readonly digest: string;
}

/** One change of a survey. Entries of a survey are numbered from 1, without gaps. */
export interface EntryRow {
  readonly of: string;
  readonly seq: number;
  readonly at: string;
  readonly kind: EntryKind;
  /** The page that wrote it. */
  readonly writer: string;
  readonly text: string;
  readonly digest: string;
}

/** Something damaged, as it was found. It is never deleted. */
export interface SetAsideRow {
  readonly of: string;
  readonly what: 'survey' | 'change' | 'missing_changes';
  readonly seq: number;
  /** For the missing ones: how many. */
  readonly count: number;
  readonly reason: string;
  /** Something older stood in for it, so that nothing was lost. */
  readonly replaced?: boolean;
  readonly found_at: string;
  readonly raw: unknown;
}

const digestOf = (parts: readonly (string | number)[]): string => bytesToHex(sha256(utf8ToBytes(parts.join('\n'))));

export function makeBase(of: string, seq: number, at: string, survey: unknown): BaseRow {
  const text = JSON.stringify(survey) ?? 'null';
  return { of, seq, at, text, digest: digestOf([of, seq, at, text]) };
}

export function makeEntry({ of, seq, at, kind, writer }: Omit<EntryRow, 'text' | 'digest'>, change: unknown): EntryRow {
  const text = JSON.stringify(change) ?? 'null';
  return { of, seq, at, kind, writer, text, digest: digestOf([of, seq, at, kind, writer, text]) };
}

/** The survey of a base row. Refused where it is not what was written. */
export function surveyIn(row: unknown): Outcome<Survey> {
  if (!isRow<BaseRow>(row, ['of', 'at', 'text', 'digest'])) return refuse('incomplete', 'parts of it are missing');
  if (row.digest !== digestOf([row.of, row.seq, row.at, row.text])) return DIFFERS;
  const document = parsed(row.text);
  if (isWhole(document)) return done(document);
  const read = readSurveyDocument(document);
  return read.ok ? read : refuse(read.code, read.sentence);
}

/** The change of an entry row. Refused where it is not what was written. */
export function changeIn(row: unknown): Outcome<{ readonly kind: EntryKind; readonly change: Change }> {
  if (!isRow<EntryRow>(row, ['of', 'at', 'kind', 'writer', 'text', 'digest'])) {
    return refuse('incomplete', 'parts of it are missing');
  }
  const { of, seq, at, kind, writer, text } = row;
  if (row.digest !== digestOf([of, seq, at, kind, writer, text])) return DIFFERS;
  const change = parsed(text);
  if (!isChange(change) || !ENTRY_KINDS.includes(kind)) return refuse('no_change', 'it does not say a change');
  return done({ kind, change });
}

const DIFFERS = refuse('digest', 'it is not what was written');

function isRow<T extends { readonly seq: number }>(row: unknown, texts: readonly (keyof T)[]): row is T {
  if (typeof row !== 'object' || row === null || typeof (row as T).seq !== 'number') return false;
  return texts.every((name) => typeof (row as T)[name] === 'string');
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const isEntities = (value: unknown): value is { id: string }[] =>
  Array.isArray(value) && value.every((each) => isObject(each) && typeof each.id === 'string');

/** Only what replaying needs: a digest has told already that it is what the program wrote. */
const isWhole = (document: unknown): document is Survey =>
  isObject(document) &&
  document.format === 'hollowline-survey' &&
  document.version === 1 &&
  isObject(document.site) &&
  COLLECTIONS.every((name) => isEntities(document[name]));

function isChange(value: unknown): value is Change {
  if (!isObject(value) || typeof value.label !== 'string') return false;
  const { put, drop, site } = value;
  if (site !== undefined && !isObject(site)) return false;
  if (put !== undefined && !(isObject(put) && Object.values(put).every(isEntities))) return false;
  if (drop === undefined) return true;
  return (
    isObject(drop) &&
    Object.values(drop).every((ids) => Array.isArray(ids) && ids.every((id) => typeof id === 'string'))
  );
}
