import type { FeatureCollection } from 'geojson';
import type { LayerSpecification, SourceSpecification } from 'maplibre-gl';
import { get, MAP_FONTS, words } from './layer-parts';
import type { Palette } from './palette';

/** Sources of the karst inventory, as it lies over a survey. */
export const KARST_SOURCES = ['density', 'setbacks', 'feature_areas', 'feature_lines', 'feature_points'] as const;
export type KarstDrawn = Readonly<Record<(typeof KARST_SOURCES)[number], FeatureCollection>>;

/** Layers of features that answer a tap. */
export const FEATURE_TAP_LAYERS = ['feature_symbols', 'feature_lines', 'feature_areas', 'feature_clusters'] as const;

/** From here on every feature stands by itself. */
const CLUSTERED_TO_ZOOM = 15;

/** Places of features are gathered where they would lie on each other; a gathering says how many it holds. */
export const clustered = (source: SourceSpecification): SourceSpecification =>
  source.type === 'geojson'
    ? { ...source, cluster: true, clusterRadius: 36, clusterMaxZoom: CLUSTERED_TO_ZOOM, buffer: 64 }
    : source;

/** Under the strokes of a survey: what covers ground. */
export function karstGroundLayers(palette: Palette): LayerSpecification[] {
  return [
    {
      id: 'density',
      type: 'fill',
      source: 'density',
      paint: {
        'fill-color': palette.ink,
        'fill-opacity': ['interpolate', ['linear'], ['get', 'share'], 0, 0.03, 1, 0.26],
        'fill-outline-color': palette.quiet,
      },
    },
    {
      id: 'setbacks',
      type: 'fill',
      source: 'setbacks',
      paint: { 'fill-color': palette.accent, 'fill-opacity': 0.09 },
    },
    {
      id: 'setback_rims',
      type: 'line',
      source: 'setbacks',
      paint: { 'line-color': palette.accent, 'line-width': 1.8, 'line-dasharray': [5, 2, 1, 2] },
    },
    {
      id: 'feature_areas',
      type: 'fill',
      source: 'feature_areas',
      paint: { 'fill-color': palette.ink, 'fill-opacity': 0.08 },
    },
    {
      id: 'feature_rims',
      type: 'line',
      source: 'feature_areas',
      paint: { 'line-color': palette.ink, 'line-width': 1.4 },
    },
    {
      id: 'feature_lines',
      type: 'line',
      source: 'feature_lines',
      paint: { 'line-color': palette.ink, 'line-width': 2, 'line-dasharray': [6, 1.5] },
    },
    {
      // The numbers say what the shading can only hint at.
      id: 'density_labels',
      type: 'symbol',
      source: 'density',
      layout: { 'text-field': get('label'), 'text-font': MAP_FONTS, 'text-size': 13 },
      paint: words(palette),
    },
  ];
}

/** Above them: a symbol for each feature, or a ring with the number of those that lie close together. */
export function karstSymbolLayers(palette: Palette): LayerSpecification[] {
  return [
    {
      id: 'feature_clusters',
      type: 'circle',
      source: 'feature_points',
      filter: ['has', 'point_count'],
      paint: {
        'circle-radius': ['interpolate', ['linear'], ['get', 'point_count'], 2, 13, 100, 19, 5000, 27],
        'circle-color': palette.paper,
        'circle-stroke-color': palette.ink,
        'circle-stroke-width': 2,
      },
    },
    {
      id: 'feature_cluster_counts',
      type: 'symbol',
      source: 'feature_points',
      filter: ['has', 'point_count'],
      layout: {
        'text-field': ['to-string', ['get', 'point_count']],
        'text-font': MAP_FONTS,
        'text-size': 14,
        'text-allow-overlap': true,
      },
      paint: { 'text-color': palette.ink },
    },
    {
      id: 'feature_symbols',
      type: 'symbol',
      source: 'feature_points',
      filter: ['!', ['has', 'point_count']],
      layout: {
        'icon-image': ['get', 'symbol'],
        'icon-size': ['interpolate', ['linear'], ['zoom'], 12, 0.7, 16, 0.85, 19, 1.1],
        'icon-allow-overlap': true,
        'icon-ignore-placement': true,
      },
    },
    {
      id: 'feature_names',
      type: 'symbol',
      source: 'feature_points',
      minzoom: 15,
      filter: ['all', ['!', ['has', 'point_count']], ['has', 'name']],
      layout: {
        'text-field': get('name'),
        'text-font': MAP_FONTS,
        'text-size': 13,
        'text-anchor': 'left',
        'text-offset': [1.1, 0],
        'text-optional': true,
      },
      paint: words(palette, palette.ink, 1.8),
    },
  ];
}
