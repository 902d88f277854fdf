import type { FigureLook } from './look';
import type { FeatureGlyph } from './site-map-data';
import { element, type SvgElement } from './svg';

const PATHS: Readonly<Record<FeatureGlyph, string>> = {
  // A rim with strokes that fall inwards.
  hollow: 'M-7 0A7 7 0 1 0 7 0A7 7 0 1 0 -7 0M0 -7V-3M0 7V3M-7 0H-3M7 0H3',
  // A doorway.
  opening: 'M-6 7V-1A6 6 0 0 1 6 -1V7Z',
  // A wave.
  water: 'M-8 0Q-4 -6 0 0T8 0M-8 5Q-4 -1 0 5T8 5',
  other: 'M0 -7L7 0L0 7L-7 0Z',
};

/** The mark of a karst feature about its place, 16 px wide; it keeps its size in a map that is looked at from nearer. */
export function featureGlyph(glyph: FeatureGlyph, look: Pick<FigureLook, 'ink' | 'paper'>): SvgElement {
  return element('g', { class: 'upright' }, [
    element('path', {
      d: PATHS[glyph],
      fill: glyph === 'water' ? 'none' : look.paper,
      stroke: look.ink,
      'stroke-width': 1.6,
      'stroke-linecap': 'round',
    }),
  ]);
}
