import { geodesicDistanceM } from '../position/geodesic';
import type { FeatureId } from '../survey/ids';
import { pointOfTime } from '../survey/point-of-time';
import type { Feature, LocalGrid } from '../survey/survey';
import { foldedName } from './names';
import { placeFeature } from './placed';

/*
 * Joining what several keepers know of the same features. The order of the files does not matter, and joining a second
 * time changes nothing: each step takes the greatest of some versions in one fixed order.
 *
 * Versions of one id: the one revised more often, then the later one, then the one that is taken out or joined, then
 * the greater text. Different ids with one source and one number in it (`external_id`) are one feature: it keeps the smallest of
 * their ids and the best version of them; the others are retired and point to it. Where each came from is kept.
 */

export interface KeeperFeatures {
  /** File or person, for origins and sentences. */
  readonly keeper: string;
  readonly features: readonly Feature[];
  readonly grids: readonly LocalGrid[];
}

export interface MergeConflict {
  readonly id: FeatureId;
  /** `same_count`: changed as often by two, so none is plainly later. `moved`: their places are farther apart than the accuracies allow. */
  readonly code: 'same_count' | 'moved';
  readonly keepers: readonly string[];
  /** Keys of the record in which the versions differ. */
  readonly differs: readonly string[];
  readonly sentence: string;
}

export interface MergedFeatures {
  /** By id. */
  readonly features: readonly Feature[];
  readonly conflicts: readonly MergeConflict[];
  /** Features that were joined by their number in one source, and into which. */
  readonly joined: readonly { readonly id: FeatureId; readonly into: FeatureId; readonly externalId: string }[];
}

interface Version {
  readonly feature: Feature;
  readonly keeper: string;
  readonly grids: readonly LocalGrid[];
  readonly text: string;
}

/** What a feature says, with its keys in one order: origins, which are gathered from all versions, left out. */
function canonicalText(feature: Feature): string {
  const { origins: _, ...rest } = feature;
  return JSON.stringify(sortedKeys(rest));
}

function sortedKeys(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sortedKeys);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .sort(([p], [q]) => (p < q ? -1 : 1))
      .map(([key, part]) => [key, sortedKeys(part)]),
  );
}

const compareText = (p: string, q: string): number => (p < q ? -1 : p > q ? 1 : 0);

/** What was never changed is before every other. */
const timeKey = (at: string | null): number => (at === null ? null : pointOfTime(at)) ?? -Infinity;

function compareVersions(p: Feature, q: Feature, pText: () => string, qText: () => string): number {
  const [pAt, qAt] = [timeKey(p.revised.at), timeKey(q.revised.at)];
  return (
    p.revised.count - q.revised.count ||
    (pAt === qAt ? 0 : pAt < qAt ? -1 : 1) ||
    Number(p.retired === true) - Number(q.retired === true) ||
    Number(Boolean(p.merged_into)) - Number(Boolean(q.merged_into)) ||
    compareText(pText(), qText())
  );
}

/** Joins several keepers' features. Deterministic, whatever the order of keepers and features. */
export function mergeFeatures(keepers: readonly KeeperFeatures[]): MergedFeatures {
  const versions = new Map<FeatureId, Version[]>();
  for (const { keeper, features, grids } of keepers) {
    for (const feature of features) {
      const list = versions.get(feature.id);
      const version = { feature, keeper, grids, text: '' };
      if (list) list.push(version);
      else versions.set(feature.id, [version]);
    }
  }
  const conflicts: MergeConflict[] = [];
  const best = new Map<FeatureId, Feature>();
  for (const id of [...versions.keys()].sort(compareText)) {
    best.set(id, bestOf(id, versions.get(id) as Version[], conflicts));
  }
  const joined = joinByNumber(best);
  return { features: [...best.values()], conflicts, joined };
}

function bestOf(id: FeatureId, all: readonly Version[], conflicts: MergeConflict[]): Feature {
  const [only] = all;
  if (only && all.length === 1) return only.feature;
  const byText = new Map<string, Version & { readonly keepers: string[] }>();
  for (const version of [...all].sort((p, q) => compareText(p.keeper, q.keeper))) {
    const text = canonicalText(version.feature);
    const same = byText.get(text);
    if (same) same.keepers.push(version.keeper);
    else byText.set(text, { ...version, text, keepers: [version.keeper] });
  }
  const ranked = [...byText.values()].sort((p, q) =>
    compareVersions(
      q.feature,
      p.feature,
      () => q.text,
      () => p.text,
    ),
  );
  const [first, ...others] = ranked as [Version & { keepers: string[] }, ...(Version & { keepers: string[] })[]];
  for (const other of others) {
    const conflict = conflictOf(id, first, other);
    if (conflict) conflicts.push(conflict);
  }
  return withOrigins(
    first.feature,
    all.flatMap(({ feature }) => feature.origins ?? []),
  );
}

/** Keys in which keepers may differ without disagreeing: how often and by whom it was changed, and joinings. */
const QUIET = new Set(['revised', 'origins', 'merged_into', 'retired']);

type WithKeepers = Version & { readonly keepers: readonly string[] };

