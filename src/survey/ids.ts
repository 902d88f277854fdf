import { sha256 } from '@noble/hashes/sha2.js';
import { utf8ToBytes } from '@noble/hashes/utils.js';
import * as z from 'zod/mini';

/** One brand per kind of entity, so that a line's id can never be passed where a reading's is meant. */
export const surveyId = z.string().check(z.minLength(1)).brand<'survey'>();
export const siteId = z.string().check(z.minLength(1)).brand<'site'>();
export const outingId = z.string().check(z.minLength(1)).brand<'outing'>();
export const lineId = z.string().check(z.minLength(1)).brand<'line'>();
export const pathItemId = z.string().check(z.minLength(1)).brand<'path'>();
export const readingId = z.string().check(z.minLength(1)).brand<'reading'>();
export const referenceId = z.string().check(z.minLength(1)).brand<'reference'>();
export const surroundingId = z.string().check(z.minLength(1)).brand<'surrounding'>();
export const featureId = z.string().check(z.minLength(1)).brand<'feature'>();
export const photoId = z.string().check(z.minLength(1)).brand<'photo'>();
export const settlementId = z.string().check(z.minLength(1)).brand<'settlement'>();

export type SurveyId = z.infer<typeof surveyId>;
export type SiteId = z.infer<typeof siteId>;
export type OutingId = z.infer<typeof outingId>;
export type LineId = z.infer<typeof lineId>;
export type PathItemId = z.infer<typeof pathItemId>;
export type ReadingId = z.infer<typeof readingId>;
export type ReferenceId = z.infer<typeof referenceId>;
export type SurroundingId = z.infer<typeof surroundingId>;
export type FeatureId = z.infer<typeof featureId>;
export type PhotoId = z.infer<typeof photoId>;
export type SettlementId = z.infer<typeof settlementId>;

export interface IdOfKind {
  survey: SurveyId;
  site: SiteId;
  outing: OutingId;
  line: LineId;
  path: PathItemId;
  reading: ReadingId;
  reference: ReferenceId;
  surrounding: SurroundingId;
  feature: FeatureId;
  photo: PhotoId;
  settlement: SettlementId;
}

const ALPHABET = '0123456789abcdefghjkmnpqrstvwxyz';
const LETTERS = 16;

/**
 * An id of 80 bits drawn from a seed and a key.
 * The shell passes a random seed for an entity made by hand; a table reader passes a fixed seed and the row's natural
 * key, so that reading the same table twice gives the same ids.
 */
export function makeId<K extends keyof IdOfKind>(kind: K, seed: string, key: string): IdOfKind[K] {
  const digest = sha256(utf8ToBytes(`${kind}\u0000${seed}\u0000${key}`));
  // Put together at once: joined letter by letter an id stays a chain of pieces in memory.
  const letters = Array.from(digest.subarray(0, LETTERS), (byte) => ALPHABET.charCodeAt(byte & 31));
  return `${kind}-${String.fromCharCode(...letters)}` as IdOfKind[K];
}
