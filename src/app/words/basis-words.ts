import type { ReferenceBasis } from '../../findings';

/** What a ratio was taken against, to follow a dash. */
export const BASIS_WORDS: Record<ReferenceBasis, string> = {
  same_day_and_wetting: 'reference stations of the same day, wetted alike',
  same_day_other_wetting: 'reference stations of the same day, but wetted otherwise',
  other_day: 'reference stations of another day',
  other_day_and_wetting: 'the reference of another day, wetted otherwise',
  site_median: 'the median of this site at this spacing; no reference stations serve here',
  none: 'nothing to compare with at this spacing',
};
