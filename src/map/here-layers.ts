import type { FilterSpecification, LayerSpecification } from 'maplibre-gl';
import { MAP_FONTS, words } from './layer-parts';
import type { Palette } from './palette';

/** What is drawn of oneself: a ring with a cross through it, the circle that holds one, and the way to a target. */
export type HerePart = 'own' | 'circle' | 'heading' | 'way' | 'target';

const ofPart = (part: HerePart): FilterSpecification => ['==', ['get', 'part'], part];

/** The layers of the source `here`, which lie on top of all others. */
export function hereLayers(palette: Palette): LayerSpecification[] {
  const { accent, ink, paper } = palette;
  return [
    {
      id: 'here_circle',
      type: 'fill',
      source: 'here',
      filter: ofPart('circle'),
      paint: { 'fill-color': accent, 'fill-opacity': 0.1 },
    },
    {
      id: 'here_circle_rim',
      type: 'line',
      source: 'here',
      filter: ofPart('circle'),
      paint: { 'line-color': accent, 'line-width': 1.5, 'line-dasharray': [4, 2] },
    },
    {
      id: 'here_way',
      type: 'line',
      source: 'here',
      filter: ofPart('way'),
      paint: { 'line-color': accent, 'line-width': 2.5, 'line-dasharray': [1, 1.4] },
    },
    {
      id: 'here_target',
      type: 'circle',
      source: 'here',
      filter: ofPart('target'),
      paint: {
        'circle-radius': 13,
        'circle-color': paper,
        'circle-opacity': 0.25,
        'circle-stroke-color': accent,
        'circle-stroke-width': 3,
      },
    },
    {
      id: 'here_target_label',
      type: 'symbol',
      source: 'here',
      filter: ofPart('target'),
      layout: {
        'text-field': ['get', 'label'],
        'text-font': MAP_FONTS,
        'text-size': 15,
        'text-anchor': 'top',
        'text-offset': [0, 1.1],
        'text-allow-overlap': true,
      },
      paint: words(palette, accent, 2.4),
    },
    {
      id: 'here_own',
      type: 'circle',
      source: 'here',
      filter: ofPart('own'),
      paint: {
        'circle-radius': 9,
        'circle-color': paper,
        // A fix that is old is hollow: the ground shows through it.
        'circle-opacity': ['case', ['has', 'old'], 0, 1],
        'circle-stroke-color': ['case', ['has', 'old'], accent, ink],
        'circle-stroke-width': 2.5,
      },
    },
    {
      id: 'here_own_middle',
      type: 'circle',
      source: 'here',
      filter: ['all', ofPart('own'), ['!', ['has', 'old']]] as FilterSpecification,
      paint: { 'circle-radius': 4, 'circle-color': accent },
    },
    {
      id: 'here_heading',
      type: 'symbol',
      source: 'here',
      filter: ofPart('heading'),
      layout: {
        'text-field': '▲',
        'text-font': MAP_FONTS,
        'text-size': 17,
        'text-offset': [0, -1.15],
        'text-rotate': ['get', 'heading'],
        'text-rotation-alignment': 'map',
        'text-allow-overlap': true,
        'text-ignore-placement': true,
      },
      paint: words(palette, accent, 2),
    },
  ];
}
