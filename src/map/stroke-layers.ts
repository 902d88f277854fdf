import type { ExpressionSpecification, FilterSpecification, LayerSpecification } from 'maplibre-gl';
import { LANE_STOPS, sturdiness } from './lane-offset';
import { isTrue, spacingFilter } from './layer-parts';
import type { MapLook } from './map-look';
import { RAMP_KEYS, RAMP_STROKE, RAMP_WIDTH_PX, type RampKey } from './ramp';

/**
 * Stroke widths as parts of the ramp's, by zoom. Side by side they stay narrow, so that their lanes stay near the line;
 * alone on its line a stroke has room.
 */
const BESIDE_WIDTHS = [
  [14, 0.6],
  [18, 0.6],
  [21, 1.3],
] as const;
const ALONE_WIDTHS = [
  [14, 0.6],
  [18, 1.3],
  [21, 1.8],
] as const;

/** Cuts across a hint: a part of its width open, twice that closed. */
const HINT_DASHES = [0.3, 0.7];

const BELOW = ['slight_below', 'clear_below', 'strong_below'] as const;
const ANOMALOUS = [...BELOW, 'slight_above', 'clear_above', 'strong_above'] as const;

/** The strokes of the readings, by their grade, and under them those that are selected. */
export function strokeLayers({ palette, theme, spacing }: MapLook): LayerSpecification[] {
  const alone = spacing !== 'all';
  const chosen = spacingFilter(spacing);
  const stroke = rampMatch((key) => RAMP_STROKE[theme][key]);
  const sturdy = sturdiness(theme);
  const width = (extraPx: number, factor = 1): ExpressionSpecification =>
    byZoom(alone ? ALONE_WIDTHS : BESIDE_WIDTHS, (size) =>
      rampMatch((key) => RAMP_WIDTH_PX[key] * size * sturdy * factor + extraPx),
    );
  const offset = alone ? 0 : byZoom(LANE_STOPS, (px) => ['*', ['get', 'lane'], px * sturdy]);
  const beside = { 'line-offset': offset };
  const mitred = {
    'line-join': 'miter',
    'line-miter-limit': 4,
    'line-cap': 'butt',
  } as const;

  return [
    {
      id: 'segment_selected',
      type: 'line',
      source: 'selected_segments',
      filter: chosen,
      layout: mitred,
      paint: { ...beside, 'line-color': palette.accent, 'line-width': width(8) },
    },
    {
      id: 'segment_casings',
      type: 'line',
      source: 'segments',
      filter: both(chosen, ramped(ANOMALOUS)),
      layout: mitred,
      paint: { ...beside, 'line-color': palette.casing, 'line-width': width(1.6) },
    },
    {
      id: 'segments',
      type: 'line',
      source: 'segments',
      filter: both(chosen, ramped(['none', ...ANOMALOUS])),
      layout: mitred,
      paint: { ...beside, 'line-color': stroke, 'line-width': width(0) },
    },
    {
      // Below the reference a stroke is hollow, so that the two arms are told apart without any colour.
      id: 'segment_hollows',
      type: 'line',
      source: 'segments',
      filter: both(chosen, ramped(BELOW)),
      layout: mitred,
      paint: { ...beside, 'line-color': palette.paper, 'line-width': width(0, 0.3) },
    },
    {
      // A hint is cut across, so that it is never taken for a finding.
      id: 'segment_hints',
      type: 'line',
      source: 'segments',
      filter: both(chosen, both(ramped(ANOMALOUS), isTrue('hint'))),
      layout: mitred,
      paint: { ...beside, 'line-color': palette.paper, 'line-width': width(0), 'line-dasharray': HINT_DASHES },
    },
    {
      id: 'segments_unmeasured',
      type: 'line',
      source: 'segments',
      filter: both(chosen, ramped(['over_range', 'not_graded'])),
      layout: mitred,
      paint: { ...beside, 'line-color': stroke, 'line-width': width(0), 'line-dasharray': [0.8, 0.8] },
    },
  ];
}

function rampMatch(valueFor: (key: RampKey) => string | number): ExpressionSpecification {
  const cases = RAMP_KEYS.flatMap((key) => [key, valueFor(key)]);
  return ['match', ['get', 'ramp'], ...cases, valueFor('not_graded')] as unknown as ExpressionSpecification;
}

const ramped = (keys: readonly RampKey[]): FilterSpecification => ['in', ['get', 'ramp'], ['literal', [...keys]]];

const both = (a: FilterSpecification, b: FilterSpecification): FilterSpecification =>
  ['all', a, b] as unknown as FilterSpecification;

/** A style may scale with the zoom only at the top of an expression. */
function byZoom(
  stops: readonly (readonly [number, number])[],
  valueFor: (size: number) => ExpressionSpecification | number,
): ExpressionSpecification {
  const steps = stops.flatMap(([zoom, size]) => [zoom, valueFor(size)]);
  return ['interpolate', ['linear'], ['zoom'], ...steps] as unknown as ExpressionSpecification;
}
