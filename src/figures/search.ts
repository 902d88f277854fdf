import { counted, metres, significant } from '../survey/wording';
import { belowFramePx, type GroundFrame, groundFrame, scaleWords } from './ground-frame';
import { type KeyItem, keyRows, SAMPLE_PX } from './key-rows';
import { label } from './label';
import type { FigureLook } from './look';
import { lyingAxis, uprightAxis } from './plot';
import { type Contour, type ContourPoint, contoursOf, type DrawnFindable } from './search-contours';
import { element, figureText, type SvgNode } from './svg';

export interface DrawnRange {
  readonly best: number;
  readonly low95: number;
  readonly high95: number;
}

export interface DrawnCandidate {
  readonly chainageM: DrawnRange;
  readonly depthM: DrawnRange;
  readonly radiusM: DrawnRange;
  /** What it is taken for, in words that fit beside it. */
  readonly words: string;
  /** Whether a void is what explains it best. */
  readonly isVoid: boolean;
}

export interface SearchDrawing {
  /** Name of the line, as it is said. */
  readonly line: string;
  readonly electrodesM: readonly number[];
  readonly candidates: readonly DrawnCandidate[];
  readonly findable: readonly DrawnFindable[];
}

const TICK_PX = 7;
const TINT = 0.11;
const LEAST_DEPTH_M = 2;

/**
 * What a search along a line could have found, and what it found: down to each contour a passage of the radius written on
 * it would have shown, more ink meaning smaller ones; candidates with the ranges of their place. SVG text.
 */
export function searchFigure(drawing: SearchDrawing, look: FigureLook): string {
  const { candidates, findable, electrodesM } = drawing;
  const chainages = [...electrodesM, ...findable.map(({ chainageM }) => chainageM)];
  const deepestM = Math.max(
    LEAST_DEPTH_M,
    ...findable.map(({ depthM }) => depthM),
    ...candidates.map(({ depthM, radiusM }) => depthM.best + radiusM.best),
  );
  const [fromM, toM] = [Math.min(...chainages), Math.max(...chainages)];
  const top = look.textPx * 1.7 + TICK_PX + 2;
  const frame = groundFrame([fromM, toM], deepestM, [], top, look);
  const contours = contoursOf(findable);
  const axisY = frame.plot.bottom + belowFramePx(look);
  const key = keyRows(searchKey(drawing, contours, look), axisY + 4, look);
  const heightPx = Math.ceil(axisY + 4 + key.heightPx + 2);
  return figureText({
    widthPx: look.widthPx,
    heightPx,
    title: `What a search of line ${drawing.line} could have found`,
    summary: searchSummary(drawing, contours, frame),
    children: [
      ...(look.paintPaper ? [element('rect', { width: look.widthPx, height: heightPx, fill: look.paper })] : []),
      label(0, look.textPx, 'depth', look, { colour: look.inkSoft }),
      label(look.widthPx - 4, look.textPx, scaleWords(frame), look, { anchor: 'end', colour: look.inkSoft }),
      ...uprightAxis(frame.plot, frame.yOfTick, frame.yTicks, look, 0),
      ...contours.flatMap((contour) => contourTint(contour, frame, look)),
      ...contours.flatMap((contour) => contourLine(contour, frame, look)),
      electrodeTicks(electrodesM, frame, look),
      ...candidates.flatMap((candidate, i) => candidateMark(candidate, i + 1, frame, look)),
      ...contourLabels(contours, candidates, frame, look),
      ...lyingAxis(frame.plot, frame.x, frame.xTicks, look),
      label((frame.plot.left + frame.plot.right) / 2, axisY - 4, 'chainage, m', look, {
        anchor: 'middle',
        colour: look.inkSoft,
      }),
      ...key.nodes,
    ],
  });
}

const px = (value: number): string => String(Math.round(value * 10) / 10);

