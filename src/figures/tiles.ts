import { HOOKUP_LABEL } from '../survey/hookup';
import { counted, metres, ratioText } from '../survey/wording';
import { linearScale, linearTicks, type Range, type Scale } from './axis';
import { type KeyItem, keyRows } from './key-rows';
import { label } from './label';
import type { FigureLook } from './look';
import { markGroup } from './mark-group';
import { keyItems } from './mark-key-items';
import { lineName, markWords } from './mark-words';
import { mark, markReachPx, px } from './marks';
import { lyingAxis, lyingAxisPx, type Plot, type Tick, ticksApart, uprightAxisPx } from './plot';
import { element, figureText, type SvgNode } from './svg';
import type { Tile, TileRow, TilesData } from './tiles-data';

const DEPTH_RULE = { median: 'median depth', half_spacing: 'half the spacing' } as const;

/** How much of its ink a tile gets, so that the mark on it stays the darker one. */
const WASH: Partial<Record<Tile['key'], number>> = { none: 0.3, not_graded: 0.15, over_range: 0.15 };
const USUAL_WASH = 0.55;
/** What reads like the reference steps back. */
const QUIET_SIZE = 0.45;

interface Laid {
  readonly data: TilesData;
  readonly look: FigureLook;
  readonly plot: Plot;
  readonly x: Scale;
  readonly rowPx: number;
}

/**
 * Every reading of a line as a tile: chainage (m) across, a row for each spacing, the widest lowest, with the depth that
 * the rule in use gives it. Rows are evenly apart: it is a table of readings and not a picture of the ground.
 */
export function tilesFigure(data: TilesData, look: FigureLook, selectedSid: string | null = null): string {
  const laid = laidOut(data, look);
  const { plot } = laid;
  const titleY = plot.bottom + lyingAxisPx(look) + look.textPx;
  const key = keyRows(tilesKey(data, look), titleY + look.textPx * 0.6, look);
  const heightPx = Math.ceil(titleY + look.textPx * 0.6 + key.heightPx + 2);
  return figureText({
    widthPx: look.widthPx,
    heightPx,
    title: `All readings, ${lineName(data.line)}, ${HOOKUP_LABEL[data.hookup]}`,
    summary: tilesSummary(data),
    children: [
      ...(look.paintPaper ? [element('rect', { width: look.widthPx, height: heightPx, fill: look.paper })] : []),
      label(0, look.textPx, axisWords(data), look),
      ...data.rows.flatMap((row, i) => rowNodes(row, i, laid, selectedSid)),
      ...lyingAxis(plot, laid.x, chainageTicks(laid), look),
      label(plot.left, titleY, 'chainage (m)', look),
      ...key.nodes,
    ],
  });
}

const hasDepth = ({ rows }: TilesData): boolean => rows.some(({ depthM }) => depthM !== null);

const axisWords = (data: TilesData): string =>
  hasDepth(data) ? `spacing · ${DEPTH_RULE[data.depthRule]}` : 'spacing (no depth from two probes)';

const rowWords = ({ spacingM, depthM }: TileRow): string => {
  const spacing = spacingM === null ? 'not said' : metres(spacingM);
  return depthM === null ? spacing : `${spacing} · ${depthM.toFixed(1)} m`;
};

function laidOut(data: TilesData, look: FigureLook): Laid {
  const left = uprightAxisPx(
    data.rows.map((row) => ({ value: 0, words: rowWords(row) })),
    look,
  );
  const rowPx = Math.max(26, look.textPx * 1.7);
  const top = look.textPx * 1.7;
  const plot = { left, right: look.widthPx - 4, top, bottom: top + rowPx * data.rows.length };
  const length: Range = data.toM > data.fromM ? [data.fromM, data.toM] : [data.fromM - 0.5, data.fromM + 0.5];
  return { data, look, plot, x: linearScale(length, [plot.left, plot.right]), rowPx };
}

const chainageTicks = ({ data, x, plot, look }: Laid): Tick[] => {
  const most = Math.max(3, Math.floor((plot.right - plot.left) / (look.textPx * 3.4)));
  const ticks = linearTicks([data.fromM, data.toM], most).map((value) => ({ value, words: String(value) }));
  return ticksApart(ticks, x, look);
};

