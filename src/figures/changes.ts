import { HOOKUP_LABEL, type Hookup, isTwoProbe } from '../survey/hookup';
import { counted, metres, ratioText, significant } from '../survey/wording';
import { linearScale, linearTicks, logDomain, logScale, logTicks, type Range, type Scale } from './axis';
import { hatchedBand } from './hatched-band';
import { type KeyItem, keyRows, SAMPLE_PX } from './key-rows';
import { label } from './label';
import type { FigureLook } from './look';
import { columnsOf, errorBar, markGroup, ringAround } from './mark-group';
import type { MarkKey } from './mark-key';
import { lineName } from './mark-words';
import { mark, markReachPx, px } from './marks';
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
import { element, figureText, type SvgNode } from './svg';

export interface DrawnChange {
  /** Key of the later midpoint. */
  readonly sid: string;
  readonly chainageM: number;
  readonly spacingM: number;
  /** Later ratio to the reference over the earlier one, above 0. */
  readonly change: number;
  /** Of ln(change). */
  readonly standardErrorLn: number;
  readonly verdict: 'higher_than_before' | 'lower_than_before' | 'no_change_shown' | 'hint' | 'not_comparable';
}

/** The changes along a line of the later survey, of one hookup. */
export interface ChangesDrawing {
  readonly line: string;
  /** What the earlier survey is called. */
  readonly earlier: string;
  readonly hookup: Hookup;
  /** A change of fewer standard errors than this would not have shown. */
  readonly zShown: number;
  readonly points: readonly DrawnChange[];
}

interface Strip {
  readonly spacingM: number;
  readonly points: readonly DrawnChange[];
  readonly plot: Plot;
  readonly y: Scale;
  readonly x: Scale;
  /** Marks shrink where they stand close. */
  readonly size: number;
}

/** The axis reaches at least this far from 1, so that scatter does not look like a change. */
const LEAST_REACH = 1.3;
/** Bars and bands that reach farther than this are cut at the edge; a choice. */
const MOST_REACH = 12;
/** A step this many times the usual one is a gap. */
const GAP_STEPS = 1.6;
const STRIP_GAP_PX = 10;

const KEY: Readonly<Record<DrawnChange['verdict'], MarkKey>> = {
  higher_than_before: 'clear_above',
  lower_than_before: 'clear_below',
  no_change_shown: 'none',
  hint: 'not_graded',
  not_comparable: 'not_graded',
};

const VERDICT_WORDS: Readonly<Record<DrawnChange['verdict'], string>> = {
  higher_than_before: 'higher than before',
  lower_than_before: 'lower than before',
  no_change_shown: 'no change shown',
  hint: 'a hint',
  not_comparable: 'not comparable',
};

/**
 * How much higher or lower readings are than before (logarithmic, 1 = as before) against chainage (m), one strip for each
 * spacing. Bars are one standard error either way; within the hatched band a change would not have shown. Two-probe
 * readings are hints: they have no band. `selectedSid` is the reading that is open. SVG text.
 */
export function changesFigure(drawing: ChangesDrawing, look: FigureLook, selectedSid: string | null = null): string {
  const range = changeRange(drawing);
  const strips = stripsOf(drawing, range, look);
  const last = strips.at(-1);
  const bottom = last?.plot.bottom ?? look.textPx * 2;
  const titleY = bottom + lyingAxisPx(look) + look.textPx;
  const key = keyRows(changesKey(drawing, look), titleY + look.textPx * 0.6, look);
  const heightPx = Math.ceil(titleY + look.textPx * 0.6 + key.heightPx + 2);
  return figureText({
    widthPx: look.widthPx,
    heightPx,
    title: changesTitle(drawing),
    summary: changesSummary(drawing),
    children: [
      ...(look.paintPaper ? [element('rect', { width: look.widthPx, height: heightPx, fill: look.paper })] : []),
      label(0, look.textPx, 'times what it was before', look),
      ...strips.flatMap((strip) => stripNodes(drawing, strip, range, strip === last, look, selectedSid)),
      label(last?.plot.left ?? 0, titleY, 'chainage (m)', look),
      ...key.nodes,
    ],
  });
}

