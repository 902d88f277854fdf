import { counted, metres, significant } from '../survey/wording';
import { belowFramePx, type GroundFrame, groundFrame, type SurfacePoint, scaleWords } from './ground-frame';
import { type KeyItem, keyRows, SAMPLE_PX } from './key-rows';
import { label, labelWidthPx } from './label';
import type { FigureLook } from './look';
import { lyingAxis, uprightAxis } from './plot';
import { classOf, type ResistivityClasses, resistivityClasses } from './resistivity-classes';
import { element, figureText, type SvgNode } from './svg';

export interface DrawnCell {
  readonly chainageFromM: number;
  readonly chainageToM: number;
  readonly depthTopM: number;
  readonly depthBottomM: number;
  readonly resistivityOhmM: number;
  /** 0 = the readings say nothing of it, 1 = it could not be better known. */
  readonly coverage: number;
}

export interface SectionDrawing {
  /** Name of the line, as it is said. */
  readonly line: string;
  readonly cells: readonly DrawnCell[];
  readonly electrodes: readonly SurfacePoint[];
  /** Where each reading is usually plotted: its midpoint and its median depth. */
  readonly readings: readonly { readonly chainageM: number; readonly depthM: number }[];
  /** Below this the readings say next to nothing. */
  readonly depthLimitM: number;
  /** Coverage from which on a cell is spoken of. */
  readonly knownFrom: number;
}

/** Of `knownFrom`: cells of less coverage are left as paper, those of more are drawn whole (choice). */
const BLANK = 1 / 5;
const WHOLE = 4;
const TICK_PX = 7;

/**
 * The ground under a line as its readings have it: cells of resistivity under the surface, which shrink to paper where the
 * readings say little, so that a colour means the same everywhere. SVG text.
 */
export function sectionFigure(drawing: SectionDrawing, look: FigureLook): string {
  const { cells, knownFrom } = drawing;
  const shown = cells.filter(
    ({ coverage, depthTopM }) => coverage > BLANK * knownFrom && depthTopM < drawing.depthLimitM,
  );
  const known = cells.filter(({ coverage }) => coverage >= knownFrom);
  const classes = resistivityClasses(
    (known.length > 0 ? known : cells).map(({ resistivityOhmM }) => resistivityOhmM),
    look.resistivity,
  );
  const fromM = Math.min(...cells.map(({ chainageFromM }) => chainageFromM));
  const toM = Math.max(...cells.map(({ chainageToM }) => chainageToM));
  const deepestM = Math.max(drawing.depthLimitM, ...shown.map(({ depthBottomM }) => depthBottomM));
  const top = look.textPx * 1.7 + TICK_PX + 2;
  const frame = groundFrame([fromM, toM], deepestM, drawing.electrodes, top, look);
  const axisY = frame.plot.bottom + belowFramePx(look);
  const legend = resistivityLegend(classes, axisY + look.textPx * 0.8, look);
  const key = keyRows(sectionKey(drawing, classes, look), legend.bottomPx + 4, look);
  const heightPx = Math.ceil(legend.bottomPx + 4 + key.heightPx + 2);
  return figureText({
    widthPx: look.widthPx,
    heightPx,
    title: `Section under line ${drawing.line}`,
    summary: sectionSummary(drawing, frame),
    children: [
      ...(look.paintPaper ? [element('rect', { width: look.widthPx, height: heightPx, fill: look.paper })] : []),
      label(0, look.textPx, frame.hasHeights ? 'height' : 'depth', look, { colour: look.inkSoft }),
      label(look.widthPx - 4, look.textPx, scaleWords(frame), look, { anchor: 'end', colour: look.inkSoft }),
      ...uprightAxis(frame.plot, frame.yOfTick, frame.yTicks, look),
      ...cellPaths(shown, knownFrom, classes, frame),
      surfaceLine(frame, 0, look, {}),
      surfaceLine(frame, drawing.depthLimitM, look, { 'stroke-dasharray': '7 4' }),
      electrodeTicks(drawing.electrodes, frame, look),
      ...readingDots(drawing, frame, look),
      ...lyingAxis(frame.plot, frame.x, frame.xTicks, look),
      label((frame.plot.left + frame.plot.right) / 2, axisY - 4, 'chainage, m', look, {
        anchor: 'middle',
        colour: look.inkSoft,
      }),
      ...legend.nodes,
      ...key.nodes,
    ],
  });
}

