import { featureTypeOf } from '../survey/feature-type';
import { UNVERIFIED_TYPES } from './definitions';
import type { PlacedFeature } from './placed';

export interface CountOptions {
  /** Types that are counted; absent = every known type. */
  readonly types?: readonly string[];
  /** Depressions and anomalies that nobody verified are left out unless asked for. */
  readonly withUnverified?: boolean;
}

export interface Counted {
  readonly features: readonly PlacedFeature[];
  /** Why how many were left out. */
  readonly leftOut: Readonly<Record<'unverified' | 'rejected' | 'other_type' | 'unknown_type' | 'generalised', number>>;
}

/** The features that a measure counts: never the rejected, nor those that are shown by a square only; no depression or anomaly that nobody verified unless asked. */
export function countedFeatures(
  placed: readonly PlacedFeature[],
  { types, withUnverified = false }: CountOptions = {},
): Counted {
  const leftOut = { unverified: 0, rejected: 0, other_type: 0, unknown_type: 0, generalised: 0 };
  const features = placed.filter(({ feature }) => {
    const type = featureTypeOf(feature.type);
    const reason =
      feature.status === 'rejected'
        ? 'rejected'
        : feature.generalised_grid_m
          ? 'generalised'
          : types && !types.includes(type ?? feature.type)
            ? 'other_type'
            : type === null && !types
              ? 'unknown_type'
              : type !== null && UNVERIFIED_TYPES.includes(type) && !withUnverified
                ? 'unverified'
                : null;
    if (reason !== null) leftOut[reason] += 1;
    return reason === null;
  });
  return { features, leftOut };
}