function changeRange({ points, hookup, zShown }: ChangesDrawing): Range {
  const reach = (value: number): number => Math.min(MOST_REACH, Math.max(1 / MOST_REACH, value));
  const shown = points.flatMap(({ change, standardErrorLn }) => {
    const error = Math.exp(standardErrorLn);
    const band = isTwoProbe(hookup) ? 1 : Math.exp(zShown * standardErrorLn);
    return [change, ...[change * error, change / error, band, 1 / band].map(reach)];
  });
  return logDomain([...shown, LEAST_REACH, 1 / LEAST_REACH], 1, 0.05);
}

const changeTicks = (range: Range): Tick[] =>
  logTicks(range, 6).map((value) => ({ value, words: `×${significant(value, 3)}` }));

function stripsOf({ points }: ChangesDrawing, range: Range, look: FigureLook): Strip[] {
  const spacings = [...new Set(points.map(({ spacingM }) => spacingM))].sort((p, q) => p - q);
  const chainages = points.map(({ chainageM }) => chainageM);
  const [fromM, toM] = chainages.reduce(
    ([least, most], at) => [Math.min(least, at), Math.max(most, at)],
    [Infinity, -Infinity],
  );
  const free = Math.max(0.03 * (toM - fromM), 0.5);
  const left = uprightAxisPx(changeTicks(range), look);
  const right = look.widthPx - 4;
  const x = linearScale([fromM - free, toM + free], [left, right]);
  const heightPx = spacings.length > 1 ? Math.max(84, look.textPx * 6) : Math.min(190, look.widthPx * 0.42);
  return spacings.map((spacingM, i) => {
    const top = look.textPx * 1.7 + i * (heightPx + STRIP_GAP_PX);
    const own = points.filter((point) => point.spacingM === spacingM).sort((p, q) => p.chainageM - q.chainageM);
    const pitchPx = x(usualStepM(own)) - x(0);
    return {
      spacingM,
      points: own,
      plot: { left, right, top, bottom: top + heightPx },
      x,
      // What the strip is called stands above all that is drawn in it.
      y: logScale(range, [top + heightPx, top + look.textPx * 1.3]),
      size: Math.min(1, Math.max(0.45, pitchPx / 12)),
    };
  });
}

/** The median step between neighbours (m); 1 where there are none. */
function usualStepM(points: readonly DrawnChange[]): number {
  const steps = points
    .slice(1)
    .map(({ chainageM }, i) => chainageM - (points[i]?.chainageM ?? 0))
    .filter((step) => step > 0)
    .sort((p, q) => p - q);
  return steps[Math.floor((steps.length - 1) / 2)] ?? 1;
}

function stripNodes(
  drawing: ChangesDrawing,
  strip: Strip,
  range: Range,
  isLast: boolean,
  look: FigureLook,
  selectedSid: string | null,
): SvgNode[] {
  const { plot, x, y, points, spacingM } = strip;
  const hints = isTwoProbe(drawing.hookup);
  return [
    ...uprightAxis(plot, y, uprightTicksApart(changeTicks(range), y, look, 1), look, 1),
    ...(hints ? [] : stretchesOf(points).flatMap((stretch) => bandOf(stretch, drawing.zShown, strip, look))),
    ...lyingAxis(plot, x, isLast ? chainageTicks(strip, look) : [], look),
    label(plot.right - 2, plot.top + look.textPx, `spacing ${metres(spacingM)}`, look, { anchor: 'end', halo: true }),
    ...pointNodes(strip, hints, look, selectedSid),
  ];
}

/** Readings in a row without a gap between them. */
function stretchesOf(points: readonly DrawnChange[]): DrawnChange[][] {
  const widestM = usualStepM(points) * GAP_STEPS;
  const stretches: DrawnChange[][] = [];
  for (const point of points) {
    const stretch = stretches.at(-1);
    const before = stretch?.at(-1);
    if (stretch && before && point.chainageM - before.chainageM <= widestM) stretch.push(point);
    else stretches.push([point]);
  }
  return stretches;
}

function bandOf(stretch: readonly DrawnChange[], zShown: number, { plot, x, y }: Strip, look: FigureLook): SvgNode[] {
  const within = (at: number): number => Math.min(plot.bottom, Math.max(plot.top, at));
  return hatchedBand(
    stretch.map(({ chainageM, standardErrorLn }) => {
      const half = Math.exp(zShown * standardErrorLn);
      return { x: x(chainageM), topY: within(y(half)), bottomY: within(y(1 / half)) };
    }),
    look,
  );
}

