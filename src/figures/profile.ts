import { HOOKUP_LABEL } from '../survey/hookup';
import { counted, metres, ratioText, significant } from '../survey/wording';
import { linearScale, linearTicks, logDomain, logScale, logTicks, type Range, type Scale } from './axis';
import { type BandEdge, hatchedBand } from './hatched-band';
import { type KeyItem, keyRows, SAMPLE_PX } from './key-rows';
import { label, labelWidthPx } from './label';
import type { FigureLook } from './look';
import { columnsOf, errorBar, markGroup, plumbLine, ringAround } from './mark-group';
import { keyItems } from './mark-key-items';
import { lineName, markWords } from './mark-words';
import { ARROW_PX, mark, markReachPx, px } from './marks';
import {
  lyingAxis,
  lyingAxisPx,
  type Plot,
  type Tick,
  ticksApart,
  uprightAxis,
  uprightAxisPx,
  uprightTicksApart,
} from './plot';
import type { ProfileData, ProfilePoint, ProfileStrip } from './profile-data';
import { element, figureText, type SvgNode } from './svg';

/** The ratio axis reaches at least this far from 1, so that scatter does not look like a signal. */
const LEAST_REACH = 1.3;
/** A step this many times the usual one is a gap. */
const GAP_STEPS = 1.6;
const STRIP_GAP_PX = 10;
/** The foot of a strip belongs to the electrodes. */
const FOOT_PX = 14;

interface Laid {
  readonly data: ProfileData;
  readonly look: FigureLook;
  readonly x: Scale;
  readonly ratios: Range;
}

/** A strip in its place. */
interface LaidStrip extends Laid {
  readonly strip: ProfileStrip;
  readonly plot: Plot;
  readonly y: Scale;
  /** Marks shrink where they stand close. */
  readonly size: number;
}

/**
 * Ratio to the reference (logarithmic, one axis for all strips) against chainage (m), one strip for each spacing.
 * The hatched band is what cannot be told from the reference; bars are one standard error either way. Probe places
 * are ticks on the lower edge, bends are marked. `selectedSid` is the reading that is open.
 */