function conflictOf(id: FeatureId, best: WithKeepers, other: WithKeepers): MergeConflict | null {
  const differs = differingKeys(best.feature, other.feature);
  if (differs.length === 0 || other.feature.merged_into || best.feature.merged_into) return null;
  const keepers = [...best.keepers, ...other.keepers];
  const label = best.feature.name ? `“${best.feature.name}”` : (best.feature.external_id ?? id);
  const apartM = differs.includes('positions') ? beyondAccuraciesM(best, other) : null;
  if (apartM !== null) {
    return {
      id,
      code: 'moved',
      keepers,
      differs,
      sentence: `${label}: the places of ${best.keepers.join(', ')} and ${other.keepers.join(', ')} are ${apartM.toFixed(0)} m apart, more than their accuracies allow. That of ${best.keepers.join(', ')} was taken.`,
    };
  }
  if (best.feature.revised.count > other.feature.revised.count) return null;
  return {
    id,
    code: 'same_count',
    keepers,
    differs,
    sentence: `${label} was changed by ${best.keepers.join(', ')} and by ${other.keepers.join(', ')} (${differs.join(', ')}). That of ${best.keepers.join(', ')} was taken${best.feature.revised.at === other.feature.revised.at ? '; neither is later' : ', the later one'}.`,
  };
}

function differingKeys(p: Feature, q: Feature): readonly string[] {
  const [first, second] = [p, q] as unknown as readonly [Record<string, unknown>, Record<string, unknown>];
  return [...new Set([...Object.keys(first), ...Object.keys(second)])]
    .filter((key) => !QUIET.has(key))
    .filter((key) => JSON.stringify(sortedKeys(first[key] ?? null)) !== JSON.stringify(sortedKeys(second[key] ?? null)))
    .sort(compareText);
}

/** How far apart two versions are where that is more than √(R95² + R95²); else null. */
function beyondAccuraciesM(p: Version, q: Version): number | null {
  const [first, second] = [placeFeature(p.feature, p.grids), placeFeature(q.feature, q.grids)];
  if ('sentence' in first || 'sentence' in second) return null;
  const distanceM = geodesicDistanceM(first.place, second.place);
  return distanceM > Math.hypot(first.r95M, second.r95M) ? distanceM : null;
}

type Origins = NonNullable<Feature['origins']>;

/** A feature with all of these origins, each once, in one order. */
function withOrigins(feature: Feature, origins: Origins): Feature {
  const once = new Map(origins.map((origin) => [JSON.stringify(sortedKeys(origin)), origin]));
  if (once.size === 0) return feature;
  return { ...feature, origins: [...once.entries()].sort(([p], [q]) => compareText(p, q)).map(([, origin]) => origin) };
}

/** The same number in the same source names one thing, whatever ids it was given. Without a source it names nothing. */
function numberKey({ source, external_id: externalId }: Feature): string | null {
  return source && externalId ? `${foldedName(source)}\u0000${externalId.normalize('NFKC').trim()}` : null;
}

function joinByNumber(best: Map<FeatureId, Feature>): MergedFeatures['joined'] {
  const groups = new Map<string, FeatureId[]>();
  for (const [id, feature] of best) {
    const key = numberKey(feature);
    // A feature that a person joined with another stays where it was put.
    if (key === null || (feature.merged_into && numberKeyOf(best, feature.merged_into) !== key)) continue;
    const list = groups.get(key);
    if (list) list.push(id);
    else groups.set(key, [id]);
  }
  const joined: { id: FeatureId; into: FeatureId; externalId: string }[] = [];
  for (const ids of groups.values()) {
    // In order of id already. Those that were joined before give their content no more: it was compared then.
    const standing = ids.filter((id) => !best.get(id)?.merged_into);
    const [into] = standing;
    if (into === undefined || ids.length < 2) continue;
    const members = standing.map((id) => best.get(id) as Feature);
    let content = members[0] as Feature;
    for (const member of members.slice(1)) if (compareContent(member, content, into) > 0) content = member;
    const gathered = ids.flatMap((id) => best.get(id)?.origins ?? []);
    // Joined before, a feature has its origin already, and may since have taken the other's spelling of the source.
    const own = ids.flatMap((id) => {
      const { source, external_id: externalId } = best.get(id) as Feature;
      const isTold = gathered.some((origin) => origin.id === id);
      return isTold ? [] : [{ from: source ?? '', id, external_id: externalId ?? null }];
    });
    const origins = [...gathered, ...own];
    best.set(into, withOrigins({ ...content, id: into }, origins));
    for (const id of ids) {
      if (id === into) continue;
      const member = best.get(id) as Feature;
      if (member.merged_into === into) continue;
      best.set(id, { ...member, retired: true, merged_into: into });
      joined.push({ id, into, externalId: member.external_id ?? '' });
    }
  }
  return joined;
}

/** Which of two says more, their own ids left aside. */
const compareContent = (p: Feature, q: Feature, id: FeatureId): number =>
  compareVersions(
    p,
    q,
    () => canonicalText({ ...p, id }),
    () => canonicalText({ ...q, id }),
  );

function numberKeyOf(best: ReadonlyMap<FeatureId, Feature>, id: FeatureId): string | null {
  const feature = best.get(id);
  return feature ? numberKey(feature) : null;
}