function chainageTicks({ plot, x, points }: Strip, look: FigureLook): Tick[] {
  const most = Math.max(3, Math.floor((plot.right - plot.left) / (look.textPx * 3.4)));
  const range: Range = [points[0]?.chainageM ?? 0, points.at(-1)?.chainageM ?? 0];
  const ticks = linearTicks(range, most).map((value) => ({ value, words: String(value) }));
  return ticksApart(ticks, x, look);
}

function pointNodes(strip: Strip, hint: boolean, look: FigureLook, selectedSid: string | null): SvgNode[] {
  const { points, plot, x, y, size } = strip;
  const columns = columnsOf(
    points.map(({ chainageM }) => x(chainageM)),
    plot,
  );
  const within = (at: number): number => Math.min(plot.bottom, Math.max(plot.top, at));
  return points.flatMap((point, i) => {
    const column = columns[i];
    if (!column) return [];
    const [at, here, key] = [y(point.change), x(point.chainageM), KEY[point.verdict]];
    const error = Math.exp(point.standardErrorLn);
    return [
      markGroup(point.sid, pointWords(point), column, [
        errorBar(here, within(y(point.change * error)), within(y(point.change / error)), look, 3.5 * size),
        ...mark({ x: here, y: at, key, hint, size }, look),
        ...(point.sid === selectedSid ? [ringAround(here, at, markReachPx(key, size), look)] : []),
      ]),
    ];
  });
}

function changesKey({ points, hookup }: ChangesDrawing, look: FigureLook): KeyItem[] {
  const half = SAMPLE_PX / 2;
  const shown = new Set(points.map(({ verdict }) => verdict));
  const marks = (['higher_than_before', 'lower_than_before', 'no_change_shown', 'hint'] as const)
    .filter((verdict) => shown.has(verdict))
    .map(
      (verdict): KeyItem => ({
        words: VERDICT_WORDS[verdict],
        draw: (x, y) => mark({ x, y, key: KEY[verdict], hint: false }, look),
      }),
    );
  if (isTwoProbe(hookup)) return marks;
  const band: KeyItem = {
    words: 'would not have shown',
    draw: (x, y) =>
      hatchedBand(
        [x - half, x + half].map((at) => ({ x: at, topY: y - 5, bottomY: y + 5 })),
        look,
      ),
  };
  const bar: KeyItem = {
    words: 'one standard error',
    draw: (x, y) => [element('path', { d: `M${px(x)} ${px(y - 7)}L${px(x)} ${px(y + 7)}`, stroke: look.ink })],
  };
  return [...marks, band, bar];
}

const changesTitle = ({ line, earlier, hookup }: ChangesDrawing): string =>
  `Change since “${earlier}”, ${lineName(line)}, ${HOOKUP_LABEL[hookup]}`;

/** "14 m: ×1.26 ± 0.07, higher than before". */
function pointWords({ chainageM, change, standardErrorLn, verdict }: DrawnChange): string {
  return `${metres(chainageM)}: ×${ratioText(change)} ± ${ratioText(change * standardErrorLn)}, ${VERDICT_WORDS[verdict]}`;
}

/** So many are told one by one. */
const MOST_TOLD = 12;

function changesSummary({ points, hookup, zShown }: ChangesDrawing): string {
  const changed = points.filter(({ verdict }) => verdict === 'higher_than_before' || verdict === 'lower_than_before');
  const start = `${counted(points.length, 'reading')} beside those of before, each against the reference of its own time.`;
  if (isTwoProbe(hookup)) return `${start} All are hints: two-probe figures are mostly the contact of the rods.`;
  const band = `A change of less than ${significant(zShown, 2)} standard errors would not have shown.`;
  if (changed.length === 0) return `${start} None changed beyond chance. ${band}`;
  const told = [...changed]
    .sort((p, q) => Math.abs(Math.log(q.change)) / q.standardErrorLn - Math.abs(Math.log(p.change)) / p.standardErrorLn)
    .slice(0, MOST_TOLD)
    .map((point) => `spacing ${metres(point.spacingM)} at ${pointWords(point)}`);
  const more = changed.length > told.length ? ` and ${changed.length - told.length} more` : '';
  return `${start} ${changed.length} changed beyond chance: ${told.join('; ')}${more}. ${band}`;
}
