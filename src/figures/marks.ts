import type { FigureLook } from './look';
import type { MarkKey } from './mark-key';
import { element, type SvgNode } from './svg';

/** Half the height of a mark: the stronger the grade, the larger. */
const REACH_PX: Readonly<Record<MarkKey, number>> = {
  strong_above: 9,
  clear_above: 7.5,
  slight_above: 6,
  none: 3.5,
  slight_below: 6,
  clear_below: 7.5,
  strong_below: 9,
  over_range: 6,
  not_graded: 4,
};

export interface MarkAt {
  readonly x: number;
  readonly y: number;
  readonly key: MarkKey;
  /** A two-probe hint is cut across, as on the map. */
  readonly hint: boolean;
  /** 1, or less where marks stand close. */
  readonly size?: number;
}

/** Half the height of a mark in px. */
export const markReachPx = (key: MarkKey, size = 1): number => REACH_PX[key] * size;

/**
 * A reading's mark. Told apart without colour: it points up above the reference and down (and is hollow) below it, is
 * round at it, grows with the grade, and is an open diamond where there is no grade.
 */
export function mark({ x, y, key, hint, size = 1 }: MarkAt, look: FigureLook): SvgNode[] {
  const r = markReachPx(key, size);
  const colour = look.stroke[key];
  if (key === 'over_range') return overRangeArrow(x, y, look, size);
  if (key === 'none') {
    return [element('circle', { cx: x, cy: y, r, fill: colour, stroke: look.ink, 'stroke-width': 1 })];
  }
  if (key === 'not_graded') {
    const d = `M${px(x)} ${px(y - r)}L${px(x + r)} ${px(y)}L${px(x)} ${px(y + r)}L${px(x - r)} ${px(y)}Z`;
    return [element('path', { d, fill: look.paper, stroke: look.ink, 'stroke-width': 1.4 })];
  }
  const below = key.endsWith('_below');
  const tip = below ? y + r : y - r;
  const base = below ? y - r * 0.8 : y + r * 0.8;
  const d = `M${px(x)} ${px(tip)}L${px(x + r)} ${px(base)}L${px(x - r)} ${px(base)}Z`;
  const nodes: SvgNode[] = below
    ? [
        element('path', { d, fill: look.paper, stroke: look.ink, 'stroke-width': 3.6, 'stroke-linejoin': 'round' }),
        element('path', { d, fill: look.paper, stroke: colour, 'stroke-width': 2.2, 'stroke-linejoin': 'round' }),
      ]
    : [element('path', { d, fill: colour, stroke: look.ink, 'stroke-width': 1, 'stroke-linejoin': 'round' })];
  if (hint) {
    const cut = y + (below ? -0.2 : 0.2) * r;
    nodes.push(
      element('line', {
        x1: x - r,
        x2: x + r,
        y1: cut,
        y2: cut,
        stroke: look.paper,
        'stroke-width': Math.max(1.6, r / 4),
      }),
    );
  }
  return nodes;
}

/** How far the arrow of an over-range reading reaches above its limit. */
export const ARROW_PX = 24;

/** Above the limit, nobody knows how far: a sill at the limit and an arrow up from it. */
function overRangeArrow(x: number, y: number, look: FigureLook, size: number): SvgNode[] {
  const half = 6 * size;
  const top = y - ARROW_PX;
  const d =
    `M${px(x - half)} ${px(y)}L${px(x + half)} ${px(y)}M${px(x)} ${px(y)}L${px(x)} ${px(top)}` +
    `M${px(x - half * 0.8)} ${px(top + 7)}L${px(x)} ${px(top)}L${px(x + half * 0.8)} ${px(top + 7)}`;
  return [
    element('path', {
      d,
      fill: 'none',
      stroke: look.stroke.over_range,
      'stroke-width': 2,
      'stroke-linecap': 'round',
      'stroke-linejoin': 'round',
    }),
  ];
}

/** A length or place in px for a path. */
export const px = (value: number): string => String(Math.round(value * 100) / 100 || 0);
