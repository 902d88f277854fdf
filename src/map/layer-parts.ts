import type { ExpressionSpecification, FilterSpecification } from 'maplibre-gl';
import type { SpacingChoice } from './map-look';
import type { Palette } from './palette';

/* What layers of different things have in common. */

export const MAP_FONTS = ['Optima', 'Candara', 'Noto Sans', 'DejaVu Sans', 'sans-serif'];

/** The paint of words, with paper round them. */
export const words = (palette: Palette, colour: string | ExpressionSpecification = palette.ink, haloPx = 1.6) => ({
  'text-color': colour,
  'text-halo-color': palette.paper,
  'text-halo-width': haloPx,
});

export const get = (property: string): ExpressionSpecification => ['get', property];

export const isTrue = (property: string): FilterSpecification => ['==', ['get', property], true];

export const selectedElse = (selected: number, otherwise: number): ExpressionSpecification => [
  'case',
  ['boolean', ['feature-state', 'selected'], false],
  selected,
  otherwise,
];

/** Of the spacing that is drawn. */
export function spacingFilter(spacing: SpacingChoice): FilterSpecification {
  if (spacing === 'all') return true;
  // The map drops properties that are null.
  return spacing === null ? ['!', ['has', 'spacing_m']] : ['==', ['get', 'spacing_m'], spacing];
}
