import type { InventoryField } from '../../exchange/read/karst-columns';
import type { FeatureFault } from '../../exchange/read/karst-raw';
import { DEFINITIONS } from '../../karst/definitions';
import { featureTypeOf } from '../../survey/feature-type';
import type { Feature } from '../../survey/survey';
import { counted } from '../../survey/wording';

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

export const FEATURE_FIELD_WORDS: Readonly<Record<InventoryField, string>> = {
  external_id: 'number in its source',
  type: 'type of feature',
  name: 'name',
  status: 'status',
  source: 'source',
  confidentiality: 'confidentiality class',
  note: 'note',
  observed_at: 'seen on',
  entered_at: 'entered on',
  length_m: 'length (m)',
  width_m: 'width (m)',
  depth_m: 'depth (m)',
  long_axis_deg: 'long axis (degrees from north)',
  water: 'water',
  accuracy_m: 'accuracy (m)',
  accuracy_level: 'accuracy level (68 or 95)',
  lon: 'longitude',
  lat: 'latitude',
  easting: 'easting (m)',
  northing: 'northing (m)',
  epsg: 'coordinate system (EPSG)',
  lon_text: 'longitude as text (DMS)',
  lat_text: 'latitude as text (DMS)',
  place_text: 'both coordinates as text',
  owner_consent: 'owner’s consent',
  photo: 'photo',
};

/** Headings of the notes on a file, the gravest first. */
export const FAULT_WORDS: Readonly<Record<FeatureFault['code'], string>> = {
  impossible_coordinates: 'Coordinates that cannot be',
  no_place: 'Rows without a place',
  bad_geometry: 'Outlines that are not right',
  impossible_dms: 'Impossible degrees, minutes and seconds',
  place_said_twice_differs: 'Positions given twice that disagree',
  datum_shift_suspected: 'Two datums seem to be mixed',
  probable_lon_lat_swap: 'Longitude and latitude seem to be swapped',
  lon_equals_lat: 'Longitude and latitude are the same number',
  bad_value: 'Values that could not be understood',
};

const LEFT_OUT_WORDS = {
  unverified: 'unverified',
  rejected: 'rejected',
  other_type: 'of another type',
  unknown_type: 'of a type that is not known here',
  generalised: 'shown by a square only',
} as const;

/** Which features a measure did not count, as a sentence; empty where it counted all. */
export function leftOutWords(leftOut: Readonly<Record<keyof typeof LEFT_OUT_WORDS, number>>): string {
  const parts = (Object.keys(LEFT_OUT_WORDS) as (keyof typeof LEFT_OUT_WORDS)[])
    .filter((why) => leftOut[why] > 0)
    .map((why) => `${leftOut[why]} ${LEFT_OUT_WORDS[why]}`);
  return parts.length === 0 ? '' : `Not counted: ${parts.join(', ')}.`;
}

/** A chance as people read it. */
export const chanceWords = (p: number): string => (p < 0.001 ? 'less than 1 in 1,000' : p.toFixed(3));

export const featuresWords = (count: number): string => counted(count, 'feature');