/** One path for each class of resistivity. */
function cellPaths(
  cells: readonly DrawnCell[],
  knownFrom: number,
  classes: ResistivityClasses,
  frame: GroundFrame,
): SvgNode[] {
  const paths = classes.colours.map(() => '');
  for (const cell of cells) {
    const at = classOf(cell.resistivityOhmM, classes);
    paths[at] += cellPath(cell, shareDrawn(cell.coverage, knownFrom), frame);
  }
  return paths.flatMap((d, i) => (d === '' ? [] : [element('path', { d, fill: classes.colours[i] as string })]));
}

/** Neighbours that are known wholly overlap by a hair, so that no paper shows between them. */
const HAIR_PX = 0.3;

/** Share of a cell's area that is inked: even steps for even ratios of the coverage, which falls off by decades. */
function shareDrawn(coverage: number, knownFrom: number): number {
  const share = Math.log(coverage / (BLANK * knownFrom)) / Math.log(WHOLE / BLANK);
  return Math.min(1, Math.max(0, share));
}

function cellPath(cell: DrawnCell, areaShare: number, { x, y }: GroundFrame): string {
  const share = Math.sqrt(areaShare);
  const within = (from: number, to: number, end: number): number =>
    (from + to) / 2 + ((end - (from + to) / 2) * share || 0);
  const left = within(cell.chainageFromM, cell.chainageToM, cell.chainageFromM);
  const right = within(cell.chainageFromM, cell.chainageToM, cell.chainageToM);
  const top = within(cell.depthTopM, cell.depthBottomM, cell.depthTopM);
  const bottom = within(cell.depthTopM, cell.depthBottomM, cell.depthBottomM);
  const hair = share > 0.97 ? HAIR_PX : 0;
  const corner = (chainageM: number, depthM: number, dx: number, dy: number): string =>
    `${px(x(chainageM) + dx * hair)} ${px(y(chainageM, depthM) + dy * hair)}`;
  return `M${corner(left, top, -1, -1)}L${corner(right, top, 1, -1)}L${corner(right, bottom, 1, 1)}L${corner(left, bottom, -1, 1)}Z`;
}

const px = (value: number): string => String(Math.round(value * 10) / 10);

/** The surface, or a line at a depth below it. */
function surfaceLine(
  frame: GroundFrame,
  depthM: number,
  look: FigureLook,
  more: Readonly<Record<string, string>>,
): SvgNode {
  const places = frame.turnsM.map((chainageM) => `${px(frame.x(chainageM))} ${px(frame.y(chainageM, depthM))}`);
  return element('path', {
    d: `M${places.join('L')}`,
    fill: 'none',
    stroke: look.ink,
    'stroke-width': 1.4,
    ...more,
  });
}

function electrodeTicks(electrodes: readonly SurfacePoint[], { x, y }: GroundFrame, look: FigureLook): SvgNode {
  const d = electrodes.map(({ chainageM }) => {
    const [at, surface] = [x(chainageM), y(chainageM, 0)];
    return `M${px(at)} ${px(surface)}L${px(at)} ${px(surface - TICK_PX)}`;
  });
  const stepPx = Math.abs(x(1) - x(0)) * usualStepM(electrodes);
  const width = Math.min(1.4, Math.max(0.5, stepPx / 5));
  return element('path', { d: d.join('') || 'M0 0', fill: 'none', stroke: look.ink, 'stroke-width': width });
}

function usualStepM(electrodes: readonly SurfacePoint[]): number {
  const steps = electrodes
    .slice(1)
    .map(({ chainageM }, i) => chainageM - (electrodes[i]?.chainageM ?? 0))
    .sort((p, q) => p - q);
  return steps[steps.length >> 1] ?? 1;
}

function readingDots({ readings }: SectionDrawing, { x, y }: GroundFrame, look: FigureLook): SvgNode[] {
  const d = readings.map(({ chainageM, depthM }) => dot(x(chainageM), y(chainageM, depthM), DOT_PX)).join('');
  return d === '' ? [] : [dots(d, look)];
}

const DOT_PX = 1.3;

const dots = (d: string, look: FigureLook): SvgNode =>
  element('path', { d, fill: look.ink, stroke: look.paper, 'stroke-width': 1.4, 'paint-order': 'stroke' });

