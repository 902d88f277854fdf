import type { LayerSpecification } from 'maplibre-gl';
import type { Palette } from './palette';

/** The places of what is selected. Its strokes are among the strokes, its words among the names. */
export function selectionLayers(palette: Palette): LayerSpecification[] {
  return [
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
  ];
}
