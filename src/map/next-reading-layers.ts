import type { LayerSpecification } from 'maplibre-gl';
import { get, MAP_FONTS } from './layer-parts';
import type { Palette } from './palette';

const STAKE_BESIDE_PX = [26, -30] as const;

/** Readings that are worth taking next, with their ranks. */
export function nextReadingLayers(palette: Palette): LayerSpecification[] {
  return [
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
        'text-font': MAP_FONTS,
        'text-size': 14,
        'text-allow-overlap': true,
      },
      paint: { 'text-color': palette.ink, 'text-translate': [...STAKE_BESIDE_PX] },
    },
  ];
}
