import type { ZoneFinding } from '../findings';
import type { Change } from '../survey/commit';
import type { Author } from '../survey/edits';
import { featureTypeOf } from '../survey/feature-type';
import { type FeatureId, makeId } from '../survey/ids';
import { done, type Outcome, refuse } from '../survey/outcome';
import type { Feature, Position, Revised, Survey } from '../survey/survey';
import { featureShapeFault } from './placed';

const revise = (before: Revised, author: Author): Revised => ({
  ...before,
  at: author.at,
  by: author.by,
  count: before.count + 1,
});

function featureById(survey: Survey, id: FeatureId): Outcome<Feature> {
  const feature = survey.features.find((candidate) => candidate.id === id);
  return feature
    ? done(feature)
    : refuse(
        'no_such_feature',
        'That feature is not in this survey any more. Choose it again on the map or in the table.',
      );
}

/** What is said of a feature that is added by hand; the rest may follow as corrections. */
export type NewFeature = Pick<Feature, 'type' | 'shape' | 'positions'> &
  Partial<Omit<Feature, 'id' | 'revised' | 'retired' | 'merged_into'>>;
export type FeatureCorrection = Partial<Omit<Feature, 'id' | 'revised' | 'retired' | 'merged_into'>>;

/** A geophysical anomaly is never checked on the ground by geophysics: seen there, it is another type. */
function faultOf(feature: Pick<Feature, 'type' | 'status' | 'shape' | 'positions' | 'parts'>): Outcome<null> {
  const type = featureTypeOf(feature.type);
  if (type === null) {
    return refuse(
      'no_such_type',
      `“${feature.type.slice(0, 60)}” is no type of karst feature. Choose one of the list.`,
    );
  }
  if (type === 'geophysical_anomaly' && feature.status === 'field_checked') {
    return refuse(
      'anomaly_not_checkable',
      'A geophysical anomaly stays unverified. Give it the type of what was seen on the ground, or reject it.',
    );
  }
  const shape = featureShapeFault(feature);
  return shape === null ? done(null) : refuse('wrong_shape', shape);
}

/**
 * Adds a feature. `seed` is random and comes from the shell. It is `reported` unless said otherwise.
 * Refusals: `no_such_type`, `wrong_shape`, `anomaly_not_checkable`.
 */
export function addFeature(survey: Survey, said: NewFeature, seed: string, author: Author): Outcome<Change> {
  const feature: Feature = {
    status: 'reported',
    entered_at: author.at,
    ...said,
    id: makeId('feature', seed, `${said.type}|${survey.features.length}`),
    revised: { at: author.at, by: author.by, count: 0 },
  };
  const fault = faultOf(feature);
  return fault.ok ? done({ label: 'Add a karst feature', put: { features: [feature] } }) : fault;
}

/** Corrects a feature. Refusals: `no_such_feature` and those of `addFeature`. */
export function correctFeature(
  survey: Survey,
  id: FeatureId,
  correction: FeatureCorrection,
  author: Author,
): Outcome<Change> {
  const found = featureById(survey, id);
  if (!found.ok) return found;
  const corrected: Feature = { ...found.value, ...correction, revised: revise(found.value.revised, author) };
  const fault = faultOf(corrected);
  return fault.ok ? done({ label: 'Correct a karst feature', put: { features: [corrected] } }) : fault;
}

/** Takes a feature out of everything that is computed and shown; it stays in the record. */
export function retireFeature(survey: Survey, id: FeatureId, author: Author): Outcome<Change> {
  const found = featureById(survey, id);
  if (!found.ok) return found;
  if (found.value.retired) return refuse('already_retired', 'That feature has been taken out already.');
  const retired: Feature = { ...found.value, retired: true, revised: revise(found.value.revised, author) };
  return done({ label: 'Take out a karst feature', put: { features: [retired] } });
}

/** Takes a feature in again, also one that was joined with another. */
export function restoreFeature(survey: Survey, id: FeatureId, author: Author): Outcome<Change> {
  const found = featureById(survey, id);
  if (!found.ok) return found;
  if (!found.value.retired)
    return refuse('not_retired', 'That feature is not taken out, so there is nothing to restore.');
  const restored: Feature = {
    ...found.value,
    retired: false,
    merged_into: null,
    revised: revise(found.value.revised, author),
  };
  return done({ label: 'Restore a karst feature', put: { features: [restored] } });
}

