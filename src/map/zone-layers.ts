import type { ExpressionSpecification, LayerSpecification } from 'maplibre-gl';
import { selectedElse } from './layer-parts';
import type { Palette } from './palette';
import { type Theme, ZONE_COLOUR } from './ramp';

/** Zones of hints are fainter than any other. */
const LEADS_ONLY: ExpressionSpecification = ['==', ['get', 'figure_kind'], 'two_probe'];

/** Along a line, the ground in which the void that is looked for would have shown. */
export function corridorLayers(palette: Palette): LayerSpecification[] {
  return [
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
  ];
}

export function zoneLayers(theme: Theme): LayerSpecification[] {
  const colour = zoneColour(theme);
  return [
    {
      id: 'zones',
      type: 'fill',
      source: 'zones',
      paint: {
        'fill-color': colour,
        'fill-opacity': ['case', LEADS_ONLY, 0.06, ['==', ['get', 'verdict'], 'void_like'], 0.22, 0.1],
      },
    },
    {
      // A verdict of its own has a whole rim, all others a broken one.
      id: 'zone_rims',
      type: 'line',
      source: 'zones',
      filter: ['==', ['get', 'verdict'], 'void_like'],
      paint: { 'line-color': colour, 'line-width': selectedElse(4.5, 2.4) },
    },
    {
      id: 'zone_rims_unproved',
      type: 'line',
      source: 'zones',
      filter: ['!=', ['get', 'verdict'], 'void_like'],
      paint: { 'line-color': colour, 'line-width': selectedElse(4.5, 1.6), 'line-dasharray': [3, 2] },
    },
  ];
}

/** By the verdict of a zone. */
export function zoneColour(theme: Theme): ExpressionSpecification {
  const { unresolved, ...others } = ZONE_COLOUR[theme];
  return [
    'match',
    ['get', 'verdict'],
    ...Object.entries(others).flat(),
    unresolved,
  ] as unknown as ExpressionSpecification;
}
