import { HOOKUP_LABEL } from '../survey/hookup';
import { counted, metres, ohmMetres, ratioText, significant } from '../survey/wording';
import { logDomain, logScale, logTicks, type Range, type Scale } from './axis';
import { type BandEdge, hatchedBand } from './hatched-band';
import { type KeyItem, keyRows, SAMPLE_PX } from './key-rows';
import { label, labelWidthPx } from './label';
import type { LadderData, LadderPoint, ReferencePoint } from './ladder-data';
import type { FigureLook } from './look';
import { columnsOf, errorBar, markGroup, plumbLine, ringAround } from './mark-group';
import { keyItems } from './mark-key-items';
import { lineName, markWords } from './mark-words';
import { ARROW_PX, mark, markReachPx, px } from './marks';
import { lyingAxis, lyingAxisPx, type Plot, type Tick, ticksApart, uprightAxis, uprightAxisPx } from './plot';
import { element, figureText, type SvgNode } from './svg';

/** An upright axis spans at least this factor, so that scatter does not look like a signal. */
const LEAST_FACTOR = 2.5;
const LEAST_SPACING_FACTOR = 2;

/** Where everything of a ladder lies. */
interface Laid {
  readonly data: LadderData;
  readonly look: FigureLook;
  readonly plot: Plot;
  readonly x: Scale;
  readonly y: Scale;
  readonly spacings: Range;
  readonly figures: Range;
}

/**
 * Figures (Ω·m) against spacing (m) at one midpoint, both logarithmic, with the reference as a hatched band.
 * Bars are one standard error of the ratio either way, the reference's scatter included. Over range is an arrow up
 * from the meter's limit. `selectedSid` is the reading that is open. `plotHeightPx`: where there is little room.
 */
export function ladderFigure(
  data: LadderData,
  look: FigureLook,
  selectedSid: string | null = null,
  plotHeightPx = Math.min(300, look.widthPx * 0.58),
): string {
  const laid = laidOut(data, look, plotHeightPx);
  const { plot } = laid;
  const selected = data.points.find(({ sid }) => sid === selectedSid) ?? null;
  const titleY = plot.bottom + lyingAxisPx(look) + look.textPx;
  const key = keyRows(ladderKey(laid), titleY + look.textPx * 0.6, look);
  const heightPx = Math.ceil(titleY + look.textPx * 0.6 + key.heightPx + 2);
  return figureText({
    widthPx: look.widthPx,
    heightPx,
    title: ladderTitle(data),
    summary: ladderSummary(data),
    children: [
      ...(look.paintPaper ? [element('rect', { width: look.widthPx, height: heightPx, fill: look.paper })] : []),
      label(0, look.textPx, figureAxisWords(data), look),
      ...uprightAxis(plot, laid.y, figureTicks(laid.figures), look),
      ...lyingAxis(plot, laid.x, spacingTicks(laid), look, selected?.spacingM),
      ...bandNodes(laid),
      ...(selected ? [plumbLine(laid.x(selected.spacingM), plot.top, plot.bottom, look)] : []),
      ...guideNodes(laid),
      ...trace(laid),
      ...pointNodes(laid, selectedSid),
      label(plot.left, titleY, 'spacing (m)', look),
      ...(selected
        ? [
            label(plot.right, titleY, `${metres(selected.spacingM)}: ${figureWords(selected)}`, look, {
              anchor: 'end',
              bold: true,
              colour: look.accent,
            }),
          ]
        : []),
      ...key.nodes,
    ],
  });
}

/** The name of the upright axis. A two-probe figure is mostly contact and is never called anything else. */
function figureAxisWords({ twoProbe }: LadderData): string {
  return twoProbe ? 'two-probe figure 2πaR (Ω·m), mostly contact' : 'apparent resistivity (Ω·m)';
}

