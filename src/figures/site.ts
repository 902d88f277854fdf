import { ratioText, significant } from '../survey/wording';
import { logDomain, logScale, logTicks, type Scale } from './axis';
import { type BandEdge, hatchedBand } from './hatched-band';
import { type KeyItem, keyRows, SAMPLE_PX } from './key-rows';
import { label, labelWidthPx } from './label';
import type { FigureLook } from './look';
import type { MarkKey } from './mark-key';
import { keyItems } from './mark-key-items';
import { mark, px } from './marks';
import { lyingAxis, lyingAxisPx, type Plot, type Tick, ticksApart, uprightAxis, uprightAxisPx } from './plot';
import {
  farFrom,
  type SiteBandPoint,
  type SiteData,
  type SiteLevel,
  type SiteLine,
  type Standing,
  standsOut,
} from './site-data';
import { bandWords, medianWords, siteSummary, siteTitle, titled } from './site-words';
import { element, figureText, type SvgNode } from './svg';

/** An upright axis spans at least this factor, so that scatter does not look like a signal. */
const LEAST_FACTOR = 1.6;
const LEAST_SPACING_FACTOR = 2;
/** Marks shrink where they stand close. */
const [LEAST_SIZE, MOST_SIZE, SIZE_STEP_PX] = [0.42, 0.72, 8];
/** The band of a spacing reaches this far beyond its outermost marks. */
const BEYOND_PX = 5;
/** Marks of one spacing stand at most this far apart. */
const MOST_ASIDE_PX = 9;
/** Names take at most this share of the width. */
const NAME_SHARE = 0.3;
/** From the last mark to the names. */
const LEADER_PX = 14;

const KEY: Readonly<Record<Standing, MarkKey>> = {
  above: 'clear_above',
  within: 'none',
  below: 'clear_below',
  not_compared: 'not_graded',
};

interface Laid {
  readonly data: SiteData;
  readonly look: FigureLook;
  readonly plot: Plot;
  readonly x: Scale;
  readonly y: Scale;
  readonly figureTicks: readonly Tick[];
  readonly spacingTicks: readonly Tick[];
  /** Lines by their place in `data.lines`, in px from the spacing that they share. */
  readonly asidePx: (i: number) => number;
  /** Half the width of the band at a spacing. */
  readonly halfPx: number;
  readonly size: number;
}

/**
 * Every line of a hookup against the reference: medians (Ω·m) per spacing (m), both logarithmic. At each spacing the
 * reference is a hatched, level band of its stations' scatter, in which the lines stand side by side, always in the same
 * order; each day's reference is dotted. A mark points up above the scatter, down below it, and is round within it,
 * against the reference of the same day where there is one. Behind each name: times its reference, the median over its
 * spacings. SVG text.
 */
export function siteFigure(data: SiteData, look: FigureLook): string {
  const laid = laidOut(data, look);
  const { plot } = laid;
  const titleY = plot.bottom + lyingAxisPx(look) + look.textPx;
  const order = orderWords(data, look);
  const keyY = titleY + look.textPx * (order === null ? 0.6 : 2);
  const key = keyRows(siteKey(data, look), keyY, look);
  const heightPx = Math.ceil(keyY + key.heightPx + 2);
  const named = namedLines(laid);
  return figureText({
    widthPx: look.widthPx,
    heightPx,
    title: siteTitle(data),
    summary: siteSummary(data),
    children: [
      ...(look.paintPaper ? [element('rect', { width: look.widthPx, height: heightPx, fill: look.paper })] : []),
      label(0, look.textPx, data.twoProbe ? 'two-probe figure (Ω·m)' : 'apparent resistivity (Ω·m)', look),
      label(look.widthPx - 2, look.textPx, '× reference', look, { anchor: 'end' }),
      ...uprightAxis(plot, laid.y, laid.figureTicks, look),
      ...lyingAxis(plot, laid.x, laid.spacingTicks, look),
      ...data.bands.flatMap((band) => bandNodes(band, laid)),
      ...data.days.flatMap((levels) => levels.map((level) => dayLine(level, laid))),
      ...data.lines.map((line, i) => lineMarks(line, i, laid)),
      ...named,
      label(plot.left, titleY, 'spacing (m)', look),
      ...(data.twoProbe
        ? [label(look.widthPx - 2, titleY, 'mostly contact of the rods', look, { anchor: 'end' })]
        : []),
      ...(order === null ? [] : [label(plot.left, titleY + look.textPx * 1.4, order, look)]),
      ...key.nodes,
    ],
  });
}

