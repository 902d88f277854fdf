import type { Collection } from './commit';
import { contentText, type Mergeable, saidText } from './merge-content';
import { pointOfTime, saysZone } from './point-of-time';
import type { Survey } from './survey';

/*
 * What names a thing where two people gave it ids of their own. Null: nothing names it but its id.
 */

const timeKey = (time: string | null | undefined): string | number | null => {
  if (!time) return null;
  return saysZone(time) ? pointOfTime(time) : time;
};

const folded = (name: string | null | undefined): string => (name ?? '').normalize('NFKC').trim();

type Keys = { readonly [C in Collection]: (entity: Survey[C][number]) => string | null };

const KEYS: Keys = {
  outings: ({ name, date }) => saidText([folded(name), date]),
  lines: ({ name }) => folded(name),
  readings: (reading) => {
    const { line, outing, midpoint_m, spacing_m, electrodes, position, hookup, n, inner_spacing_m, repeat, time } =
      reading;
    const place = midpoint_m ?? electrodes ?? (position ? [position.x, position.y, position.crs] : null);
    if (place === null) return null;
    return saidText([line, outing, place, spacing_m, hookup, n, inner_spacing_m, repeat, timeKey(time)]);
  },
  references: ({ name }) => folded(name),
  surroundings: ({ kind, name, positions }) =>
    saidText([kind, folded(name), positions.map(({ x, y, crs }) => [x, y, crs])]),
  features: ({ source, external_id: externalId }) =>
    source && externalId ? saidText([folded(source).toLowerCase(), folded(externalId)]) : null,
  photos: ({ sha256, subject }) => saidText([sha256, subject]),
  settlements: ({ doubt }) => doubt,
};

export function naturalKey<C extends Collection>(collection: C, entity: Survey[C][number]): string | null {
  return KEYS[collection](entity);
}

export interface Matched<T extends Mergeable> {
  readonly pairs: readonly { readonly mine: T; readonly theirs: T }[];
  /** Those of theirs that I do not have. */
  readonly fresh: readonly T[];
}

/**
 * Which of theirs is which of mine: by id; then, of the rest, by what names it. Where a name stands for several, those
 * that say the same go together, then those in use before those that are retired.
 */
export function matched<T extends Mergeable & { readonly retired?: boolean | undefined }>(
  mine: readonly T[],
  theirs: readonly T[],
  key: (entity: T) => string | null,
): Matched<T> {
  const byId = new Map<string, T>(mine.map((entity) => [entity.id, entity]));
  const theirIds = new Set<string>(theirs.map(({ id }) => id));
  const free = new Map<string, T[]>();
  for (const entity of mine) {
    const name = theirIds.has(entity.id) ? null : key(entity);
    if (name !== null) free.set(name, [...(free.get(name) ?? []), entity]);
  }
  const pairOf = new Map<string, T>();
  const pairUp = (isPair: (own: T, other: T) => boolean): void => {
    for (const other of theirs) {
      const name = byId.has(other.id) || pairOf.has(other.id) ? null : key(other);
      const candidates = name === null ? undefined : free.get(name);
      const at = candidates?.findIndex((own) => isPair(own, other)) ?? -1;
      const [own] = at < 0 ? [] : (candidates?.splice(at, 1) ?? []);
      if (own) pairOf.set(other.id, own);
    }
  };
  pairUp((own, other) => contentText(own) === contentText(other));
  pairUp((own, other) => !own.retired && !other.retired);
  pairUp(() => true);

  const pairs: { mine: T; theirs: T }[] = [];
  const fresh: T[] = [];
  for (const other of theirs) {
    const own = byId.get(other.id) ?? pairOf.get(other.id);
    if (own) pairs.push({ mine: own, theirs: other });
    else fresh.push(other);
  }
  return { pairs, fresh };
}
