import type {
  ExpressionSpecification,
  FilterSpecification,
  LayerSpecification,
  SourceSpecification,
  StyleSpecification,
} from 'maplibre-gl';
import { withChanges } from './change-layers';
import { clustered, FEATURE_TAP_LAYERS, KARST_SOURCES, karstGroundLayers, karstSymbolLayers } from './feature-layers';
import { hereLayers } from './here-layers';
import { LANE_STOPS, sturdiness, WIDEST_REACH_PX } from './lane-offset';
import type { Palette } from './palette';
import { RAMP_KEYS, RAMP_STROKE, RAMP_WIDTH_PX, type RampKey, type Theme, ZONE_COLOUR } from './ramp';

/** Which spacing is drawn: one alone, on its line, or all of them side by side. `null` is "spacing not said". */
export type SpacingChoice = 'all' | number | null;

/** Everything that decides how the map looks, and nothing of what is on it. */
export interface MapLook {
  readonly theme: Theme;
  readonly palette: Palette;
  readonly spacing: SpacingChoice;
  /** Whether the strokes show what changed since an earlier survey. */
  readonly comparing?: boolean;
}

export const SOURCE_NAMES = [
  'relief',
  'grid',
  'grid_labels',
  'corridors',
  'zones',
  'lines',
  'line_starts',
  'segments',
  'changes',
  'midpoints',
  'electrodes',
  'controls',
  'next_readings',
  'selected_segments',
  'selected_places',
  'ellipses',
  'stakes',
  'handles',
  'here',
  ...KARST_SOURCES,
] as const;
export type SourceName = (typeof SOURCE_NAMES)[number];

/** Layers that answer a tap, the first to be asked first. */
export const TAP_LAYERS = [
  'electrodes',
  'midpoints',
  'segments',
  'segments_unmeasured',
  'zones',
  'next_readings',
  ...FEATURE_TAP_LAYERS,
] as const;

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

/** Cuts across a lead: a part of its width open, twice that closed. */
const LEAD_DASHES = [0.3, 0.7];

const STAKE_BESIDE_PX = [26, -30] as const;

const BELOW = ['slight_below', 'clear_below', 'strong_below'] as const;
const ANOMALOUS = [...BELOW, 'slight_above', 'clear_above', 'strong_above'] as const;

const HUMANIST = ['Optima', 'Candara', 'Noto Sans', 'DejaVu Sans', 'sans-serif'];

/** Sources of a survey keep every vertex and every decimetre; features answer to their `sid`. */
export function surveySource(): SourceSpecification {
  return {
    type: 'geojson',
    data: { type: 'FeatureCollection', features: [] },
    tolerance: 0,
    // As far as a stroke reaches beside its line: what lies farther outside a tile need not be cut into it.
    buffer: WIDEST_REACH_PX,
    maxzoom: 24,
    promoteId: 'sid',
  };
}

export function mapStyle(look: MapLook): StyleSpecification {
  return {
    version: 8,
    sources: Object.fromEntries(
      SOURCE_NAMES.map((name) => [name, name === 'feature_points' ? clustered(surveySource()) : surveySource()]),
    ),
    layers: mapLayers(look),
  };
}

const get = (property: string): ExpressionSpecification => ['get', property];
const isTrue = (property: string): FilterSpecification => ['==', ['get', property], true];
const selectedElse = (selected: number, otherwise: number): ExpressionSpecification => [
  'case',
  ['boolean', ['feature-state', 'selected'], false],
  selected,
  otherwise,
];

function rampMatch<T extends string | number>(
  valueFor: (key: (typeof RAMP_KEYS)[number]) => T,
): ExpressionSpecification {
  const cases = RAMP_KEYS.flatMap((key) => [key, valueFor(key)]);
  return ['match', ['get', 'ramp'], ...cases, valueFor('not_graded')] as unknown as ExpressionSpecification;
}

/** Zones of leads are fainter than any other. */
const LEADS_ONLY: ExpressionSpecification = ['==', ['get', 'figure_kind'], 'two_probe'];

function zoneMatch(theme: Theme): ExpressionSpecification {
  const { unresolved, ...others } = ZONE_COLOUR[theme];
  return [
    'match',
    ['get', 'verdict'],
    ...Object.entries(others).flat(),
    unresolved,
  ] as unknown as ExpressionSpecification;
}

