import { type Counted, countedFeatures } from '../karst/counted';
import { mergeFeatures } from '../karst/merge';
import { type PlacedFeature, placeFeatures, type UnplacedFeature } from '../karst/placed';
import { FEATURE_TYPES } from '../survey/feature-type';
import { faultOf } from './faults';
import type { KeeperFile } from './inventory-read';

export const COUNT_OPTIONS = {
  columns: { type: 'string' },
  types: { type: 'string' },
  'with-unverified': { type: 'boolean' },
  json: { type: 'boolean' },
} as const;

/** Features of all files as one inventory, placed. */
export function placedOf(keepers: readonly KeeperFile[]): {
  readonly placed: readonly PlacedFeature[];
  readonly unplaced: readonly UnplacedFeature[];
} {
  const merged = mergeFeatures(keepers.map(({ path, features, grids }) => ({ keeper: path, features, grids })));
  return placeFeatures(
    merged.features,
    keepers.flatMap(({ grids }) => grids),
  );
}

export function countedOf(
  placed: readonly PlacedFeature[],
  values: { readonly types?: string | undefined; readonly 'with-unverified'?: boolean | undefined },
): Counted {
  const types = values.types?.split(',').map((type) => type.trim().replaceAll('-', '_'));
  const wrong = types?.find((type) => !(FEATURE_TYPES as readonly string[]).includes(type));
  if (wrong !== undefined) throw faultOf('arguments', '--types', wrong, `some of ${FEATURE_TYPES.join(', ')}`);
  return countedFeatures(placed, {
    ...(types ? { types } : {}),
    withUnverified: values['with-unverified'] === true || types !== undefined,
  });
}

/** A length in metres of an option; null when it was not said. */
export function lengthOption(text: string | undefined, option: string, least: number): number | null {
  if (text === undefined) return null;
  const value = Number(text);
  if (text.trim() === '' || !(value >= least && value <= 1e7)) {
    throw faultOf('arguments', option, text, `a length in metres, ${least} or more`);
  }
  return value;
}
