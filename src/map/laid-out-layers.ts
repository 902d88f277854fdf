import type { LayerSpecification } from 'maplibre-gl';
import { get, MAP_FONTS, words } from './layer-parts';
import type { Palette } from './palette';

/** What is drawn while a line is laid out: how sure its places are, its stakes, and the points that can be moved. */
export function laidOutLayers(palette: Palette): LayerSpecification[] {
  return [
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
        'text-font': MAP_FONTS,
        'text-size': 13,
        'text-anchor': 'top-left',
        'text-offset': [0.4, 0.5],
      },
      paint: words(palette),
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
        'text-font': MAP_FONTS,
        'text-size': 15,
        'text-anchor': 'bottom',
        'text-offset': [0, -1.5],
        'text-allow-overlap': true,
      },
      paint: words(palette, palette.accent, 2.4),
    },
  ];
}
