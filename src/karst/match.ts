import type { LonLat } from '../position/crs';
import { geodesicDistanceM } from '../position/geodesic';
import { type FeatureType, featureTypeOf } from '../survey/feature-type';
import type { FeatureId } from '../survey/ids';
import type { Feature } from '../survey/survey';
import { distanceToFeatureM } from './distances';
import { foldedName, foldedSimilarity } from './names';
import type { PlacedFeature } from './placed';
import { SpatialTree } from './spatial-tree';

/** Two features that may be one. */
export interface LikelyPair {
  /** The smaller id first. */
  readonly ids: readonly [FeatureId, FeatureId];
  readonly grade: 'likely' | 'possible';
  readonly distanceM: number;
  /** Radius within which two fixes of one place fall 95 times of 100: √(R95² + R95²), and what was added by request. */
  readonly withinM: number;
  readonly types: 'same' | 'compatible';
  /** 0 to 1; null where one of them has no name. */
  readonly nameSimilarity: number | null;
  readonly sentence: string;
}

export interface Matches {
  readonly pairs: readonly LikelyPair[];
  /** Features with more neighbours than are listed, such as a heap of entries on one map point. */
  readonly crowded: readonly { readonly id: FeatureId; readonly sentence: string }[];
}

export interface MatchOptions {
  /** Added to the joint accuracy, m, for positions that are known to be worse than they say. */
  readonly extraM?: number;
}

/** Neighbours that are looked at for each feature. Choice. */
const MOST_NEAR = 24;
/** Names as alike as this are spellings of one. Choice. */
const SAME_NAME = 0.8;
/** Names less alike than this belong to different things. Choice. */
const OTHER_NAME = 0.5;

/** Types that one thing may be called by different people, or at different times. */
const FAMILIES: readonly (readonly FeatureType[])[] = [
  [
    ...(['sinkhole_solution', 'sinkhole_cover_collapse', 'sinkhole_cover_subsidence', 'sinkhole_unknown'] as const),
    ...(['depression_unverified', 'karst_window', 'subsidence_damage'] as const),
  ],
  ['sinkhole_unknown', 'sinkhole_cover_collapse', 'shaft', 'cave_entrance'],
  ['swallow_hole', 'estavelle', 'sinkhole_unknown', 'cave_entrance', 'shaft'],
  ['spring', 'estavelle', 'karst_window', 'cave_entrance'],
  ['sinking_stream', 'losing_reach', 'dry_valley'],
  ['sinking_stream', 'swallow_hole'],
];

/** Whether two types may name one thing. Words that are not known go with each other only when they are the same. */
export function typesAgree(p: string, q: string): LikelyPair['types'] | null {
  const [first, second] = [featureTypeOf(p), featureTypeOf(q)];
  if (first === null || second === null) return foldedName(p) === foldedName(q) ? 'same' : null;
  if (first === second) return 'same';
  return FAMILIES.some((family) => family.includes(first) && family.includes(second)) ? 'compatible' : null;
}

/**
 * Pairs of features that are likely to be one thing entered twice: as near as their accuracies allow, types that go
 * together, names that are alike where both have one, and nobody said that they are two. Nothing is joined by it. The same features in any order give the
 * same pairs. Distances are geodesics on the ellipsoid, 0 where one lies in the other's area.
 */
export function likelyDuplicates(features: readonly PlacedFeature[], { extraM = 0 }: MatchOptions = {}): Matches {
  const sorted = [...features].sort((p, q) => (p.feature.id < q.feature.id ? -1 : p.feature.id > q.feature.id ? 1 : 0));
  const tree = new SpatialTree(sorted.map(({ place }) => place));
  const names = sorted.map(({ feature }) => (feature.name ? foldedName(feature.name) : null));
  const reaches = sorted.map(({ r95M, parts, place }) => r95M + extentM(parts, place));
  const looked = new Set<number>();
  const pairs: LikelyPair[] = [];
  const crowded: { id: FeatureId; sentence: string }[] = [];
  sorted.forEach((own, i) => {
    // A pair is found from the one that reaches farther: twice its reach bounds the joint one.
    const near = tree.nearest(i, MOST_NEAR, 2 * (reaches[i] as number) + extraM);
    if (near.length === MOST_NEAR) crowded.push({ id: own.feature.id, sentence: crowdSentence(own) });
    for (const { index } of near) {
      const key = Math.min(i, index) * sorted.length + Math.max(i, index);
      if (looked.has(key)) continue;
      looked.add(key);
      const pair = pairOf(own, sorted[index] as PlacedFeature, names[i] ?? null, names[index] ?? null, extraM);
      if (pair) pairs.push(pair);
    }
  });
  return { pairs: inOrder(pairs), crowded };
}

