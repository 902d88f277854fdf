import type { Collection } from './commit';
import { makeId } from './ids';
import { contentDigest, saidText, withSupplanted } from './merge-content';
import type { Line, PathItem, Survey } from './survey';

type Member = Survey[Collection][number];

/**
 * Whether both versions can stand: two readings, features, surroundings or references side by side; two lines or outings
 * of one name where they are two; the points of both on one line. One site, one settlement of a doubt, one photo.
 */
export function mayKeepBoth(collection: Collection | 'site', apart: boolean): boolean {
  if (collection === 'outings') return apart;
  return ['lines', 'readings', 'references', 'surroundings', 'features'].includes(collection);
}

const KIND = {
  readings: 'reading',
  references: 'reference',
  surroundings: 'surrounding',
  features: 'feature',
} as const;

/** Mine, which may have grown, and theirs beside it where it stays a thing of its own. */
export function beside(
  collection: Collection,
  mine: Member,
  theirs: Member,
  apart: boolean,
  isFree: (name: string) => boolean,
): readonly [Member, Member?] {
  if (collection === 'lines' && !apart) return [joinedLine(mine as Line, theirs as Line)];
  if (collection === 'lines') {
    const { name, revised } = theirs as Line;
    let number = 2;
    while (!isFree(`${name} (${number})`)) number += 1;
    const renamed = withSupplanted({ ...revised, count: revised.count + 1 }, [contentDigest(theirs)]);
    return [mine, { ...(theirs as Line), name: `${name} (${number})`, revised: renamed }];
  }
  if (apart) return [mine, theirs];
  const kind = KIND[collection as keyof typeof KIND];
  const id = makeId(kind, theirs.id, `beside ${mine.id} ${contentDigest(theirs)}`);
  return [mine, { ...theirs, id } as Member];
}

/** One line with the points and heights of both; the rest as mine has it. */
function joinedLine(mine: Line, theirs: Line): Line {
  const withoutId = ({ id: _, ...said }: PathItem): string => saidText(said);
  const said = new Set(mine.path.map(withoutId));
  const ids = new Set<string>(mine.path.map(({ id }) => id));
  const points = theirs.path
    .filter((item) => !said.has(withoutId(item)))
    .map((item) => (ids.has(item.id) ? { ...item, id: makeId('path', item.id, withoutId(item)) } : item));
  const heights = new Set(mine.profile.map(({ chainage_m: chainage }) => chainage));
  const profile = theirs.profile.filter(({ chainage_m: chainage }) => !heights.has(chainage));
  return {
    ...mine,
    path: [...mine.path, ...points],
    profile: [...mine.profile, ...profile].sort((p, q) => p.chainage_m - q.chainage_m),
  };
}
