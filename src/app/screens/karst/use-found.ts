import { useEffect, useState } from 'react';
import { UNVERIFIED_TYPES } from '../../../karst/definitions';
import { featureName } from '../../../karst/feature-words';
import { foldedName } from '../../../karst/names';
import { featureTypeOf } from '../../../survey/feature-type';
import type { Feature } from '../../../survey/survey';
import { inSlices } from '../../karst/in-slices';

/** What a list of features is narrowed to; an empty word narrows nothing. */
export interface FeatureFilter {
  readonly type: string;
  readonly status: string;
  readonly source: string | null;
  readonly text: string;
  readonly onlyUnverified: boolean;
  readonly retired: boolean;
}

const SLICE = 500;

/** Features that are as asked, in their order. Many are gone through beside the typing; until then the last answer stands. */
export function useFound(features: readonly Feature[], filter: FeatureFilter): readonly Feature[] {
  const { type, status, source, text, onlyUnverified, retired } = filter;
  const [found, setFound] = useState<readonly Feature[]>(() => features.filter((feature) => !feature.retired));
  useEffect(
    () => inSlices(seek(features, { type, status, source, text, onlyUnverified, retired }), setFound),
    [features, type, status, source, text, onlyUnverified, retired],
  );
  return found;
}

function* seek(features: readonly Feature[], filter: FeatureFilter): Generator<void, readonly Feature[]> {
  const wanted = foldedName(filter.text);
  const found: Feature[] = [];
  for (const [i, feature] of features.entries()) {
    if (i % SLICE === SLICE - 1) yield;
    if (isLike(feature, filter) && (wanted === '' || textOf(feature).includes(wanted))) found.push(feature);
  }
  return found;
}

const isLike = (feature: Feature, { type, status, source, onlyUnverified, retired }: FeatureFilter): boolean =>
  (feature.retired === true) === retired &&
  (type === '' || feature.type === type) &&
  (status === '' || feature.status === status) &&
  (source === null || (feature.source ?? '') === source) &&
  (!onlyUnverified || isUnverified(feature));

function isUnverified({ type, status }: Feature): boolean {
  const known = featureTypeOf(type);
  return status !== 'field_checked' || (known !== null && UNVERIFIED_TYPES.includes(known));
}

/** A feature that was edited is another object, so a text is never old. */
const texts = new WeakMap<Feature, string>();

function textOf(feature: Feature): string {
  let text = texts.get(feature);
  if (text === undefined) {
    text = foldedName(`${featureName(feature)} ${feature.external_id ?? ''} ${feature.note ?? ''}`);
    texts.set(feature, text);
  }
  return text;
}