function laidOut(data: LadderData, look: FigureLook, plotHeightPx: number): Laid {
  const spacings = logDomain(
    [...data.points, ...data.reference].map(({ spacingM }) => spacingM),
    LEAST_SPACING_FACTOR,
    0.07,
  );
  const figures = logDomain(shownFigures(data), LEAST_FACTOR);
  const plot: Plot = {
    left: uprightAxisPx(figureTicks(figures), look),
    right: look.widthPx - 4,
    top: look.textPx * 1.7,
    bottom: look.textPx * 1.7 + plotHeightPx,
  };
  // Over range points upwards and needs room for it.
  const headroom = data.points.some(({ overRange }) => overRange) ? ARROW_PX + 4 : 0;
  return {
    data,
    look,
    plot,
    spacings,
    figures,
    x: logScale(spacings, [plot.left, plot.right]),
    y: logScale(figures, [plot.bottom, plot.top + headroom]),
  };
}

/** Every figure (Ω·m) that has to be on the paper. */
function shownFigures({ points, reference }: LadderData): number[] {
  return [
    ...points.flatMap((point) => {
      const { figureOhmM, aboveOhmM, repeats } = point;
      const error = Math.exp(errorLn(point));
      const own = figureOhmM === null ? [] : [figureOhmM / error, figureOhmM * error];
      return [...own, ...(aboveOhmM === null ? [] : [aboveOhmM]), ...repeats.map((repeat) => repeat.figureOhmM)];
    }),
    ...reference.flatMap(({ levelOhmM, halfWidthLn }) => {
      const half = Math.exp(halfWidthLn ?? 0);
      return [levelOhmM / half, levelOhmM * half];
    }),
  ];
}

/** The standard error of ln(ratio); 0 where there is no ratio. */
function errorLn({ ratio, ratioStandardError }: LadderPoint): number {
  return ratio !== null && ratioStandardError !== null ? ratioStandardError / ratio : 0;
}

const figureTicks = (figures: Range): Tick[] =>
  logTicks(figures, 6).map((value) => ({ value, words: significant(value, 3) }));

/** The spacings that were read, since these are the ones a person knows; round ones where there are too many. */
function spacingTicks({ data, spacings, x, look }: Laid): Tick[] {
  const read = [...new Set(data.points.map(({ spacingM }) => spacingM))];
  const values = read.length <= 9 ? read : logTicks(spacings, 6);
  return ticksApart(
    values.map((value) => ({ value, words: String(Number(value.toFixed(2))) })),
    x,
    look,
  );
}

function bandNodes({ data, x, y, look }: Laid): SvgNode[] {
  const known = data.reference.filter(({ halfWidthLn }) => halfWidthLn !== null);
  const edges = known.map(({ spacingM, levelOhmM, halfWidthLn }): BandEdge => {
    const half = Math.exp(halfWidthLn ?? 0);
    return { x: x(spacingM), topY: y(levelOhmM * half), bottomY: y(levelOhmM / half) };
  });
  const level = data.reference.map(({ spacingM, levelOhmM }) => `${px(x(spacingM))} ${px(y(levelOhmM))}`);
  return [
    ...hatchedBand(edges, look),
    ...(level.length > 1
      ? [element('path', { d: `M${level.join('L')}`, fill: 'none', stroke: look.inkSoft, 'stroke-width': 1.4 })]
      : []),
  ];
}

/** Whether contact alone could make this ladder: with fewer than four electrodes on the line it could. */
const contactMatters = ({ hookup, twoProbe }: LadderData): boolean => twoProbe || hookup === 'pole_pole';

const CONTACT_WORDS = 'contact alone';

/** The line from its narrowest figure along which contact alone would climb, in px; null where it has no meaning. */
interface Guide {
  readonly x1: number;
  readonly y1: number;
  readonly x2: number;
  readonly y2: number;
  /** Its name has room to the right of its end; else the key has it. */
  readonly named: boolean;
}

