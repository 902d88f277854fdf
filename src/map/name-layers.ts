import type { LayerSpecification } from 'maplibre-gl';
import { get, MAP_FONTS, words } from './layer-parts';
import type { MapLook } from './map-look';
import { zoneColour } from './zone-layers';

/** Names and numbers of a survey, above all that they name. */
export function nameLayers({ palette, theme }: MapLook): LayerSpecification[] {
  return [
    {
      id: 'electrode_labels',
      type: 'symbol',
      source: 'electrodes',
      minzoom: 19.5,
      // Every fifth metre is enough to count from.
      filter: ['any', ['!', ['has', 'chainage_m']], ['==', ['%', ['get', 'chainage_m'], 5], 0]],
      layout: {
        'text-field': ['case', ['has', 'chainage_m'], ['to-string', ['get', 'chainage_m']], get('role')],
        'text-font': MAP_FONTS,
        'text-size': 12,
        'text-anchor': 'right',
        'text-offset': [-0.6, 0],
      },
      paint: words(palette),
    },
    {
      id: 'zone_names',
      type: 'symbol',
      source: 'zones',
      minzoom: 17,
      layout: {
        'text-field': get('name'),
        'text-font': MAP_FONTS,
        'text-size': 14,
        'text-variable-anchor': ['left', 'right', 'top', 'bottom'],
        'text-radial-offset': 1.4,
      },
      paint: words(palette, zoneColour(theme), 2),
    },
    {
      id: 'line_names',
      type: 'symbol',
      source: 'line_starts',
      layout: {
        'text-field': get('line'),
        'text-font': MAP_FONTS,
        'text-size': 15,
        'text-variable-anchor': ['bottom-right', 'bottom-left', 'top-right', 'top-left', 'bottom', 'top'],
        'text-radial-offset': 0.55,
        'text-padding': 1,
      },
      paint: words(palette, palette.ink, 2),
    },
    {
      id: 'selected_labels',
      type: 'symbol',
      source: 'selected_places',
      filter: ['==', ['geometry-type'], 'Point'],
      layout: {
        'text-field': get('label'),
        'text-font': MAP_FONTS,
        'text-size': 14,
        'text-anchor': 'bottom',
        'text-offset': [0, -0.7],
        'text-allow-overlap': true,
      },
      paint: words(palette, palette.accent, 2.4),
    },
  ];
}
