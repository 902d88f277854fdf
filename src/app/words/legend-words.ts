import type { RampKey } from '../../map/ramp';

export const RAMP_WORDS: Record<RampKey, string> = {
  strong_above: 'strongly above the reference',
  clear_above: 'clearly above',
  slight_above: 'slightly above',
  none: 'like the reference',
  slight_below: 'slightly below',
  clear_below: 'clearly below',
  strong_below: 'strongly below the reference',
  over_range: 'over range: higher than the meter can show',
  not_graded: 'not graded: nothing to compare with',
};

/** The order in which a legend is read: from above, down. */
export const LEGEND_ORDER: readonly RampKey[] = [
  'strong_above',
  'clear_above',
  'slight_above',
  'none',
  'slight_below',
  'clear_below',
  'strong_below',
  'over_range',
  'not_graded',
];

export const LOW_SENTENCE =
  'A low at wide spacing can be the same hollow as a high at narrow spacing: an air-filled void raises the readings of ' +
  'spacings below about twice its depth and lowers those above. Look at all spacings of a place before you judge it.';

export const LEAD_SENTENCE =
  'On two-probe lines the colours are hints: places to look at again, mostly made by the contact of the rods. They are no finding.';