const placesOf = (stretch: readonly ContourPoint[], { x, y }: GroundFrame): string[] =>
  stretch.map(({ chainageM, depthM }) => `${px(x(chainageM))} ${px(y(chainageM, depthM))}`);

function contourTint({ stretches }: Contour, frame: GroundFrame, look: FigureLook): SvgNode[] {
  return stretches.flatMap((stretch) => {
    const [first, last] = [stretch[0], stretch.at(-1)];
    if (!first || !last || stretch.length < 2) return [];
    const surface = frame.y(0, 0);
    const d = `M${px(frame.x(first.chainageM))} ${px(surface)}L${placesOf(stretch, frame).join('L')}L${px(frame.x(last.chainageM))} ${px(surface)}Z`;
    return [element('path', { d, fill: look.ink, 'fill-opacity': TINT })];
  });
}

function contourLine({ stretches }: Contour, frame: GroundFrame, look: FigureLook): SvgNode[] {
  return stretches.flatMap((stretch) =>
    stretch.length < 2
      ? []
      : [
          element('path', {
            d: `M${placesOf(stretch, frame).join('L')}`,
            fill: 'none',
            stroke: look.ink,
            'stroke-width': 1.2,
          }),
        ],
  );
}

/** Each radius once, on its contour, as far as may be from other labels and from candidates. */
function contourLabels(
  contours: readonly Contour[],
  candidates: readonly DrawnCandidate[],
  frame: GroundFrame,
  look: FigureLook,
): SvgNode[] {
  const taken = candidates.map(({ chainageM, depthM }) => ({
    x: frame.x(chainageM.best),
    y: frame.y(chainageM.best, depthM.best),
  }));
  const [leftmost, rightmost] = [frame.plot.left + look.textPx * 2.5, frame.plot.right - look.textPx * 2.5];
  return contours.flatMap(({ radiusM, stretches }) => {
    const places = stretches
      .flat()
      .map(({ chainageM, depthM }) => ({ x: frame.x(chainageM), y: frame.y(chainageM, depthM) }))
      .filter(({ x, y }) => x >= leftmost && x <= rightmost && y < frame.plot.bottom - look.textPx / 2);
    const room = (place: { x: number; y: number }): number =>
      Math.min(...taken.map((other) => Math.hypot(other.x - place.x, 2 * (other.y - place.y))), look.widthPx / 3);
    const clear = places.reduce<{ x: number; y: number } | null>(
      (best, place) => (!best || room(place) > room(best) ? place : best),
      null,
    );
    if (!clear || room(clear) < look.textPx * 2) return [];
    taken.push(clear);
    return [
      label(clear.x, clear.y + look.textPx * 0.35, `r ${metres(radiusM)}`, look, {
        anchor: 'middle',
        halo: true,
        bold: true,
      }),
    ];
  });
}

function electrodeTicks(electrodesM: readonly number[], { x, plot }: GroundFrame, look: FigureLook): SvgNode {
  const d = electrodesM.map((at) => `M${px(x(at))} ${px(plot.top)}L${px(x(at))} ${px(plot.top - TICK_PX)}`);
  return element('path', { d: d.join('') || 'M0 0', fill: 'none', stroke: look.ink, 'stroke-width': 1.4 });
}