function laidOut(data: SiteData, look: FigureLook): Laid {
  const medians = data.lines.flatMap((line) => line.medians);
  const levels = [...data.bands.flat(), ...data.days.flat()];
  const read = [...new Set([...medians, ...data.bands.flat()].map(({ spacingM }) => spacingM))].sort((p, q) => p - q);
  const spacings = logDomain(read, LEAST_SPACING_FACTOR, 0.07);
  const figures = logDomain(
    [...[...medians, ...levels].map(({ figureOhmM }) => figureOhmM), ...data.bands.flat().flatMap(bandFigures)],
    LEAST_FACTOR,
  );
  const figureTicks = logTicks(figures, 6).map((value) => ({ value, words: significant(value, 3) }));
  const widest = Math.max(0, ...data.lines.map((line) => labelWidthPx(nameWords(line, look), look)));
  const top = look.textPx * 1.7;
  const plot: Plot = {
    left: uprightAxisPx(figureTicks, look),
    right: look.widthPx - widest - LEADER_PX - 2,
    top,
    bottom: top + Math.min(280, look.widthPx * 0.56),
  };
  const x = logScale(spacings, [plot.left, plot.right]);
  const closest = Math.min(
    MOST_ASIDE_PX * 20,
    ...read.slice(1).map((spacingM, i) => x(spacingM) - x(read[i] as number)),
  );
  const step = Math.min(MOST_ASIDE_PX, (0.8 * closest) / Math.max(1, data.lines.length));
  return {
    data,
    look,
    plot,
    x,
    y: logScale(figures, [plot.bottom, plot.top]),
    figureTicks,
    spacingTicks: ticksApart(
      (read.length <= 9 ? read : logTicks(spacings, 6)).map((value) => ({
        value,
        words: String(Number(value.toFixed(2))),
      })),
      x,
      look,
    ),
    halfPx: ((data.lines.length - 1) / 2) * step + BEYOND_PX,
    size: Math.min(MOST_SIZE, Math.max(LEAST_SIZE, step / SIZE_STEP_PX)),
    asidePx: (i) => (i - (data.lines.length - 1) / 2) * step,
  };
}

const bandFigures = ({ figureOhmM, scatterLn }: SiteBandPoint): [number, number] => [
  figureOhmM * Math.exp(scatterLn),
  figureOhmM / Math.exp(scatterLn),
];

/** Level at each spacing, since a mark beside a slope would seem to lie above or below it; joined by a thin line. */
function bandNodes(band: readonly SiteBandPoint[], { x, y, look, halfPx }: Laid): SvgNode[] {
  const ends = ({ spacingM }: SiteLevel): [number, number] => [x(spacingM) - halfPx, x(spacingM) + halfPx];
  const level = band.map((point) =>
    ends(point)
      .map((at) => `${px(at)} ${px(y(point.figureOhmM))}`)
      .join('L'),
  );
  return [
    ...band.flatMap((point) => {
      const [high, low] = bandFigures(point);
      return hatchedBand(
        ends(point).map((at): BandEdge => ({ x: at, topY: y(high), bottomY: y(low) })),
        look,
      );
    }),
    element('path', { d: `M${level.join('L')}`, fill: 'none', stroke: look.inkSoft, 'stroke-width': 1.4 }),
  ];
}

const dayLine = ({ spacingM, figureOhmM }: SiteLevel, { x, y, look, halfPx }: Laid): SvgNode =>
  dotted(x(spacingM), y(figureOhmM), halfPx, look);

const dotted = (x: number, y: number, half: number, look: FigureLook): SvgNode =>
  element('line', {
    x1: x - half,
    x2: x + half,
    y1: y,
    y2: y,
    stroke: look.ink,
    'stroke-width': 1.8,
    'stroke-dasharray': '1.5 3',
  });

