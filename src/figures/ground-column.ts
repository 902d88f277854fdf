import { linearScale, linearTicks, logDomain, logScale, logTicks } from './axis';
import { label } from './label';
import type { FigureLook } from './look';
import { lyingAxis, lyingAxisPx, type Plot, ticksApart, uprightAxis, uprightAxisPx } from './plot';
import { element, figureText, type SvgNode } from './svg';

/** A value with what the readings do not exclude with 95 %. */
export interface ColumnRange {
  readonly value: number;
  readonly low95: number;
  readonly high95: number;
}

export interface GroundColumn {
  /** From the top, Ω·m; the last goes on downwards. */
  readonly resistivities: readonly ColumnRange[];
  readonly thicknesses: readonly ColumnRange[];
  /** Depth of the middle of a void, where one is spoken of. */
  readonly voidDepthM: ColumnRange | null;
  readonly title: string;
  readonly summary: string;
}

const HEIGHT_PX = 260;
/** What is drawn below the deepest thing, as a share of its depth. */
const BELOW = 0.35;
const LEAST_DEPTH_M = 2;
/** How far beyond the layers' own resistivities their ranges are drawn, as a factor. */
const WIDEST = 10;

/** The ground under a ladder: resistivity against depth as steps, their ranges as bands; where a void would lie. SVG text. */
export function groundColumnFigure(column: GroundColumn, look: FigureLook): string {
  const { resistivities, thicknesses, voidDepthM, title, summary } = column;
  const depths = boundaries(thicknesses);
  const deepest = Math.max(LEAST_DEPTH_M, ...depths, voidDepthM?.high95 ?? 0) * (1 + BELOW);
  const depthTicks = linearTicks([0, deepest], 7).map((value) => ({ value, words: `${value} m` }));
  const plot: Plot = {
    left: uprightAxisPx(depthTicks, look) + 4,
    right: look.widthPx - 8,
    top: look.textPx * 1.6,
    bottom: HEIGHT_PX - lyingAxisPx(look) - look.textPx * 1.4,
  };
  const y = linearScale([0, deepest], [plot.top, plot.bottom]);
  const values = resistivities.map(({ value }) => value);
  // A range that the readings leave open would push everything else together: it is drawn to the edge.
  const [least, most] = [Math.min(...values) / WIDEST, Math.max(...values) * WIDEST];
  const inView = (value: number): number => Math.min(most, Math.max(least, value));
  const domain = logDomain(
    resistivities.flatMap(({ low95, high95 }) => [inView(low95), inView(high95)]).concat(values),
    10,
  );
  const x = logScale(domain, [plot.left, plot.right]);
  const xTicks = ticksApart(
    logTicks(domain, 8).map((value) => ({ value, words: String(value) })),
    x,
    look,
  );
  const bands = resistivities.flatMap((resistivity, i): SvgNode[] => {
    const [from, to] = [y(depths[i - 1] ?? 0), y(depths[i] ?? deepest)];
    return [
      element('rect', {
        x: x(inView(resistivity.low95)),
        y: from,
        width: Math.max(1, x(inView(resistivity.high95)) - x(inView(resistivity.low95))),
        height: Math.max(1, to - from),
        fill: look.inkSoft,
        'fill-opacity': 0.18,
      }),
      element('line', {
        x1: x(resistivity.value),
        x2: x(resistivity.value),
        y1: from,
        y2: to,
        stroke: look.ink,
        'stroke-width': 2.4,
      }),
    ];
  });
  const steps = depths.map((depth, i) =>
    element('line', {
      x1: x((resistivities[i] as ColumnRange).value),
      x2: x((resistivities[i + 1] as ColumnRange).value),
      y1: y(depth),
      y2: y(depth),
      stroke: look.ink,
      'stroke-width': 2.4,
    }),
  );
  const children: SvgNode[] = [
    ...(look.paintPaper
      ? [element('rect', { x: 0, y: 0, width: look.widthPx, height: HEIGHT_PX, fill: look.paper })]
      : []),
    label(plot.left, look.textPx, 'depth', look, { colour: look.inkSoft }),
    ...uprightAxis(plot, y, depthTicks, look, 0),
    ...lyingAxis(plot, x, xTicks, look),
    label((plot.left + plot.right) / 2, HEIGHT_PX - 4, 'resistivity, Ω·m', look, {
      anchor: 'middle',
      colour: look.inkSoft,
    }),
    ...bands,
    ...steps,
    ...(voidDepthM ? voidMark(voidDepthM, plot, y, look) : []),
  ];
  return figureText({ widthPx: look.widthPx, heightPx: HEIGHT_PX, title, summary, children });
}

/** Depths at which one layer ends. */
function boundaries(thicknesses: readonly ColumnRange[]): readonly number[] {
  let depth = 0;
  return thicknesses.map(({ value }) => {
    depth += value;
    return depth;
  });
}

/** A ring at the middle depth, on a bar over the depths that are not excluded. */
function voidMark(depth: ColumnRange, plot: Plot, y: (value: number) => number, look: FigureLook): SvgNode[] {
  const at = plot.right - 26;
  return [
    element('line', {
      x1: at,
      x2: at,
      y1: y(depth.low95),
      y2: y(depth.high95),
      stroke: look.accent,
      'stroke-width': 2,
    }),
    ...[depth.low95, depth.high95].map((end) =>
      element('line', { x1: at - 6, x2: at + 6, y1: y(end), y2: y(end), stroke: look.accent, 'stroke-width': 2 }),
    ),
    element('circle', { cx: at, cy: y(depth.value), r: 7, fill: look.paper, stroke: look.accent, 'stroke-width': 2.4 }),
    label(at, y(depth.high95) + look.textPx, 'void?', look, { anchor: 'middle', colour: look.accent, halo: true }),
  ];
}