/** How the figure would climb if it were nothing but contact: in proportion to spacing, as far as the plot goes. */
function contactGuide({ data, plot, x, y, spacings, figures, look }: Laid): Guide | null {
  const from = data.points.find(({ figureOhmM }) => figureOhmM !== null);
  if (!from || from.figureOhmM === null || !contactMatters(data)) return null;
  const perMetre = from.figureOhmM / from.spacingM;
  const endM = Math.min(spacings[1], figures[1] / perMetre);
  return {
    x1: x(from.spacingM),
    y1: y(from.figureOhmM),
    x2: x(endM),
    y2: y(perMetre * endM),
    // Arrows of over-range readings stand where the name would.
    named:
      x(endM) + 6 + labelWidthPx(CONTACT_WORDS, look) <= plot.right && !data.points.some(({ overRange }) => overRange),
  };
}

function guideNodes(laid: Laid): SvgNode[] {
  const guide = contactGuide(laid);
  if (!guide) return [];
  const { look } = laid;
  const { named, ...ends } = guide;
  const line = guideLine(ends, look);
  if (!named) return [line];
  return [
    line,
    label(ends.x2 + 6, ends.y2 + look.textPx * 0.75, CONTACT_WORDS, look, { colour: look.inkSoft, halo: true }),
  ];
}

const guideLine = (ends: Omit<Guide, 'named'>, look: FigureLook): SvgNode =>
  element('line', { ...ends, stroke: look.inkSoft, 'stroke-width': 1.5, 'stroke-dasharray': '1.5 4' });

/** A thin line through the figures, broken where one is missing. */
function trace({ data, x, y, look }: Laid): SvgNode[] {
  let d = '';
  let broken = true;
  for (const { spacingM, figureOhmM } of data.points) {
    if (figureOhmM !== null) d += `${broken ? 'M' : 'L'}${px(x(spacingM))} ${px(y(figureOhmM))}`;
    broken = figureOhmM === null;
  }
  return d.includes('L') ? [element('path', { d, fill: 'none', stroke: look.ink, 'stroke-width': 1.2 })] : [];
}

function pointNodes({ data, plot, x, y, look }: Laid, selectedSid: string | null): SvgNode[] {
  const columns = columnsOf(
    data.points.map(({ spacingM }) => x(spacingM)),
    plot,
  );
  const groups = data.points.flatMap((point, i) => {
    const column = columns[i];
    const at = placeOf(point, y, plot);
    if (!column || at === null) return [];
    const here = x(point.spacingM);
    const isSelected = point.sid === selectedSid;
    const error = Math.exp(errorLn(point));
    const { figureOhmM } = point;
    const group = markGroup(point.sid, pointWords(point, data), column, [
      ...point.repeats.map((repeat) => repeatNode(here, y(repeat.figureOhmM), repeat.above, look)),
      ...(figureOhmM !== null && error > 1 ? [errorBar(here, y(figureOhmM * error), y(figureOhmM / error), look)] : []),
      ...mark({ x: here, y: at, key: point.key, hint: data.twoProbe }, look),
      ...(isSelected ? [ringAround(here, at, markReachPx(point.key), look)] : []),
    ]);
    return [{ group, isSelected }];
  });
  // The one that is open is drawn over its neighbours.
  return groups.sort((p, q) => Number(p.isSelected) - Number(q.isSelected)).map(({ group }) => group);
}

/** Where a mark stands, in px; over range without a known limit at the top, a rejected reading nowhere. */
function placeOf({ figureOhmM, aboveOhmM, overRange }: LadderPoint, y: Scale, plot: Plot): number | null {
  if (figureOhmM !== null) return y(figureOhmM);
  if (!overRange) return null;
  return aboveOhmM === null ? plot.top + ARROW_PX + 4 : y(aboveOhmM);
}

/** Repeats stand beside the bar, not on it. */
const REPEAT_ASIDE_PX = 10;

