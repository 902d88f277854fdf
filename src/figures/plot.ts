import type { Scale } from './axis';
import { label, labelWidthPx } from './label';
import type { FigureLook } from './look';
import { element, type SvgNode } from './svg';

/** The area within the axes, in px. */
export interface Plot {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

export interface Tick {
  readonly value: number;
  readonly words: string;
}

const TICK_PX = 5;

/** Room that the labels of an upright axis take to the left of it. */
export const uprightAxisPx = (ticks: readonly Tick[], look: FigureLook): number =>
  Math.max(0, ...ticks.map(({ words }) => labelWidthPx(words, look))) + TICK_PX + 5;

/** Lines across the plot at the ticks of the upright axis, with their labels; the first is drawn for `strong`. */
export function uprightAxis(
  plot: Plot,
  y: Scale,
  ticks: readonly Tick[],
  look: FigureLook,
  strong?: number,
): SvgNode[] {
  return ticks.flatMap(({ value, words }) => {
    const at = y(value);
    const isStrong = value === strong;
    return [
      element('line', {
        x1: plot.left - TICK_PX,
        x2: plot.right,
        y1: at,
        y2: at,
        stroke: isStrong ? look.ink : look.rule,
        'stroke-opacity': isStrong ? null : 0.45,
        'stroke-width': isStrong ? 1.4 : 1,
      }),
      label(plot.left - TICK_PX - 4, at + look.textPx * 0.35, words, look, { anchor: 'end', bold: isStrong }),
    ];
  });
}

/** The lower edge of the plot with its ticks and labels. */
export function lyingAxis(plot: Plot, x: Scale, ticks: readonly Tick[], look: FigureLook, marked?: number): SvgNode[] {
  const edge = element('line', {
    x1: plot.left,
    x2: plot.right,
    y1: plot.bottom,
    y2: plot.bottom,
    stroke: look.ink,
    'stroke-width': 1.2,
  });
  return [
    edge,
    ...ticks.flatMap(({ value, words }) => {
      const here = value === marked;
      return [
        element('line', {
          x1: x(value),
          x2: x(value),
          y1: plot.bottom,
          y2: plot.bottom + TICK_PX,
          stroke: look.ink,
          'stroke-width': 1.2,
        }),
        label(x(value), plot.bottom + TICK_PX + look.textPx, words, look, {
          anchor: 'middle',
          bold: here,
          colour: here ? look.accent : look.ink,
        }),
      ];
    }),
  ];
}

/** Height that the labels of a lying axis take below it. */
export const lyingAxisPx = (look: FigureLook): number => TICK_PX + look.textPx * 1.35;

/** Those of the ticks, from the first on, whose labels do not touch. */
export function ticksApart(ticks: readonly Tick[], x: Scale, look: FigureLook): Tick[] {
  const kept: Tick[] = [];
  let freeFrom = Number.NEGATIVE_INFINITY;
  for (const tick of ticks) {
    const half = labelWidthPx(tick.words, look) / 2;
    if (x(tick.value) - half < freeFrom) continue;
    kept.push(tick);
    freeFrom = x(tick.value) + half + 5;
  }
  return kept;
}

/** Those of an upright axis' ticks, from the lowest on, whose labels do not touch; `kept` is always among them. */
export function uprightTicksApart(ticks: readonly Tick[], y: Scale, look: FigureLook, kept: number): Tick[] {
  const apart = look.textPx * 1.15;
  const chosen = ticks.filter(({ value }) => value === kept);
  for (const tick of ticks) {
    if (chosen.every((other) => Math.abs(y(tick.value) - y(other.value)) >= apart)) chosen.push(tick);
  }
  return chosen.sort((p, q) => p.value - q.value);
}
