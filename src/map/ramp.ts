import table from '../../styles/ramp.json' with { type: 'json' };
import type { ZoneVerdict } from '../findings';

/** A look of the whole page; each has its own strokes. */
export const THEMES = ['light', 'dark', 'sunlight'] as const;
export type Theme = (typeof THEMES)[number];

/** From far below the reference to far above it. */
export const RAMP_SCALE = [
  'strong_below',
  'clear_below',
  'slight_below',
  'none',
  'slight_above',
  'clear_above',
  'strong_above',
] as const;

/** The scale, then what has no place on it. */
export const RAMP_KEYS = [...RAMP_SCALE, 'over_range', 'not_graded'] as const;
export type RampKey = (typeof RAMP_KEYS)[number];

/** Colours of zones by verdict. */
export const ZONE_COLOUR: Record<Theme, Record<ZoneVerdict, string>> = table.zone;

export const RAMP_STROKE: Record<Theme, Record<RampKey, string>> = table.stroke;
export const RAMP_WIDTH_PX: Record<RampKey, number> = table.stroke_width_px;

/** What a feature of the `midpoints` or `segments` layer says about its grade. */
export interface GradedProperties {
  readonly grade?: unknown;
  readonly sign?: unknown;
  readonly figure_ohm_m?: unknown;
  readonly doubts?: unknown;
}

/** The place of a graded feature on the ramp. */
export function rampKey(properties: GradedProperties): RampKey {
  const { grade, sign, figure_ohm_m: figure, doubts } = properties;
  if (typeof grade !== 'string') {
    const overRange = typeof doubts === 'string' && doubts.split(';').includes('over_range');
    return (figure === null || figure === undefined) && overRange ? 'over_range' : 'not_graded';
  }
  if (grade === 'none') return 'none';
  const arm = sign === 'below_reference' ? 'below' : 'above';
  const key = `${grade}_${arm}`;
  return RAMP_KEYS.find((known) => known === key) ?? 'not_graded';
}

/** How much a key asks for attention: drawn later, listed earlier. */
export function rampRank(key: RampKey): number {
  if (key.startsWith('strong')) return 4;
  if (key.startsWith('clear')) return 3;
  if (key.startsWith('slight') || key === 'over_range') return 2;
  return key === 'none' ? 1 : 0;
}
