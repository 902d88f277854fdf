import type { LayerSpecification } from 'maplibre-gl';
import { selectedElse, spacingFilter } from './layer-parts';
import type { MapLook } from './map-look';

/** Places of a line as dots: midpoints, electrodes, controls, and where it starts. */
export function pointLayers({ palette, spacing }: MapLook): LayerSpecification[] {
  return [
    {
      id: 'midpoints',
      type: 'circle',
      source: 'midpoints',
      minzoom: 18.5,
      filter: spacingFilter(spacing),
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
  ];
}
