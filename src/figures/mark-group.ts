import type { FigureLook } from './look';
import { px } from './marks';
import type { Plot } from './plot';
import { element, type SvgElement, type SvgNode } from './svg';

/** A column of the plot that answers to a thumb: half-way to the neighbours on either side. */
export interface Column {
  readonly fromX: number;
  readonly toX: number;
  readonly top: number;
  readonly bottom: number;
}

/** All that is drawn for one reading. A page finds it by `data-sid`; its title is what it says. */
export function markGroup(sid: string, words: string, column: Column, drawn: readonly SvgNode[]): SvgElement {
  return element('g', { 'data-sid': sid }, [
    element('title', {}, [words]),
    element('rect', {
      x: column.fromX,
      y: column.top,
      width: Math.max(0, column.toX - column.fromX),
      height: column.bottom - column.top,
      fill: 'none',
      'pointer-events': 'all',
    }),
    ...drawn,
  ]);
}

/** Columns for marks at growing places, the outermost as far as the plot goes. */
export function columnsOf(places: readonly number[], plot: Plot): Column[] {
  return places.map((x, i) => {
    const before = places[i - 1];
    const after = places[i + 1];
    return {
      fromX: before === undefined ? plot.left : (before + x) / 2,
      toX: after === undefined ? plot.right : (x + after) / 2,
      top: plot.top,
      bottom: plot.bottom,
    };
  });
}

/** A bar from one standard error below to one above; `cap` is half the width of its ends. */
export function errorBar(x: number, topY: number, bottomY: number, look: FigureLook, cap = 3.5): SvgNode {
  return element('path', {
    d:
      `M${px(x)} ${px(topY)}L${px(x)} ${px(bottomY)}` +
      `M${px(x - cap)} ${px(topY)}L${px(x + cap)} ${px(topY)}` +
      `M${px(x - cap)} ${px(bottomY)}L${px(x + cap)} ${px(bottomY)}`,
    fill: 'none',
    stroke: look.ink,
    'stroke-width': 1.3,
  });
}

/** The reading that is open: a ring around its mark. */
export function ringAround(x: number, y: number, reachPx: number, look: FigureLook): SvgNode {
  return element('circle', { cx: x, cy: y, r: reachPx + 5, fill: 'none', stroke: look.accent, 'stroke-width': 2.6 });
}

/** The reading that is open: a line from its mark's column to the axis. */
export function plumbLine(x: number, top: number, bottom: number, look: FigureLook): SvgNode {
  return element('line', { x1: x, x2: x, y1: top, y2: bottom, stroke: look.accent, 'stroke-width': 1.4 });
}
