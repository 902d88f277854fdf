import type { Doubt, DoubtCode } from '../../survey/doubt';

/** What doubts of a kind have in common: the name of their group. */
export const DOUBT_KIND: Readonly<Record<DoubtCode, string>> = {
  over_range: 'Over range',
  single_reading: 'No repeats',
  contact_suspected: 'Contact of the rods suspected',
  hookup_unknown: 'Hookup not said',
  not_pole_pole: 'Not quite pole-pole',
  outside_reference: 'Outside the reference',
  reference_too_close: 'Reference too close',
  meter_spacing_differs: 'Meter set to another spacing',
  repeats_disagree: 'Repeats disagree',
  time_drift: 'Drift in time',
  wetting_mixed: 'Wetting differs',
  unit_suspected: 'Perhaps another unit',
  position_poor: 'Placed poorly',
  control_residual: 'A placed point does not fit',
  tape_gps_scale: 'Tape and placed points differ in length',
  chainage_backwards: 'Chainages run backwards',
  probable_lon_lat_swap: 'Longitude and latitude perhaps exchanged',
  datum_mixed: 'Datums mixed',
  slope_break: 'Slope changes',
  near_opening: 'Near an opening',
  utility_suspected: 'Near a pipe, wire or other metal',
  beyond_void: 'More than a void can make',
};

/** How grave, in front of a group; the settled ones are told by their count. */
export const SEVERITY_WORDS: Readonly<Record<Doubt['severity'], string>> = {
  serious: 'Serious',
  warning: 'Look first',
  note: 'Worth knowing',
};