/** One of several readings: a dot beside the middle; a small arrow head where it was over range. */
function repeatNode(x: number, y: number, above: boolean, look: FigureLook): SvgNode {
  const aside = x + REPEAT_ASIDE_PX;
  if (!above) return element('circle', { cx: aside, cy: y, r: 2.4, fill: look.ink });
  return element('path', {
    d: `M${px(aside - 4)} ${px(y)}L${px(aside)} ${px(y - 6)}L${px(aside + 4)} ${px(y)}`,
    fill: 'none',
    stroke: look.ink,
    'stroke-width': 1.6,
  });
}

function ladderKey(laid: Laid): KeyItem[] {
  const { data, look } = laid;
  const half = SAMPLE_PX / 2;
  const items = keyItems(data.points, data.twoProbe, look);
  if (data.reference.some(({ halfWidthLn }) => halfWidthLn !== null)) {
    items.push({
      words: bandWords(data.reference),
      draw: (x, y) =>
        hatchedBand(
          [x - half, x + half].map((at) => ({ x: at, topY: y - 5, bottomY: y + 5 })),
          look,
        ),
    });
  }
  if (data.points.some((point) => errorLn(point) > 0)) {
    items.push({ words: 'standard error', draw: (x, y) => [errorBar(x, y - 6, y + 6, look)] });
  }
  if (contactGuide(laid)?.named === false) {
    items.push({
      words: CONTACT_WORDS,
      draw: (x, y) => [guideLine({ x1: x - half, x2: x + half, y1: y, y2: y }, look)],
    });
  }
  if (data.points.some(({ repeats }) => repeats.length > 1)) {
    items.push({ words: 'each repeat', draw: (x, y) => [repeatNode(x - REPEAT_ASIDE_PX, y, false, look)] });
  }
  return items;
}

const bandWords = (reference: readonly ReferencePoint[]): string =>
  reference.every(({ basis }) => basis !== 'standard_error') ? 'reference ± its scatter' : 'reference ± error';

function ladderTitle({ line, chainageM, hookup }: LadderData): string {
  return `Ladder, ${lineName(line)} at ${metres(chainageM)}, ${HOOKUP_LABEL[hookup]}`;
}

function figureWords({ figureOhmM, aboveOhmM, overRange }: LadderPoint): string {
  if (figureOhmM !== null) return ohmMetres(figureOhmM);
  if (!overRange) return 'no figure';
  return aboveOhmM === null ? 'over range, limit not said' : `over range, above ${ohmMetres(aboveOhmM)}`;
}

/** "2 m: 526 Ω·m, clearly above the reference (ratio 1.26 ± 0.07)". */
function pointWords(point: LadderPoint, { twoProbe }: LadderData): string {
  const { ratio, ratioStandardError, referenceOhmM } = point;
  const judged = point.key === 'over_range' ? '' : `, ${markWords(point.key, twoProbe)}`;
  const against =
    ratio !== null && ratioStandardError !== null
      ? ` (ratio ${ratioText(ratio)} ± ${ratioStandardError.toFixed(2)})`
      : referenceOhmM !== null
        ? ` (reference ${ohmMetres(referenceOhmM)})`
        : '';
  return `${metres(point.spacingM)}: ${figureWords(point)}${judged}${against}`;
}

function ladderSummary(data: LadderData): string {
  const kind = data.twoProbe
    ? 'Two-probe figures, mostly the contact of the rods, against spacing'
    : 'Apparent resistivity against spacing';
  const band = data.reference.some(({ halfWidthLn }) => halfWidthLn !== null)
    ? ` The hatched band is the ${bandWords(data.reference)}.`
    : ' Nothing to compare with.';
  const guide = contactMatters(data) ? ' The dotted line climbs as contact alone would, in proportion to spacing.' : '';
  const points = data.points.map((point) => pointWords(point, data)).join('; ');
  return `${kind}, ${counted(data.points.length, 'spacing')}. ${points}.${band}${guide}`;
}
