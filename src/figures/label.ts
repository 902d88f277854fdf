import type { FigureLook } from './look';
import { element, type SvgElement } from './svg';

export interface LabelOptions {
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly colour?: string;
  readonly bold?: boolean;
  /** Paper around the letters, where they may lie on something. */
  readonly halo?: boolean;
}

/** One line of text; `y` is its baseline. */
export function label(x: number, y: number, words: string, look: FigureLook, options: LabelOptions = {}): SvgElement {
  const { anchor = 'start', colour = look.ink, bold = false, halo = false } = options;
  return element(
    'text',
    {
      x,
      y,
      'text-anchor': anchor === 'start' ? null : anchor,
      'font-family': look.font,
      'font-size': look.textPx,
      'font-weight': bold ? 700 : null,
      fill: colour,
      stroke: halo ? look.paper : null,
      'stroke-width': halo ? 4 : null,
      'stroke-linejoin': halo ? 'round' : null,
      'paint-order': halo ? 'stroke' : null,
    },
    [words],
  );
}

/** About how wide a text is, in px; a little too wide for most faces, so that nothing touches. */
export const labelWidthPx = (words: string, look: FigureLook): number => words.length * look.textPx * 0.55;