export function profileFigure(data: ProfileData, look: FigureLook, selectedSid: string | null = null): string {
  const strips = laidOut(data, look);
  const last = strips.at(-1);
  const bottom = last?.plot.bottom ?? look.textPx * 2;
  const titleY = bottom + lyingAxisPx(look) + look.textPx;
  const key = keyRows(profileKey(data, selectedSid, look), titleY + look.textPx * 0.6, look);
  const heightPx = Math.ceil(titleY + look.textPx * 0.6 + key.heightPx + 2);
  const selected = data.strips.flatMap(({ points }) => points).find(({ sid }) => sid === selectedSid) ?? null;
  return figureText({
    widthPx: look.widthPx,
    heightPx,
    title: profileTitle(data),
    summary: profileSummary(data),
    children: [
      ...(look.paintPaper ? [element('rect', { width: look.widthPx, height: heightPx, fill: look.paper })] : []),
      label(0, look.textPx, axisWords(data), look),
      ...strips.flatMap((laid) => stripNodes(laid, laid === last, selectedSid)),
      label(last?.plot.left ?? 0, titleY, 'chainage (m)', look),
      ...(selected
        ? [
            label(look.widthPx - 4, titleY, `${metres(selected.chainageM)}: ${ratioWords(selected)}`, look, {
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

function axisWords({ strips, twoProbe }: ProfileData): string {
  const [only, ...others] = strips;
  const what = twoProbe ? 'two-probe figure / reference' : 'ratio to the reference';
  return only && others.length === 0 ? `${what}, ${spacingWords(only.spacingM)}` : what;
}

const spacingWords = (spacingM: number | null): string =>
  spacingM === null ? 'spacing not said' : `spacing ${metres(spacingM)}`;

function laidOut(data: ProfileData, look: FigureLook): LaidStrip[] {
  const ratios = ratioRange(data);
  const left = uprightAxisPx(ratioTicks(ratios), look);
  const right = look.widthPx - 4;
  const x = linearScale(paddedLength(data), [left, right]);
  const headroom = data.strips.some(({ points }) => points.some(({ overRange }) => overRange)) ? ARROW_PX + 4 : 0;
  const onePx = Math.min(190, look.widthPx * 0.42);
  const stripPx = FOOT_PX + headroom + (data.strips.length > 1 ? Math.max(60, look.textPx * 4.5) : onePx - FOOT_PX);
  return data.strips.map((strip, i) => {
    const top = look.textPx * 1.7 + i * (stripPx + STRIP_GAP_PX);
    const plot = { left, right, top, bottom: top + stripPx };
    const pitchPx = x(usualStepM(strip.points)) - x(0);
    return {
      data,
      look,
      ratios,
      x,
      strip,
      plot,
      y: logScale(ratios, [plot.bottom - FOOT_PX, plot.top + headroom]),
      size: Math.min(1, Math.max(0.45, pitchPx / 12)),
    };
  });
}

/** The line with room for the marks at its ends. */
function paddedLength({ fromM, toM }: ProfileData): Range {
  const free = Math.max(0.02 * (toM - fromM), 0.25);
  return [fromM - free, toM + free];
}

function ratioRange({ strips, zThreshold, leastRatio }: ProfileData): Range {
  const shown = strips.flatMap(({ points }) =>
    points.flatMap((point) => {
      const { ratio, aboveRatio } = point;
      const above = aboveRatio === null ? [] : [aboveRatio];
      if (ratio === null) return above;
      const error = errorLn(point);
      const band = Math.exp(zThreshold * error);
      return [...above, ratio * Math.exp(error), ratio / Math.exp(error), band, 1 / band];
    }),
  );
  const reach = Math.max(LEAST_REACH, leastRatio);
  return logDomain([...shown, reach, 1 / reach], 1, 0.04);
}

/** The standard error of ln(ratio); 0 where there is no ratio. */
const errorLn = ({ ratio, ratioStandardError }: ProfilePoint): number =>
  ratio !== null && ratioStandardError !== null ? ratioStandardError / ratio : 0;

const ratioTicks = (ratios: Range): Tick[] =>
  logTicks(ratios, 6).map((value) => ({ value, words: significant(value, 3) }));

/** The median step between neighbours (m); 1 where there are none. */
function usualStepM(points: readonly ProfilePoint[]): number {
  const steps = points
    .slice(1)
    .map(({ chainageM }, i) => chainageM - (points[i]?.chainageM ?? 0))
    .filter((step) => step > 0)
    .sort((p, q) => p - q);
  return steps[Math.floor((steps.length - 1) / 2)] ?? 1;
}

function stripNodes(laid: LaidStrip, isLast: boolean, selectedSid: string | null): SvgNode[] {
  const { data, strip, plot, x, y, ratios, look } = laid;
  const selected = strip.points.find(({ sid }) => sid === selectedSid) ?? null;
  const stretches = stretchesOf(strip.points);
  return [
    ...bendNodes(laid, strip === data.strips[0]),
    ...uprightAxis(plot, y, uprightTicksApart(ratioTicks(ratios), y, look, 1), look, 1),
    ...stretches.flatMap((stretch) => hatchedBand(bandEdges(stretch, laid), look)),
    ...[data.leastRatio, 1 / data.leastRatio].map((ratio) => gradeLine(plot.left, plot.right, y(ratio), look)),
    ...lyingAxis(plot, x, isLast ? chainageTicks(laid) : [], look),
    probeTicks(laid),
    ...(data.strips.length > 1
      ? [
          label(plot.right - 2, plot.top + look.textPx, spacingWords(strip.spacingM), look, {
            anchor: 'end',
            halo: true,
          }),
        ]
      : []),
    ...(selected ? [plumbLine(x(selected.chainageM), plot.top, plot.bottom, look), ...rods(selected, laid)] : []),
    ...stretches.map((stretch) => trace(stretch, laid)),
    ...pointNodes(laid, selectedSid),
  ];
}

/** From here on a ratio is graded, if it also leaves the band. */
const gradeLine = (x1: number, x2: number, y: number, look: FigureLook): SvgNode =>
  element('line', { x1, x2, y1: y, y2: y, stroke: look.ink, 'stroke-width': 1.2, 'stroke-dasharray': '2 3' });

const chainageTicks = ({ data, x, plot, look }: LaidStrip): Tick[] => {
  const most = Math.max(3, Math.floor((plot.right - plot.left) / (look.textPx * 3.4)));
  const ticks = linearTicks(paddedLength(data), most).map((value) => ({ value, words: String(value) }));
  return ticksApart(ticks, x, look);
};

/** Readings in a row with a ratio each and no gap between them. */
function stretchesOf(points: readonly ProfilePoint[]): ProfilePoint[][] {
  const widestM = usualStepM(points) * GAP_STEPS;
  const stretches: ProfilePoint[][] = [];
  let before: ProfilePoint | null = null;
  for (const point of points) {
    if (point.ratio !== null) {
      const stretch = stretches.at(-1);
      const joined = before !== null && point.chainageM - before.chainageM <= widestM;
      if (stretch && joined) stretch.push(point);
      else stretches.push([point]);
    }
    before = point.ratio === null ? null : point;
  }
  return stretches;
}

function bandEdges(stretch: readonly ProfilePoint[], { data, x, y }: LaidStrip): BandEdge[] {
  return stretch.map((point) => {
    const half = Math.exp(data.zThreshold * errorLn(point));
    return { x: x(point.chainageM), topY: y(half), bottomY: y(1 / half) };
  });
}

function trace(stretch: readonly ProfilePoint[], { x, y, look }: LaidStrip): SvgNode {
  const places = stretch.map(({ chainageM, ratio }) => `${px(x(chainageM))} ${px(y(ratio ?? 1))}`);
  return element('path', { d: `M${places.join('L')}`, fill: 'none', stroke: look.inkSoft, 'stroke-width': 1.1 });
}

/** Where the line turns, since readings on either side of a bend look along different ways. */
function bendNodes({ data, plot, x, look }: LaidStrip, named: boolean): SvgNode[] {
  let freeFrom = Number.NEGATIVE_INFINITY;
  return data.bendsM.flatMap((bendM) => {
    const at = x(bendM);
    const nodes: SvgNode[] = [
      element('line', {
        x1: at,
        x2: at,
        y1: plot.top,
        y2: plot.bottom,
        stroke: look.inkSoft,
        'stroke-width': 1.2,
        'stroke-dasharray': '7 4',
      }),
    ];
    const words = 'bend';
    if (named && at > freeFrom) {
      const toLeft = at + 4 + labelWidthPx(words, look) > plot.right;
      nodes.push(
        label(toLeft ? at - 4 : at + 4, plot.top + look.textPx * 0.8, words, look, {
          anchor: toLeft ? 'end' : 'start',
          colour: look.inkSoft,
          halo: true,
        }),
      );
      freeFrom = at + labelWidthPx(words, look) + 8;
    }
    return nodes;
  });
}

/** Places where a probe has stood. */
function probeTicks({ data, plot, x, look }: LaidStrip): SvgNode {
  const d = data.probesM.map(
    (probeM) => `M${px(x(probeM))} ${px(plot.bottom)}L${px(x(probeM))} ${px(plot.bottom - 4)}`,
  );
  return element('path', { d: d.join('') || 'M0 0', fill: 'none', stroke: look.inkSoft, 'stroke-width': 1 });
}

/** The electrodes of the reading that is open. */
function rods({ probesM }: ProfilePoint, { plot, x, look }: LaidStrip): SvgNode[] {
  return probesM.map((probeM) => rod(x(probeM), plot.bottom - FOOT_PX + 1, plot.bottom, look));
}

const rod = (x: number, y1: number, y2: number, look: FigureLook): SvgNode =>
  element('line', { x1: x, x2: x, y1, y2, stroke: look.accent, 'stroke-width': 4 });

function pointNodes(laid: LaidStrip, selectedSid: string | null): SvgNode[] {
  const { data, strip, plot, x, y, look, size } = laid;
  const columns = columnsOf(
    strip.points.map(({ chainageM }) => x(chainageM)),
    plot,
  );
  const groups = strip.points.flatMap((point, i) => {
    const column = columns[i];
    const at = placeOf(point, laid);
    if (!column || at === null) return [];
    const here = x(point.chainageM);
    const isSelected = point.sid === selectedSid;
    const error = Math.exp(errorLn(point));
    const { ratio } = point;
    const group = markGroup(point.sid, pointWords(point, data), column, [
      // In a crowd the band has to be enough.
      ...(ratio !== null && error > 1 && (size > 0.5 || isSelected)
        ? [errorBar(here, y(ratio * error), y(ratio / error), look, 3.5 * size)]
        : []),
      ...mark({ x: here, y: at, key: point.key, hint: data.twoProbe, size }, look),
      ...(isSelected ? [ringAround(here, at, markReachPx(point.key, size), look)] : []),
    ]);
    return [{ group, isSelected }];
  });
  return groups.sort((p, q) => Number(p.isSelected) - Number(q.isSelected)).map(({ group }) => group);
}

/** Where a mark stands, in px. Without a reference it stands on the lower edge; a rejected reading stands nowhere. */
function placeOf({ ratio, aboveRatio, overRange, key }: ProfilePoint, { y, plot }: LaidStrip): number | null {
  if (ratio !== null) return y(ratio);
  if (overRange) return aboveRatio === null ? plot.top + ARROW_PX + 4 : y(aboveRatio);
  return key === 'not_graded' ? plot.bottom - FOOT_PX : null;
}

function profileKey(data: ProfileData, selectedSid: string | null, look: FigureLook): KeyItem[] {
  const points = data.strips.flatMap((strip) => strip.points);
  const half = SAMPLE_PX / 2;
  const items = keyItems(points, data.twoProbe, look);
  if (points.some(({ ratio }) => ratio !== null)) {
    items.push({
      words: `within ${significant(data.zThreshold, 2)} standard errors`,
      draw: (x, y) =>
        hatchedBand(
          [x - half, x + half].map((at) => ({ x: at, topY: y - 5, bottomY: y + 5 })),
          look,
        ),
    });
  }
  items.push({
    words: 'grades begin',
    draw: (x, y) => [gradeLine(x - half, x + half, y, look)],
  });
  if (points.some(({ sid, probesM }) => sid === selectedSid && probesM.length > 0)) {
    items.push({ words: 'its electrodes', draw: (x, y) => [rod(x, y - 6, y + 6, look)] });
  }
  return items;
}

function profileTitle({ line, hookup, strips }: ProfileData): string {
  const spacings = strips.map(({ spacingM }) => (spacingM === null ? 'not said' : metres(spacingM))).join(', ');
  return `Profile, ${lineName(line)}, ${HOOKUP_LABEL[hookup]}, spacing ${spacings}`;
}

function ratioWords({ ratio, ratioStandardError, aboveRatio, overRange }: ProfilePoint): string {
  if (ratio !== null) {
    const error = ratioStandardError === null ? '' : ` ± ${ratioStandardError.toFixed(2)}`;
    return `ratio ${ratioText(ratio)}${error}`;
  }
  if (!overRange) return 'no ratio';
  return aboveRatio === null ? 'over range' : `over range, ratio above ${ratioText(aboveRatio)}`;
}

/** "14 m: ratio 1.26 ± 0.07, clearly above the reference". */
function pointWords(point: ProfilePoint, { twoProbe }: ProfileData): string {
  const judged = point.key === 'over_range' ? '' : `, ${markWords(point.key, twoProbe)}`;
  return `${metres(point.chainageM)}: ${ratioWords(point)}${judged}`;
}

/** What stands out, told stretch by stretch; the reader of a summary does not want all the rest. */
function profileSummary(data: ProfileData): string {
  const what = data.twoProbe
    ? 'Two-probe figures, mostly the contact of the rods, as ratios to the reference'
    : 'Ratios to the reference';
  const bends = data.bendsM.length > 0 ? ` Bends at ${data.bendsM.map(metres).join(', ')}.` : '';
  const part = data.whole ? '' : ' This is only a part of it: the line has more midpoints than this drawing can show.';
  return `${what}, from ${metres(data.fromM)} to ${metres(data.toM)} along the line.${part} ${data.strips.map((strip) => stripSummary(strip, data)).join(' ')}${bends}`;
}

/** So many are told one by one. */
const MOST_TOLD = 12;

function stripSummary({ spacingM, points }: ProfileStrip, data: ProfileData): string {
  const rank = ({ key }: ProfilePoint): number => (key.startsWith('strong') ? 3 : key.startsWith('clear') ? 2 : 1);
  const standing = points.filter(({ key }) => key !== 'none' && key !== 'not_graded');
  const told = [...standing]
    .sort((p, q) => rank(q) - rank(p))
    .slice(0, MOST_TOLD)
    .sort((p, q) => p.chainageM - q.chainageM);
  const more = standing.length > told.length ? ` and ${standing.length - told.length} more` : '';
  const list = told.map((point) => pointWords(point, data)).join('; ');
  const start = `${spacingM === null ? 'Spacing not said' : `Spacing ${metres(spacingM)}`}, ${counted(points.length, 'midpoint')}`;
  return standing.length === 0
    ? `${start}: none stands out.`
    : `${start}, ${standing.length} of them stand out: ${list}${more}.`;
}