function spacingFilter(spacing: SpacingChoice): FilterSpecification {
  if (spacing === 'all') return true;
  // The map drops properties that are null.
  return spacing === null ? ['!', ['has', 'spacing_m']] : ['==', ['get', 'spacing_m'], spacing];
}

/** The layers that draw each source. */
export function layersBySource(layers: readonly LayerSpecification[]): ReadonlyMap<string, readonly string[]> {
  const drawing = new Map<string, string[]>();
  for (const layer of layers) {
    if (!('source' in layer) || typeof layer.source !== 'string') continue;
    drawing.set(layer.source, [...(drawing.get(layer.source) ?? []), layer.id]);
  }
  return drawing;
}

/** The zoom from which a source is drawn by any layer. */
export function seenFromZoom(layers: readonly LayerSpecification[]): ReadonlyMap<string, number> {
  const from = new Map<string, number>();
  for (const layer of layers) {
    if (!('source' in layer) || typeof layer.source !== 'string') continue;
    from.set(layer.source, Math.min(from.get(layer.source) ?? Number.POSITIVE_INFINITY, layer.minzoom ?? 0));
  }
  return from;
}

/** Layers from the ground up. Pure: the same look gives the same layers. */
export function mapLayers(look: MapLook): LayerSpecification[] {
  const { palette, theme, spacing } = look;
  const alone = spacing !== 'all';
  const chosen = spacingFilter(spacing);
  const ramped = (keys: readonly RampKey[]): FilterSpecification => ['in', ['get', 'ramp'], ['literal', [...keys]]];
  const both = (a: FilterSpecification, b: FilterSpecification): FilterSpecification =>
    ['all', a, b] as unknown as FilterSpecification;

  const stroke = rampMatch((key) => RAMP_STROKE[theme][key]);
  const sturdy = sturdiness(theme);
  // A style may scale with the zoom only at the top of an expression.
  const byZoom = (
    stops: readonly (readonly [number, number])[],
    valueFor: (size: number) => ExpressionSpecification | number,
  ): ExpressionSpecification =>
    [
      'interpolate',
      ['linear'],
      ['zoom'],
      ...stops.flatMap(([zoom, size]) => [zoom, valueFor(size)]),
    ] as unknown as ExpressionSpecification;
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
  const zoneColour = zoneMatch(theme);
  const text = {
    'text-color': palette.ink,
    'text-halo-color': palette.paper,
    'text-halo-width': 1.6,
  };

  const layers: LayerSpecification[] = [
    { id: 'paper', type: 'background', paint: { 'background-color': palette.paper } },
    {
      id: 'relief',
      type: 'line',
      source: 'relief',
      minzoom: 14.5,
      paint: {
        'line-color': ['case', ['==', ['get', 'index'], true], palette.contourIndex, palette.contour],
        'line-width': ['case', ['==', ['get', 'index'], true], 1.3, 0.8],
      },
    },
    {
      id: 'grid',
      type: 'line',
      source: 'grid',
      paint: {
        'line-color': ['case', ['==', ['get', 'major'], true], palette.gridMajor, palette.grid],
        'line-width': 1,
      },
    },
    {
      id: 'relief_labels',
      type: 'symbol',
      source: 'relief',
      minzoom: 15,
      filter: isTrue('index'),
      layout: {
        'symbol-placement': 'line',
        'text-field': get('label'),
        'text-font': HUMANIST,
        'text-size': 12,
        'symbol-spacing': 420,
      },
      paint: { ...text, 'text-color': palette.quiet },
    },
    {
      id: 'grid_labels',
      type: 'symbol',
      source: 'grid_labels',
      layout: {
        'text-field': get('label'),
        'text-font': HUMANIST,
        'text-size': 12,
        'text-anchor': ['match', ['get', 'axis'], 'east', 'top', 'left'],
        'text-offset': ['match', ['get', 'axis'], 'east', ['literal', [0, 0.3]], ['literal', [0.4, 0]]],
        'text-padding': 4,
      },
      paint: { ...text, 'text-color': palette.quiet },
    },
    {
      id: 'corridors',
      type: 'fill',
      source: 'corridors',
      paint: { 'fill-color': palette.corridor, 'fill-antialias': false },
    },
    {
      id: 'corridor_rims',
      type: 'line',
      source: 'corridors',
      minzoom: 14,
      paint: { 'line-color': palette.quiet, 'line-width': 1, 'line-dasharray': [2, 4] },
    },
    ...karstGroundLayers(palette, HUMANIST),
    {
      id: 'zones',
      type: 'fill',
      source: 'zones',
      paint: {
        'fill-color': zoneColour,
        'fill-opacity': ['case', LEADS_ONLY, 0.06, ['==', ['get', 'verdict'], 'void_like'], 0.22, 0.1],
      },
    },
    {
      // A verdict of its own has a whole rim, all others a broken one.
      id: 'zone_rims',
      type: 'line',
      source: 'zones',
      filter: ['==', ['get', 'verdict'], 'void_like'],
      paint: { 'line-color': zoneColour, 'line-width': selectedElse(4.5, 2.4) },
    },
    {
      id: 'zone_rims_unproved',
      type: 'line',
      source: 'zones',
      filter: ['!=', ['get', 'verdict'], 'void_like'],
      paint: { 'line-color': zoneColour, 'line-width': selectedElse(4.5, 1.6), 'line-dasharray': [3, 2] },
    },
    {
      id: 'lines',
      type: 'line',
      source: 'lines',
      layout: { 'line-join': 'miter' },
      paint: { 'line-color': palette.ink, 'line-width': 1.2 },
    },
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
      // A lead is cut across, so that it is never taken for a finding.
      id: 'segment_leads',
      type: 'line',
      source: 'segments',
      filter: both(chosen, both(ramped(ANOMALOUS), isTrue('lead'))),
      layout: mitred,
      paint: { ...beside, 'line-color': palette.paper, 'line-width': width(0), 'line-dasharray': LEAD_DASHES },
    },
    {
      id: 'segments_unmeasured',
      type: 'line',
      source: 'segments',
      filter: both(chosen, ramped(['over_range', 'not_graded'])),
      layout: mitred,
      paint: { ...beside, 'line-color': stroke, 'line-width': width(0), 'line-dasharray': [0.8, 0.8] },
    },
    {
      id: 'midpoints',
      type: 'circle',
      source: 'midpoints',
      minzoom: 18.5,
      filter: chosen,
      paint: {
        'circle-radius': ['interpolate', ['linear'], ['zoom'], 18.5, 1, 21, 2.6],
        'circle-color': palette.ink,
        'circle-stroke-color': palette.accent,
        'circle-stroke-width': selectedElse(3, 0),
      },
    },
    {
      id: 'electrodes',
      type: 'circle',
      source: 'electrodes',
      minzoom: 20,
      paint: {
        'circle-radius': ['match', ['get', 'role'], 'remote', 6, 3.2],
        'circle-color': ['match', ['get', 'role'], 'planned', palette.paper, palette.quiet],
        'circle-stroke-color': [
          'case',
          ['boolean', ['feature-state', 'selected'], false],
          palette.accent,
          palette.paper,
        ],
        'circle-stroke-width': selectedElse(3, 1),
      },
    },
    {
      id: 'controls',
      type: 'circle',
      source: 'controls',
      minzoom: 16,
      paint: {
        'circle-radius': ['interpolate', ['linear'], ['zoom'], 16, 2, 18, 4.5, 20, 6],
        'circle-color': palette.paper,
        'circle-opacity': 0,
        'circle-stroke-color': palette.ink,
        'circle-stroke-width': 1.4,
      },
    },
    {
      // However far out, "here is a line".
      id: 'line_starts',
      type: 'circle',
      source: 'line_starts',
      maxzoom: 16,
      paint: {
        'circle-radius': 4.5,
        'circle-color': palette.ink,
        'circle-stroke-color': palette.paper,
        'circle-stroke-width': 1.5,
      },
    },
    ...karstSymbolLayers(palette, HUMANIST),
    {
      id: 'selected_radius',
      type: 'line',
      source: 'selected_places',
      filter: ['==', ['geometry-type'], 'LineString'],
      paint: { 'line-color': palette.accent, 'line-width': 1.5, 'line-dasharray': [2, 2] },
    },
    {
      id: 'selected_places',
      type: 'circle',
      source: 'selected_places',
      filter: ['==', ['geometry-type'], 'Point'],
      paint: {
        'circle-radius': ['interpolate', ['linear'], ['zoom'], 17, 3, 20, 7],
        'circle-opacity': 0,
        'circle-stroke-color': palette.accent,
        'circle-stroke-width': 2.5,
      },
    },
    {
      // How sure each place is, at the scale of the ground.
      id: 'ellipses',
      type: 'line',
      source: 'ellipses',
      paint: { 'line-color': palette.accent, 'line-width': 1, 'line-opacity': 0.7 },
    },
    {
      id: 'stakes',
      type: 'line',
      source: 'stakes',
      filter: ['==', ['geometry-type'], 'LineString'],
      paint: { 'line-color': palette.ink, 'line-width': 2 },
    },
    {
      id: 'stake_labels',
      type: 'symbol',
      source: 'stakes',
      minzoom: 17,
      filter: ['==', ['geometry-type'], 'Point'],
      layout: {
        'text-field': get('label'),
        'text-font': HUMANIST,
        'text-size': 13,
        'text-anchor': 'top-left',
        'text-offset': [0.4, 0.5],
      },
      paint: text,
    },
    {
      // Wide enough for a glove; seen through, so that the point under it can be set exactly.
      id: 'handles',
      type: 'circle',
      source: 'handles',
      paint: {
        'circle-radius': 20,
        'circle-color': palette.accent,
        'circle-opacity': 0.18,
        'circle-stroke-color': palette.accent,
        'circle-stroke-width': 2.5,
      },
    },
    {
      id: 'handle_labels',
      type: 'symbol',
      source: 'handles',
      layout: {
        'text-field': get('label'),
        'text-font': HUMANIST,
        'text-size': 15,
        'text-anchor': 'bottom',
        'text-offset': [0, -1.5],
        'text-allow-overlap': true,
      },
      paint: { ...text, 'text-color': palette.accent, 'text-halo-width': 2.4 },
    },
    {
      id: 'next_readings',
      type: 'circle',
      source: 'next_readings',
      minzoom: 17,
      paint: {
        // Room for more than one number.
        'circle-radius': ['case', ['in', ',', get('ranks')], 17, 11],
        // Beside its place: the strokes there stay in sight, and answer to a tap.
        'circle-translate': [...STAKE_BESIDE_PX],
        'circle-color': palette.paper,
        'circle-stroke-color': palette.ink,
        'circle-stroke-width': 2,
      },
    },
    {
      id: 'next_reading_ranks',
      type: 'symbol',
      source: 'next_readings',
      minzoom: 17,
      layout: {
        'text-field': get('ranks'),
        'text-font': HUMANIST,
        'text-size': 14,
        'text-allow-overlap': true,
      },
      paint: { 'text-color': palette.ink, 'text-translate': [...STAKE_BESIDE_PX] },
    },
    {
      id: 'electrode_labels',
      type: 'symbol',
      source: 'electrodes',
      minzoom: 19.5,
      // Every fifth metre is enough to count from.
      filter: ['any', ['!', ['has', 'chainage_m']], ['==', ['%', ['get', 'chainage_m'], 5], 0]],
      layout: {
        'text-field': ['case', ['has', 'chainage_m'], ['to-string', ['get', 'chainage_m']], get('role')],
        'text-font': HUMANIST,
        'text-size': 12,
        'text-anchor': 'right',
        'text-offset': [-0.6, 0],
      },
      paint: text,
    },
    {
      id: 'zone_names',
      type: 'symbol',
      source: 'zones',
      minzoom: 17,
      layout: {
        'text-field': get('name'),
        'text-font': HUMANIST,
        'text-size': 14,
        'text-variable-anchor': ['left', 'right', 'top', 'bottom'],
        'text-radial-offset': 1.4,
      },
      paint: { ...text, 'text-color': zoneColour, 'text-halo-width': 2 },
    },
    {
      id: 'line_names',
      type: 'symbol',
      source: 'line_starts',
      layout: {
        'text-field': get('line'),
        'text-font': HUMANIST,
        'text-size': 15,
        'text-variable-anchor': ['bottom-right', 'bottom-left', 'top-right', 'top-left', 'bottom', 'top'],
        'text-radial-offset': 0.55,
        'text-padding': 1,
      },
      paint: { ...text, 'text-halo-width': 2 },
    },
    {
      id: 'selected_labels',
      type: 'symbol',
      source: 'selected_places',
      filter: ['==', ['geometry-type'], 'Point'],
      layout: {
        'text-field': get('label'),
        'text-font': HUMANIST,
        'text-size': 14,
        'text-anchor': 'bottom',
        'text-offset': [0, -0.7],
        'text-allow-overlap': true,
      },
      paint: { ...text, 'text-color': palette.accent, 'text-halo-width': 2.4 },
    },
    ...hereLayers(palette, HUMANIST),
  ];
  return withChanges(layers, look.comparing === true);
}