function rowNodes(row: TileRow, index: number, laid: Laid, selectedSid: string | null): SvgNode[] {
  const { plot, rowPx, look } = laid;
  const top = plot.top + index * rowPx;
  const groups = row.tiles.map((tile) => tileNode(tile, row, top, laid, tile.sid === selectedSid));
  return [
    label(plot.left - 9, top + rowPx / 2 + look.textPx * 0.35, rowWords(row), look, { anchor: 'end' }),
    ...groups,
  ];
}

function tileNode(tile: Tile, row: TileRow, top: number, laid: Laid, selected: boolean): SvgNode {
  const { x, rowPx, look, data } = laid;
  const bottom = top + rowPx;
  const [fromX, toX] = [x(tile.fromM), x(tile.toM)];
  const most = tile.key === 'none' ? QUIET_SIZE : 1;
  const size = Math.min(most, (toX - fromX) / (2.4 * markReachPx(tile.key)), (rowPx - 6) / (2 * markReachPx(tile.key)));
  const box = (paint: Readonly<Record<string, string | number>>) =>
    element('rect', { x: fromX, y: top + 1, width: Math.max(1, toX - fromX), height: rowPx - 2, ...paint });
  return markGroup(tile.sid, tileWords(tile, row, data), { fromX, toX, top, bottom }, [
    box({ fill: look.stroke[tile.key], 'fill-opacity': WASH[tile.key] ?? USUAL_WASH }),
    ...(tile.overRange
      ? [upArrow((fromX + toX) / 2, top + rowPx / 2, look)]
      : mark({ x: (fromX + toX) / 2, y: top + rowPx / 2, key: tile.key, hint: data.twoProbe, size }, look)),
    ...(selected ? [box({ fill: 'none', stroke: look.accent, 'stroke-width': 2.6 })] : []),
  ]);
}

/** Above the limit of the meter; the long arrow of the other figures does not fit into a row. */
const upArrow = (x: number, y: number, look: FigureLook): SvgNode =>
  element('path', {
    d: `M${px(x - 4)} ${px(y + 7)}L${px(x + 4)} ${px(y + 7)}M${px(x)} ${px(y + 7)}L${px(x)} ${px(y - 7)}M${px(x - 4)} ${px(y - 2)}L${px(x)} ${px(y - 7)}L${px(x + 4)} ${px(y - 2)}`,
    fill: 'none',
    stroke: look.stroke.over_range,
    'stroke-width': 2,
  });

const tilesKey = ({ rows, twoProbe }: TilesData, look: FigureLook): KeyItem[] =>
  keyItems(
    rows.flatMap(({ tiles }) => tiles),
    twoProbe,
    look,
  );

/** "14 m, spacing 2 m: ratio 1.26 ± 0.07, clearly above the reference". */
function tileWords({ chainageM, ratio, ratioStandardError, key }: Tile, { spacingM }: TileRow, data: TilesData) {
  const at = `${metres(chainageM)}${spacingM === null ? '' : `, spacing ${metres(spacingM)}`}`;
  const error = ratioStandardError === null ? '' : ` ± ${ratioStandardError.toFixed(2)}`;
  return `${at}: ${ratio === null ? '' : `ratio ${ratioText(ratio)}${error}, `}${markWords(key, data.twoProbe)}`;
}

/** What stands out, row by row. */
function tilesSummary(data: TilesData): string {
  const what = data.twoProbe ? 'Two-probe figures, mostly the contact of the rods' : 'Readings';
  const part = data.whole ? '' : ' This is only a part of it: the line has more midpoints than this drawing can show.';
  const rows = data.rows.map((row) => {
    const standing = row.tiles.filter(({ key }) => key.endsWith('_above') || key.endsWith('_below'));
    const above = standing.filter(({ key }) => key.endsWith('_above')).length;
    const over = row.tiles.filter(({ overRange }) => overRange).length;
    const told = standing.length === 0 ? 'none stands out' : `${above} above, ${standing.length - above} below`;
    const name = row.spacingM === null ? 'Spacing not said' : `Spacing ${metres(row.spacingM)}`;
    return `${name}, ${counted(row.tiles.length, 'midpoint')}: ${told}${over > 0 ? `, ${over} over range` : ''}.`;
  });
  return `${what} against the reference, from ${metres(data.fromM)} to ${metres(data.toM)} along the line, a row for each spacing.${part} ${rows.join(' ')} Not a picture of the ground.`;
}
