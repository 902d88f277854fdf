import type { LayerSpecification } from 'maplibre-gl';
import { get, isTrue, MAP_FONTS, words } from './layer-parts';
import type { Palette } from './palette';

/** What the map is drawn on: paper, the relief, the metre grid. */
export function paperLayers(palette: Palette): LayerSpecification[] {
  return [
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
        'text-font': MAP_FONTS,
        'text-size': 12,
        'symbol-spacing': 420,
      },
      paint: words(palette, palette.quiet),
    },
    {
      id: 'grid_labels',
      type: 'symbol',
      source: 'grid_labels',
      layout: {
        'text-field': get('label'),
        'text-font': MAP_FONTS,
        'text-size': 12,
        'text-anchor': ['match', ['get', 'axis'], 'east', 'top', 'left'],
        'text-offset': ['match', ['get', 'axis'], 'east', ['literal', [0, 0.3]], ['literal', [0.4, 0]]],
        'text-padding': 4,
      },
      paint: words(palette, palette.quiet),
    },
  ];
}
