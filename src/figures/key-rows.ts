import { label, labelWidthPx } from './label';
import type { FigureLook } from './look';
import type { SvgNode } from './svg';

/** A sample and its words. `draw` is given the middle of a box of `SAMPLE_PX` width. */
export interface KeyItem {
  readonly words: string;
  readonly draw: (x: number, y: number) => readonly SvgNode[];
}

export const SAMPLE_PX = 22;
const GAP_PX = 12;

/** What the marks mean, in as many rows as the width asks for; `top` is the upper edge of the first, in px. */
export function keyRows(
  items: readonly KeyItem[],
  top: number,
  look: FigureLook,
): { readonly nodes: readonly SvgNode[]; readonly heightPx: number } {
  const rowPx = look.textPx * 1.5;
  const nodes: SvgNode[] = [];
  let x = 0;
  let row = 0;
  for (const { words, draw } of items) {
    const width = SAMPLE_PX + 5 + labelWidthPx(words, look);
    if (x > 0 && x + width > look.widthPx) {
      x = 0;
      row += 1;
    }
    const middle = top + row * rowPx + rowPx / 2;
    nodes.push(
      ...draw(x + SAMPLE_PX / 2, middle),
      label(x + SAMPLE_PX + 5, middle + look.textPx * 0.35, words, look, { colour: look.inkSoft }),
    );
    x += width + GAP_PX;
  }
  return { nodes, heightPx: items.length > 0 ? (row + 1) * rowPx : 0 };
}
