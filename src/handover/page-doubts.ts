import type { Doubt, DoubtCode } from '../survey/doubt';

/** What a doubt is called where there is no room for its sentence. */
const WORDS: Readonly<Record<DoubtCode, string>> = {
  over_range: 'over range',
  single_reading: 'read once',
  contact_suspected: 'perhaps the contact of the rods',
  hookup_unknown: 'wiring not said',
  not_pole_pole: 'remote electrodes too near',
  outside_reference: 'nothing to compare with at this spacing',
  reference_too_close: 'the reference is near',
  meter_spacing_differs: 'the meter was set to another spacing',
  repeats_disagree: 'repeats disagree',
  time_drift: 'drift in time',
  wetting_mixed: 'some rods wetted, some not',
  unit_suspected: 'perhaps another unit',
  position_poor: 'placed poorly',
  control_residual: 'a placed point does not fit',
  tape_gps_scale: 'tape and placed points differ in length',
  chainage_backwards: 'chainages run backwards',
  probable_lon_lat_swap: 'longitude and latitude perhaps exchanged',
  datum_mixed: 'datums mixed',
  slope_break: 'the slope changes',
  near_opening: 'near an opening',
  utility_suspected: 'near a pipe, wire or other metal',
  beyond_void: 'more than a void can make',
};

export const doubtWords = (code: DoubtCode): string => WORDS[code];

const RANK: Readonly<Record<Doubt['severity'], number>> = { serious: 0, warning: 1, note: 2 };
export const SEVERITIES: Readonly<Record<Doubt['severity'], string>> = {
  serious: 'Serious',
  warning: 'Look first',
  note: 'Worth knowing',
};

/** The gravest first. */
export const doubtsInOrder = (doubts: readonly Doubt[]): readonly Doubt[] =>
  [...doubts].sort((p, q) => RANK[p.severity] - RANK[q.severity]);
