import type { Findings } from '../findings';
import { type IdOfKind, makeId } from '../survey/ids';
import type { Survey } from '../survey/survey';
import { type Audience, isOutside } from './audience';
import { KIND_OF } from './texts';

/*
 * Ids are drawn from names: of lines, of outings, of readings by both. Whoever guesses a name that was taken out could
 * draw the id again and see that the guess is right. So what lost its name, and what is called after it, gets new ids.
 */

const TOKEN = /[^:;\s]+/g;

/** The pieces of a key that may be ids: `near_opening:line-…:30000::feature-…`. */
export const idsIn = (text: string): readonly string[] => text.match(TOKEN) ?? [];

interface Shared {
  readonly survey: Survey;
  readonly findings: Findings;
}

/** The share with new ids for everything whose id was drawn from a name that it no longer has; else the same objects. */
export function withFreshIds(before: Survey, { survey, findings }: Shared, audience: Audience): Shared {
  const ids = freshIds(before, survey, isOutside(audience));
  if (ids.size === 0) return { survey, findings };
  const swap = (text: string): string => ids.get(text) ?? swapped(text, ids);
  return { survey: inAll(survey, swap), findings: inAll(findings, swap) };
}

function freshIds(before: Survey, shown: Survey, outside: boolean): ReadonlyMap<string, string> {
  const ids = new Map<string, string>();
  const add = (kind: keyof IdOfKind, id: string, i: string): void => {
    // By its place in the share: nothing of what it was called is left in that.
    ids.set(id, makeId(kind, `share of ${shown.id}`, i));
  };
  for (const collection of ['lines', 'outings', 'references'] as const) {
    const names = new Map<string, string>(before[collection].map(({ id, name }) => [id, name]));
    const kind = KIND_OF.find(([each]) => each === collection)?.[1] ?? 'line';
    for (const [i, { id, name }] of shown[collection].entries()) {
      const was = names.get(id);
      if (was !== undefined && was !== name) add(kind, id, String(i));
    }
  }
  if (ids.size === 0) return ids;
  for (const [i, { id, path }] of shown.lines.entries())
    if (ids.has(id)) for (const [k, item] of path.entries()) add('path', item.id, `${i}|${k}`);
  // Outsiders get no day's name and no readings, only what was computed: this spares all of a large survey.
  for (const [i, { id, line, outing }] of shown.readings.entries())
    if (ids.has(line) || (!outside && outing && ids.has(outing))) add('reading', id, String(i));
  // These are drawn from the ids of what they are about.
  for (const [i, { id, stations }] of shown.references.entries())
    if (stations.some(({ line }) => ids.has(line))) add('reference', id, String(i));
  for (const [i, { id, subject }] of shown.photos.entries())
    if (idsIn(subject).some((each) => ids.has(each))) add('photo', id, String(i));
  for (const [i, { id, doubt }] of shown.settlements.entries())
    if (idsIn(doubt).some((each) => ids.has(each))) add('settlement', id, String(i));
  for (const [i, { id, links }] of shown.features.entries())
    if (links?.some(({ target }) => idsIn(target).some((each) => ids.has(each)))) add('feature', id, String(i));
  return ids;
}

function swapped(text: string, ids: ReadonlyMap<string, string>): string {
  // Nothing short, and no single word, is a key made of ids.
  if (text.length < 8 || !(text.includes(':') || text.includes(' ') || text.includes(';'))) return text;
  return text.replace(TOKEN, (token) => ids.get(token) ?? token);
}

/** A value with a change made to all its strings, at any depth; what does not change stays the same object. */
function inAll<T>(value: T, change: (text: string) => string): T {
  return changed(value, change) as T;
}

function changed(value: unknown, change: (text: string) => string): unknown {
  if (typeof value === 'string') return change(value);
  if (typeof value !== 'object' || value === null) return value;
  if (Array.isArray(value)) {
    let copy: unknown[] | null = null;
    for (let i = 0; i < value.length; i += 1) {
      const after = changed(value[i], change);
      if (after !== value[i]) {
        copy ??= [...value];
        copy[i] = after;
      }
    }
    return copy ?? value;
  }
  let copy: Record<string, unknown> | null = null;
  for (const name in value) {
    const one = (value as Record<string, unknown>)[name];
    const after = changed(one, change);
    if (after !== one) {
      copy ??= { ...value };
      copy[name] = after;
    }
  }
  return copy ?? value;
}
