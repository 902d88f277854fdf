import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import type { Revised } from './survey';

/** What two copies of a survey are compared by. */
export interface Mergeable {
  readonly id: string;
  readonly revised: Revised;
}

/** Said about a thing, not part of it: who changed it how often, and the ids that it and its points were given. */
const APART = new Set(['id', 'revised']);

function sortedKeys(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sortedKeys);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .filter(([key, part]) => !isUnsaid(key, part))
      .sort(([p], [q]) => (p < q ? -1 : 1))
      .map(([key, part]) => [key, sortedKeys(part)]),
  );
}

/** A missing key, null and "not retired" say the same. */
const isUnsaid = (key: string, value: unknown): boolean =>
  value === undefined || value === null || (key === 'retired' && value === false);

function partsOf(entity: object): Readonly<Record<string, unknown>> {
  const parts: Record<string, unknown> = {};
  for (const [key, value] of Object.entries(entity)) {
    if (APART.has(key) || isUnsaid(key, value)) continue;
    parts[key] = key === 'path' && Array.isArray(value) ? value.map(withoutId) : value;
  }
  return parts;
}

const withoutId = (item: unknown): unknown =>
  typeof item === 'object' && item !== null ? { ...item, id: undefined } : item;

/** One text for all records that say the same, whatever the order of their keys. */
export const saidText = (value: unknown): string => JSON.stringify(sortedKeys(value) ?? null);

export const contentText = (entity: object): string => saidText(partsOf(entity));

export const contentDigest = (entity: object): string =>
  bytesToHex(sha256(utf8ToBytes(contentText(entity)))).slice(0, 32);

/** The keys in which two records differ, in the order of the alphabet. */
export function differingKeys(p: object, q: object): readonly string[] {
  const [first, second] = [partsOf(p), partsOf(q)];
  return [...new Set([...Object.keys(first), ...Object.keys(second)])]
    .filter((key) => saidText(first[key]) !== saidText(second[key]))
    .sort();
}

const isEmpty = (value: unknown): boolean => Array.isArray(value) && value.length === 0;

/** Whether all that `less` says stands in `more` too. To be retired is no more than not to be. */
export function saysAllOf(more: object, less: object): boolean {
  const [full, part] = [partsOf(more), partsOf(less)];
  if (full.retired !== part.retired) return false;
  return Object.entries(part).every(([key, value]) => isEmpty(value) || saidText(full[key]) === saidText(value));
}

/*
 * Digests of versions that a person has decided against, in `revised.over`: so that nobody is asked twice, and the
 * colleague's device sees that this version came after theirs. The record does not know the key: shares that hide
 * anything go without it.
 */
export function supplanted(revised: Revised): readonly string[] {
  const { over } = revised as { readonly over?: unknown };
  return Array.isArray(over) ? over.filter((each) => typeof each === 'string') : [];
}

export const withSupplanted = (revised: Revised, over: readonly string[]): Revised =>
  over.length === 0 ? revised : ({ ...revised, over: [...new Set(over)].sort() } as Revised);
