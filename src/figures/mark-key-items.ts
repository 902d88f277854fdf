import type { KeyItem } from './key-rows';
import type { FigureLook } from './look';
import type { MarkKey } from './mark-key';
import { mark } from './marks';
import { element, type SvgNode } from './svg';

/** What the shapes that occur in a figure mean: above, like, below the reference. Size goes with grade and needs no words. */
export function keyItems(points: readonly { readonly key: MarkKey }[], hint: boolean, look: FigureLook): KeyItem[] {
  const has = (test: (key: MarkKey) => boolean): boolean => points.some(({ key }) => test(key));
  const sample =
    (key: MarkKey) =>
    (x: number, y: number): SvgNode[] =>
      mark({ x, y, key, hint }, look);
  const items: KeyItem[] = [];
  if (has((key) => key.endsWith('_above'))) items.push({ words: 'above', draw: sample('clear_above') });
  if (has((key) => key === 'none')) items.push({ words: 'like', draw: sample('none') });
  if (has((key) => key.endsWith('_below'))) items.push({ words: 'below', draw: sample('clear_below') });
  if (has((key) => key === 'not_graded')) items.push({ words: 'not graded', draw: sample('not_graded') });
  if (has((key) => key === 'over_range')) {
    items.push({
      words: 'over range',
      draw: (x, y) => [
        element('path', {
          d: `M${x - 5} ${y + 7}L${x + 5} ${y + 7}M${x} ${y + 7}L${x} ${y - 7}M${x - 4} ${y - 2}L${x} ${y - 7}L${x + 4} ${y - 2}`,
          fill: 'none',
          stroke: look.stroke.over_range,
          'stroke-width': 2,
        }),
      ],
    });
  }
  return items;
}
