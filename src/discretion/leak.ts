import type { FeatureId, LineId, OutingId } from '../survey/ids';
import type { Feature } from '../survey/survey';

export type LeakKind =
  | 'line_near'
  | 'zone_round'
  | 'remote_near'
  | 'feature_near'
  | 'surrounding_near'
  | 'grid_origin_near'
  | 'named'
  | 'earlier_share'
  | 'few_places'
  | 'gone';

/** What is cut when a leak is settled by withholding. */
export type Carrier =
  | { readonly kind: 'line'; readonly line: LineId }
  | { readonly kind: 'zone'; readonly zone: string }
  | { readonly kind: 'feature'; readonly feature: FeatureId }
  | { readonly kind: 'surrounding'; readonly surrounding: string }
  | { readonly kind: 'remotes'; readonly outing: OutingId }
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'grids' }
  /** It is left out already. */
  | { readonly kind: 'none' };

/** Something in the share that could give a protected place away. */
export interface Leak {
  /** The same for the same cause, so that a settlement is found again. */
  readonly id: string;
  readonly kind: LeakKind;
  readonly feature: FeatureId;
  readonly sentence: string;
  /** What withholding would do. */
  readonly remedy: string;
  readonly carrier: Carrier;
}

/** What a feature is called, before the person who settles a leak. */
export const callOf = ({ id, name, type }: Feature): string =>
  name ? `“${name}”` : `the ${type.replaceAll('_', ' ')} ${id}`;