/** Which mark is whose, where the names fit. */
function orderWords({ lines }: SiteData, look: FigureLook): string | null {
  const words = `from left to right: ${lines.map(({ name }) => name).join(', ')}`;
  return lines.length > 1 && labelWidthPx(words, look) < look.widthPx - 60 ? words : null;
}

function lineMarks(line: SiteLine, i: number, { data, x, y, look, asidePx, size }: Laid): SvgNode {
  return element(
    'g',
    {},
    line.medians.map((median) =>
      element('g', {}, [
        element('title', {}, [`${titled(line)}, ${medianWords(median)}`]),
        ...mark(
          {
            x: x(median.spacingM) + asidePx(i),
            y: y(median.figureOhmM),
            key: KEY[median.standing],
            hint: data.twoProbe,
            size,
          },
          look,
        ),
      ]),
    ),
  );
}

/** Names at the right end, each led to its last mark and moved where they would touch. */
function namedLines({ data, plot, x, y, look, asidePx }: Laid): SvgNode[] {
  const apart = look.textPx * 1.15;
  const [top, bottom] = [plot.top + look.textPx * 0.5, plot.bottom];
  const most = Math.max(1, Math.floor((bottom - top) / apart) + 1);
  const all = data.lines.flatMap((line, i) => {
    const last = line.medians.at(-1);
    return last ? [{ line, fromX: x(last.spacingM) + asidePx(i), fromY: y(last.figureOhmM) }] : [];
  });
  // Where not all have room, those that stand farthest from the reference are named.
  const shown = [...all]
    .sort((p, q) => farFrom(q.line) - farFrom(p.line))
    .slice(0, all.length > most ? most - 1 : most)
    .sort((p, q) => p.fromY - q.fromY);
  const places: number[] = [];
  for (const { fromY } of shown) places.push(Math.max(fromY, (places.at(-1) ?? top - apart) + apart));
  for (let i = places.length - 1, lowest = bottom; i >= 0; i -= 1, lowest -= apart) {
    places[i] = Math.min(places[i] as number, lowest);
  }
  const startX = plot.right + LEADER_PX;
  return [
    ...shown.flatMap(({ line, fromX, fromY }, i) => {
      const at = places[i] as number;
      return [
        element('path', {
          d: `M${px(fromX + 7)} ${px(fromY)}L${px(startX - 3)} ${px(at)}`,
          fill: 'none',
          stroke: look.inkSoft,
          'stroke-width': 0.9,
        }),
        label(startX, at + look.textPx * 0.35, nameWords(line, look), look, { bold: standsOut(line) }),
      ];
    }),
    ...(shown.length < all.length
      ? [
          label(look.widthPx - 2, bottom + look.textPx * 1.35, `${all.length - shown.length} more`, look, {
            anchor: 'end',
          }),
        ]
      : []),
  ];
}

/** "A ×1.03"; a long name is cut. */
function nameWords({ name, times }: SiteLine, look: FigureLook): string {
  const behind = times === null ? '' : ` ×${ratioText(times)}`;
  const room = Math.max(3, Math.floor((look.widthPx * NAME_SHARE) / labelWidthPx('x', look)) - behind.length);
  return `${name.length > room ? `${name.slice(0, room - 1)}…` : name}${behind}`;
}

function siteKey(data: SiteData, look: FigureLook): KeyItem[] {
  const half = SAMPLE_PX / 2;
  const points = data.lines.flatMap(({ medians }) => medians.map(({ standing }) => ({ key: KEY[standing] })));
  const items = keyItems(points, data.twoProbe, look);
  items.push({
    words: bandWords(data),
    draw: (x, y) =>
      hatchedBand(
        [x - half, x + half].map((at) => ({ x: at, topY: y - 5, bottomY: y + 5 })),
        look,
      ),
  });
  if (data.days.length > 0) {
    items.push({
      words: 'reference of each day',
      draw: (x, y) => [dotted(x, y, half, look)],
    });
  }
  return items;
}
