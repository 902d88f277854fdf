import { sha256 } from '@noble/hashes/sha2.js';
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

// A large table asks for an id a row: what is needed for one is made once and used again.
const encoder = new TextEncoder();
const blank = sha256.create();
const hash = sha256.create();
const digest = new Uint8Array(hash.outputLen);
const scratch = new Uint8Array(1024);
const codes: number[] = [];

/** UTF-8 of a text, in `scratch` where it has room there. */
function encoded(text: string): Uint8Array {
  return 3 * text.length > scratch.length
    ? encoder.encode(text)
    : scratch.subarray(0, encoder.encodeInto(text, scratch).written);
}

/**
 * An id of 80 bits drawn from a seed and a key.
 * The shell passes a random seed for an entity made by hand; a table reader passes a fixed seed and the row's natural
 * key, so that reading the same table twice gives the same ids.
 */
export function makeId<K extends keyof IdOfKind>(kind: K, seed: string, key: string): IdOfKind[K] {
  blank._cloneInto(hash);
  hash.update(encoded(`${kind}\u0000${seed}\u0000${key}`)).digestInto(digest);
  const prefix = `${kind}-`;
  // Letters put together at once: joined one by one they stay a chain of pieces in memory.
  codes.length = prefix.length + LETTERS;
  for (let i = 0; i < prefix.length; i += 1) codes[i] = prefix.charCodeAt(i);
  for (let i = 0; i < LETTERS; i += 1) codes[prefix.length + i] = ALPHABET.charCodeAt((digest[i] as number) & 31);
  return String.fromCharCode(...codes) as IdOfKind[K];
}
