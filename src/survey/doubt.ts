import type { LineId, ReadingId } from './ids';

/** Every reason for being wary that this program knows. One file each under `evidence/doubts/`. */
export const DOUBT_CODES = [
  'over_range',
  'single_reading',
  'contact_suspected',
  'hookup_unknown',
  'not_pole_pole',
  'outside_reference',
  'reference_too_close',
  'meter_spacing_differs',
  'repeats_disagree',
  'time_drift',
  'wetting_mixed',
  'unit_suspected',
  'position_poor',
  'control_residual',
  'tape_gps_scale',
  'chainage_backwards',
  'probable_lon_lat_swap',
  'datum_mixed',
  'slope_break',
  'near_opening',
  'utility_suspected',
  'beyond_void',
] as const;

export type DoubtCode = (typeof DOUBT_CODES)[number];

/** `note`: worth knowing. `warning`: look before relying on it. `serious`: the number is probably not what it says. */
export type DoubtSeverity = 'note' | 'warning' | 'serious';

export interface Doubt {
  /** Stable for the same cause, so that a settlement finds it again after a re-computation. */
  readonly id: string;
  readonly code: DoubtCode;
  readonly severity: DoubtSeverity;
  readonly line: LineId | null;
  /** Where along the line; null when the doubt is about the line, or about several places of it. */
  readonly chainageM: number | null;
  readonly spacingM: number | null;
  /** What is doubtful, as a sentence with its numbers. */
  readonly sentence: string;
  /** What a person can do about it. */
  readonly remedy: string;
  /** The readings it casts doubt on: their midpoints carry its code. */
  readonly readings: readonly ReadingId[];
}
