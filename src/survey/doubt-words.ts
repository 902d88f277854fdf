import type { DoubtCode, DoubtSeverity } from './doubt';

/** A doubt in few words: the name of its kind, and where there is no room for its sentence. */
export const DOUBT_WORDS: Readonly<Record<DoubtCode, string>> = {
  over_range: 'Over range',
  single_reading: 'Read once',
  contact_suspected: 'Perhaps the contact of the rods',
  hookup_unknown: 'Hookup not said',
  not_pole_pole: 'Perhaps not pole-pole',
  outside_reference: 'Nothing to compare with at this spacing',
  reference_too_close: 'Reference too near',
  meter_spacing_differs: 'Meter set to another spacing',
  repeats_disagree: 'Repeats disagree',
  time_drift: 'Drift in time',
  wetting_mixed: 'Some rods wetted, some not',
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

/** How grave a doubt is. */
export const SEVERITY_WORDS: Readonly<Record<DoubtSeverity, string>> = {
  serious: 'Serious',
  warning: 'Look first',
  note: 'Worth knowing',
};