const dot = (x: number, y: number, r: number): string =>
  `M${px(x - r)} ${px(y)}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0Z`;

const LEGEND_PX = 16;

/** Boxes side by side with the limits between them. */
function resistivityLegend(
  { limitsOhmM, colours }: ResistivityClasses,
  top: number,
  look: FigureLook,
): { readonly nodes: readonly SvgNode[]; readonly bottomPx: number } {
  const width = (look.widthPx - 8) / colours.length;
  const boxTop = top + look.textPx * 1.4;
  let freeFrom = Number.NEGATIVE_INFINITY;
  const limits = limitsOhmM.flatMap((limit, i) => {
    const at = 4 + (i + 1) * width;
    const words = significant(limit, 2);
    const half = labelWidthPx(words, look) / 2;
    if (at - half < freeFrom) return [];
    freeFrom = at + half + 4;
    return [label(at, boxTop + LEGEND_PX + look.textPx * 1.1, words, look, { anchor: 'middle' })];
  });
  return {
    nodes: [
      label(4, top + look.textPx, 'resistivity, Ω·m', look),
      ...colours.map((fill, i) =>
        element('rect', {
          x: 4 + i * width,
          y: boxTop,
          width: width + (i < colours.length - 1 ? HAIR_PX : 0),
          height: LEGEND_PX,
          fill,
        }),
      ),
      ...limits,
    ],
    bottomPx: boxTop + LEGEND_PX + look.textPx * 1.5,
  };
}

function sectionKey({ readings }: SectionDrawing, { colours }: ResistivityClasses, look: FigureLook): KeyItem[] {
  const half = SAMPLE_PX / 2;
  const middle = colours[colours.length >> 1] as string;
  return [
    {
      words: 'electrode',
      draw: (x, y) => [
        element('path', {
          d: `M${px(x - half)} ${px(y + 4)}L${px(x + half)} ${px(y + 4)}M${px(x)} ${px(y + 4)}L${px(x)} ${px(y - 3)}`,
          stroke: look.ink,
          'stroke-width': 1.4,
        }),
      ],
    },
    ...(readings.length > 0
      ? [{ words: 'a reading', draw: (x: number, y: number) => [dots(dot(x, y, DOT_PX), look)] }]
      : []),
    {
      words: 'known less and less',
      draw: (x, y) =>
        [1, 0.6, 0.25].map((share, i) => {
          const side = 7 * Math.sqrt(share);
          return element('rect', {
            x: x - half + 3.5 + i * 7.5 - side / 2,
            y: y - side / 2,
            width: side,
            height: side,
            fill: middle,
          });
        }),
    },
    {
      words: 'as deep as they see',
      draw: (x, y) => [
        element('line', {
          x1: x - half,
          x2: x + half,
          y1: y,
          y2: y,
          stroke: look.ink,
          'stroke-width': 1.4,
          'stroke-dasharray': '7 4',
        }),
      ],
    },
  ];
}

function sectionSummary({ cells, readings, depthLimitM, knownFrom }: SectionDrawing, frame: GroundFrame): string {
  const known = cells.filter(({ coverage }) => coverage >= knownFrom);
  const [lowest, highest] = [extreme(known, -1), extreme(known, 1)];
  const range =
    lowest && highest
      ? `Where the readings say enough, the lowest is ${cellWords(lowest)} and the highest ${cellWords(highest)}.`
      : 'The readings say little of any part of it.';
  return `Resistivity of the ground down to ${metres(depthLimitM)}, from ${counted(readings.length, 'reading')}. ${range} Cells shrink to paper where the readings say little; ${scaleWords(frame)}.`;
}

function extreme(cells: readonly DrawnCell[], sign: 1 | -1): DrawnCell | null {
  return cells.reduce<DrawnCell | null>(
    (best, cell) => (!best || sign * cell.resistivityOhmM > sign * best.resistivityOhmM ? cell : best),
    null,
  );
}

const cellWords = ({ resistivityOhmM, chainageFromM, chainageToM, depthTopM, depthBottomM }: DrawnCell): string =>
  `${significant(resistivityOhmM, 2)} Ω·m at ${metres((chainageFromM + chainageToM) / 2)}, ${metres((depthTopM + depthBottomM) / 2)} down`;