/** Its size at the best place, and a box over the places that are not excluded. */
function candidateMark(candidate: DrawnCandidate, number: number, frame: GroundFrame, look: FigureLook): SvgNode[] {
  const { chainageM, depthM, radiusM, isVoid } = candidate;
  const { x, y, plot } = frame;
  const within = (value: number, from: number, to: number): number => Math.min(to, Math.max(from, value));
  const left = within(x(chainageM.low95), plot.left, plot.right);
  const right = within(x(chainageM.high95), plot.left, plot.right);
  const top = within(y(0, depthM.low95), plot.top, plot.bottom);
  const bottom = within(y(0, depthM.high95), plot.top, plot.bottom);
  const at = { x: x(chainageM.best), y: y(chainageM.best, depthM.best) };
  const dashed = isVoid ? null : '4 3';
  const [west, east] = [
    Math.min(left, x(chainageM.best - radiusM.best)) - 5,
    Math.max(right, x(chainageM.best + radiusM.best)) + 5,
  ];
  const isLeft = east + look.textPx > plot.right;
  const beside = isLeft ? Math.max(west, plot.left + look.textPx) : east;
  return [
    element('ellipse', {
      cx: at.x,
      cy: at.y,
      rx: Math.max(2, x(chainageM.best + radiusM.best) - at.x),
      ry: Math.max(2, y(chainageM.best, depthM.best + radiusM.best) - at.y),
      fill: look.paper,
      'fill-opacity': 0.55,
      stroke: look.accent,
      'stroke-width': 2.2,
      'stroke-dasharray': dashed,
    }),
    element('rect', {
      x: left,
      y: top,
      width: Math.max(2, right - left),
      height: Math.max(2, bottom - top),
      rx: 3,
      fill: look.accent,
      'fill-opacity': 0.16,
      stroke: look.accent,
      'stroke-width': 1.6,
      'stroke-dasharray': dashed,
    }),
    label(beside, at.y + look.textPx * 0.35, String(number), look, {
      anchor: isLeft ? 'end' : 'start',
      bold: true,
      colour: look.accent,
      halo: true,
    }),
  ];
}

function searchKey({ candidates }: SearchDrawing, contours: readonly Contour[], look: FigureLook): KeyItem[] {
  const half = SAMPLE_PX / 2;
  const box = (isVoid: boolean): KeyItem['draw'] => {
    return (x, y) => [
      element('rect', {
        x: x - half,
        y: y - 6,
        width: SAMPLE_PX,
        height: 12,
        rx: 3,
        fill: look.accent,
        'fill-opacity': 0.16,
        stroke: look.accent,
        'stroke-width': 1.6,
        'stroke-dasharray': isVoid ? null : '4 3',
      }),
    ];
  };
  return [
    ...(contours.length > 0
      ? [
          {
            words: 'a passage of radius r shows down to here',
            draw: (x: number, y: number) => [
              element('line', { x1: x - half, x2: x + half, y1: y, y2: y, stroke: look.ink, 'stroke-width': 1.2 }),
            ],
          },
        ]
      : []),
    ...(candidates.some(({ isVoid }) => isVoid) ? [{ words: 'middle of a void (95 %)', draw: box(true) }] : []),
    ...(candidates.some(({ isVoid }) => !isVoid) ? [{ words: 'or of another cause', draw: box(false) }] : []),
  ];
}

function searchSummary({ candidates }: SearchDrawing, contours: readonly Contour[], frame: GroundFrame): string {
  const found = candidates.map(
    ({ chainageM, depthM, radiusM, words }, i) =>
      `Candidate ${i + 1}, ${words}: at ${metres(chainageM.best)} (${metres(chainageM.low95)} to ${metres(chainageM.high95)}), ${metres(depthM.best)} down (${metres(depthM.low95)} to ${metres(depthM.high95)}), radius ${significant(radiusM.best, 2)} m.`,
  );
  const seen = contours.map(({ radiusM, stretches }) => {
    const depths = stretches.flat().map(({ depthM }) => depthM);
    const [least, most] = [Math.min(...depths), Math.max(...depths)].map((depth) => metres(Number(depth.toFixed(1))));
    const reach = least === most ? least : `${least} to ${most}, by the place`;
    return `Radius ${metres(radiusM)}: down to ${reach}, over ${counted(stretches.length, 'stretch', 'stretches')} of line.`;
  });
  return [
    found.length === 0 ? 'No candidate.' : found.join(' '),
    seen.length === 0
      ? 'No passage that was tried would have been found anywhere under this line.'
      : `Down to where a passage would have been found with 80 %: ${seen.join(' ')}`,
    `Below and beside that nothing is known; ${scaleWords(frame)}.`,
  ].join(' ');
}