/**
 * Says that features are one and the same: `keep` stays with the corrections chosen beside each other, the others are
 * retired and point to it, and where all came from is kept.
 * Refusals: `no_such_feature`, `nothing_to_join`, `already_retired` and those of `addFeature`.
 */
export function joinFeatures(
  survey: Survey,
  keep: FeatureId,
  others: readonly FeatureId[],
  choices: FeatureCorrection,
  author: Author,
): Outcome<Change> {
  const kept = featureById(survey, keep);
  if (!kept.ok) return kept;
  const dropped: Feature[] = [];
  for (const id of new Set(others)) {
    if (id === keep) continue;
    const found = featureById(survey, id);
    if (!found.ok) return found;
    dropped.push(found.value);
  }
  if (dropped.length === 0) return refuse('nothing_to_join', 'Choose another feature that is the same as this one.');
  if ([kept.value, ...dropped].some(({ retired }) => retired)) {
    return refuse('already_retired', 'One of these features has been taken out. Restore it first.');
  }
  const origins = [kept.value, ...dropped].flatMap((feature) => [
    ...(feature.origins ?? []),
    {
      from: feature.source ?? survey.site.name,
      id: feature.id,
      external_id: feature.external_id ?? null,
      at: author.at,
    },
  ]);
  const joined: Feature = { ...kept.value, ...choices, origins, revised: revise(kept.value.revised, author) };
  const fault = faultOf(joined);
  if (!fault.ok) return fault;
  const retired = dropped.map((feature) => ({
    ...feature,
    retired: true,
    merged_into: keep,
    revised: revise(feature.revised, author),
  }));
  return done({ label: 'Join karst features', put: { features: [joined, ...retired] } });
}

/**
 * Puts a zone into the inventory as a geophysical anomaly, unverified, with its evidence and a link to the zone.
 * `area` is its footprint: rings of longitude and latitude, the first of each polygon its outer one.
 * Sent again it corrects the feature that it made. Refusals: `no_footprint` and those of `addFeature`.
 */
export function sendZone(
  survey: Survey,
  zone: ZoneFinding,
  area: readonly (readonly (readonly (readonly number[])[])[])[],
  author: Author,
): Outcome<Change> {
  const rings = area.flatMap((polygon) => polygon.map((ring, i) => ({ ring, hole: i > 0 })));
  if (rings.length === 0) return refuse('no_footprint', 'This zone has no place on the ground, so it cannot be sent.');
  const positions: Position[] = [];
  const parts = rings.map(({ ring, hole }) => {
    const from = positions.length;
    for (const [x = 0, y = 0] of ring) positions.push({ x, y, crs: 'EPSG:4326', source: 'computed' });
    return { from, hole };
  });
  const id = makeId('feature', survey.id, `zone|${zone.key}`);
  const before = survey.features.find((feature) => feature.id === id);
  const feature: Feature = {
    ...before,
    id,
    revised: revise(before?.revised ?? { at: null, by: null, count: -1 }, author),
    type: 'geophysical_anomaly',
    name: zone.name,
    status: before?.status === 'rejected' ? 'rejected' : 'reported',
    shape: 'area',
    positions,
    parts,
    source: 'resistivity survey',
    entered_at: before?.entered_at ?? author.at,
    links: [
      ...(before?.links ?? []).filter(({ kind, target }) => kind !== 'zone' || target !== zone.key),
      { kind: 'zone', target: zone.key },
    ],
    evidence: {
      verdict: zone.verdict,
      basis: zone.basis,
      figure_kind: zone.figureKind,
      peak_ratio: zone.peakRatio,
      readings: zone.readingCount,
      lines: zone.lines,
      outings: zone.outings,
      doubts: zone.doubts,
      depth_m: zone.depthM,
      chance_of_no_void: zone.chanceOfNoVoid,
    },
  };
  return done({ label: `Send ${zone.name} to the inventory`, put: { features: [feature] } });
}
