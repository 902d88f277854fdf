import { featureTypeOf } from '../survey/feature-type';
import type { Feature } from '../survey/survey';
import { counted } from '../survey/wording';
import type { Counted } from './counted';
import { DEFINITIONS } from './definitions';

/** A type as people say it; as written where it is not known here. */
export function typeWords(type: string): string {
  const known = featureTypeOf(type);
  return known ? DEFINITIONS[known].label : `“${type.length > 48 ? `${type.slice(0, 47)}…` : type}” (no known type)`;
}

export const STATUS_WORDS: Readonly<Record<Feature['status'], string>> = {
  reported: 'reported, nobody checked it',
  field_checked: 'checked on the ground',
  rejected: 'rejected: no such feature',
};

/** What a feature is called: by its name, else by the number of its source. */
export const featureName = ({ name, external_id: externalId, type }: Feature): string =>
  name ?? (externalId ? `No. ${externalId}` : typeWords(type));

const LEFT_OUT_WORDS: Readonly<Record<keyof Counted['leftOut'], string>> = {
  unverified: 'unverified',
  rejected: 'rejected',
  other_type: 'of another type',
  unknown_type: 'of a type that is not known here',
  generalised: 'shown by a square only',
};

/** Which features a measure did not count, as a sentence; empty where it counted all. */
export function leftOutWords(leftOut: Counted['leftOut']): string {
  const parts = (Object.keys(LEFT_OUT_WORDS) as (keyof Counted['leftOut'])[])
    .filter((why) => leftOut[why] > 0)
    .map((why) => `${leftOut[why]} ${LEFT_OUT_WORDS[why]}`);
  return parts.length === 0 ? '' : `Not counted: ${parts.join(', ')}.`;
}

/** A chance as people read it. */
export const chanceWords = (p: number): string => (p < 0.001 ? 'less than 1 in 1,000' : p.toFixed(3));

export const featuresWords = (count: number): string => counted(count, 'feature');