const crowdSentence = (own: PlacedFeature): string =>
  `${labelOf(own)} has ${MOST_NEAR} neighbours or more within reach; only the nearest ${MOST_NEAR} were looked at.`;

function pairOf(
  p: PlacedFeature,
  q: PlacedFeature,
  pName: string | null,
  qName: string | null,
  extraM: number,
): LikelyPair | null {
  const [first, second] = p.feature.id < q.feature.id ? [p, q] : [q, p];
  if (isSaidApart(first.feature, second.feature) || isSaidApart(second.feature, first.feature)) return null;
  const types = typesAgree(first.feature.type, second.feature.type);
  if (types === null) return null;
  const withinM = Math.hypot(first.r95M, second.r95M) + extraM;
  const distanceM = gapM(first, second);
  if (distanceM > withinM) return null;
  const similarity = pName && qName ? foldedSimilarity(pName, qName) : null;
  const isNumberedApart = isFromOneList(first, second);
  const named = similarity === null ? null : similarity >= SAME_NAME;
  if (similarity !== null && similarity < OTHER_NAME && distanceM > withinM / 2) return null;
  const grade = !isNumberedApart && (named ?? (types === 'same' && distanceM <= withinM / 2)) ? 'likely' : 'possible';
  return {
    ids: [first.feature.id, second.feature.id],
    grade,
    distanceM,
    withinM,
    types,
    nameSimilarity: similarity,
    sentence: `${labelOf(first)} and ${labelOf(second)} are ${distanceM.toFixed(1)} m apart, within the ${withinM.toFixed(1)} m that their accuracies allow${isNumberedApart ? '; one source lists them as two' : ''}.`,
  };
}

const isSaidApart = ({ distinct_from: others }: Feature, { id }: Feature): boolean => others?.includes(id) === true;

/** Two numbers of one list are two things to whoever made it. */
function isFromOneList({ feature: p }: PlacedFeature, { feature: q }: PlacedFeature): boolean {
  const [first, second] = [p.external_id ?? null, q.external_id ?? null];
  return first !== null && second !== null && first !== second && (p.source ?? '') === (q.source ?? '');
}

function gapM(p: PlacedFeature, q: PlacedFeature): number {
  if (p.feature.shape === 'point' && q.feature.shape === 'point') return geodesicDistanceM(p.place, q.place);
  return p.feature.shape === 'point' ? distanceToFeatureM(p.place, q) : distanceToFeatureM(q.place, p);
}

/** The farthest that a shape reaches from its middle, roughly and never too short. */
function extentM(parts: PlacedFeature['parts'], place: LonLat): number {
  let most = 0;
  for (const { places } of parts) {
    for (const each of places) if (each !== place) most = Math.max(most, geodesicDistanceM(place, each));
  }
  return most;
}

export function labelOf({ feature }: Pick<PlacedFeature, 'feature'>): string {
  return feature.name ? `“${feature.name}”` : (feature.external_id ?? feature.id);
}

const GRADES: readonly LikelyPair['grade'][] = ['likely', 'possible'];

/** The likely first, the nearer first. */
const inOrder = (pairs: readonly LikelyPair[]): LikelyPair[] =>
  [...pairs].sort(
    (p, q) =>
      GRADES.indexOf(p.grade) - GRADES.indexOf(q.grade) ||
      p.distanceM - q.distanceM ||
      (p.ids.join(' ') < q.ids.join(' ') ? -1 : 1),
  );
