import table from '../../styles/ramp.json' with { type: 'json' };
import { linearTicks } from './axis';
import { label } from './label';
import type { MarkKey } from './mark-key';
import { px } from './marks';
import {
  boundsOf,
  type MapArea,
  type MapFeature,
  type MapPoint,
  type MapRings,
  type MapSegment,
  type MapZone,
  mapBounds,
  type SiteMapData,
} from './site-map-data';
import { featureGlyph } from './site-map-glyph';
import { type Hatch, hatchColour, hatchPatterns } from './site-map-hatch';
import { placedLabels, type WantedLabel } from './site-map-labels';
import type { SiteMapLook } from './site-map-look';
import { element, figureText, type SvgElement, type SvgNode } from './svg';

export interface SiteMapOptions {
  /** What the ids of its hatches begin with: one for each map of a page. */
  readonly prefix: string;
  /** Marks what can be asked for its meaning, for the page that the map is in. */
  readonly askable: boolean;
}

/** The ground in px: where a point lies, and how many px a metre is. */
export interface MapFrame {
  readonly pxPerM: number;
  at(point: MapPoint): readonly [x: number, y: number];
}

/** North is up: grid north of a plane about the middle of the map, which is true north there. */
export function mapFrame(data: SiteMapData, { widthPx, heightPx }: SiteMapLook): MapFrame {
  const [west, south, east, north] = mapBounds(data);
  const pxPerM = Math.min(widthPx / (east - west), heightPx / (north - south));
  const [midX, midY] = [(west + east) / 2, (south + north) / 2];
  return { pxPerM, at: ([x, y]) => [widthPx / 2 + (x - midX) * pxPerM, heightPx / 2 - (y - midY) * pxPerM] };
}

/** How far beyond its frame a map is drawn, for whoever moves it, in frames. */
const BEYOND = 8;

/**
 * The site on one page: lines, readings, zones, corridors, features and setbacks over a metre grid, with scale and north.
 * What lies outside the corridors is hatched. Every kind of area has a hatch of its own and zones have their names, so that
 * nothing is told by colour alone.
 */
export function siteMap(data: SiteMapData, look: SiteMapLook, { prefix, askable }: SiteMapOptions): string {
  const { widthPx, heightPx } = look;
  const frame = mapFrame(data, look);
  const gridM = gridStepM(frame.pxPerM, widthPx);
  const area = areaDrawer(frame, look, prefix, askable);
  const beyond = { x: -widthPx * BEYOND, y: -heightPx * BEYOND, width: widthPx * (2 * BEYOND + 1) };
  const everywhere = { ...beyond, height: heightPx * (2 * BEYOND + 1) };
  const defs = element('defs', {}, hatchPatterns(prefix, look));
  const layer = (name: string, children: readonly SvgNode[]): SvgElement =>
    element('g', { class: `layer-${name}` }, children);
  const ground = element('g', { class: 'ground' }, [
    layer('unsurveyed', [
      element('rect', { ...everywhere, fill: `url(#${prefix}-unsurveyed)` }),
      // Paper over the corridors, however they overlap: cheaper to draw and to print than a mask.
      element('path', {
        d: data.corridors.map(({ rings }) => ringsPath(rings, frame)).join(''),
        fill: look.paper,
      }),
    ]),
    element('path', {
      class: 'grid',
      d: gridPath(gridM * frame.pxPerM, look),
      stroke: look.grid,
      'stroke-width': 1,
      fill: 'none',
      'vector-effect': 'non-scaling-stroke',
    }),
    layer(
      'corridors',
      data.corridors.map((each) => corridor(each, frame, look, askable)),
    ),
    layer(
      'setbacks',
      data.setbacks.map((each) => area(each, 'setback', 1.2, '7 4')),
    ),
    layer('segments', segments(data.segments, frame, look, askable)),
    layer(
      'zones',
      data.zones.map((each) => zoneArea(each, area)),
    ),
    layer(
      'lines',
      data.lines.map(({ id, words, pieces }) =>
        shape(id, words, askable, {
          d: pieces.map((piece) => piecePath(piece, frame)).join(''),
          stroke: look.ink,
          'stroke-width': 1.5,
          fill: 'none',
        }),
      ),
    ),
    layer(
      'features',
      data.features.map((each) => feature(each, frame, look, askable)),
    ),
    element('g', { class: 'names', 'pointer-events': 'none', 'aria-hidden': 'true' }, names(data, frame, look)),
  ]);
  return figureText({
    widthPx,
    heightPx,
    title: data.title,
    summary: data.summary,
    children: [
      defs,
      element('rect', { class: 'paper', width: widthPx, height: heightPx, fill: look.paper }),
      ground,
      ...furniture(gridM, frame.pxPerM, look),
    ],
  });
}

const gridStepM = (pxPerM: number, widthPx: number): number => {
  const [first = 0, second = 1] = linearTicks([0, widthPx / pxPerM], 9);
  return second - first;
};

function gridPath(stepPx: number, { widthPx, heightPx }: SiteMapLook): string {
  const lines: string[] = [];
  const [midX, midY] = [widthPx / 2, heightPx / 2];
  const most = Math.ceil(Math.max(widthPx, heightPx) / stepPx) + 1;
  for (let i = -most; i <= most; i += 1) {
    const [x, y] = [midX + i * stepPx, midY + i * stepPx];
    if (x >= 0 && x <= widthPx) lines.push(`M${px(x)} 0V${px(heightPx)}`);
    if (y >= 0 && y <= heightPx) lines.push(`M0 ${px(y)}H${px(widthPx)}`);
  }
  return lines.join('');
}

function piecePath(piece: readonly MapPoint[], frame: MapFrame): string {
  return piece
    .map((point, i) => {
      const [x, y] = frame.at(point);
      return `${i === 0 ? 'M' : 'L'}${px(x)} ${px(y)}`;
    })
    .join('');
}

const ringsPath = (rings: MapRings, frame: MapFrame): string =>
  rings.map((ring) => `${piecePath(ring, frame)}Z`).join('');

type Attributes = Parameters<typeof element>[1];

/** A path that can be asked: its title is what it says. */
const shape = (id: string, words: string, askable: boolean, attributes: Attributes): SvgElement =>
  element('path', { ...(askable ? { 'data-ask': id } : {}), 'vector-effect': 'non-scaling-stroke', ...attributes }, [
    element('title', {}, [words]),
  ]);

type AreaDrawer = (area: MapArea, hatch: Hatch, strokePx: number, dashes: string | null) => SvgElement;

const areaDrawer =
  (frame: MapFrame, look: SiteMapLook, prefix: string, askable: boolean): AreaDrawer =>
  ({ id, words, rings }, hatch, strokePx, dashes) =>
    shape(id, words, askable, {
      d: ringsPath(rings, frame),
      fill: `url(#${prefix}-${hatch})`,
      stroke: hatchColour(hatch, look),
      'stroke-width': strokePx,
      'stroke-dasharray': dashes,
    });

/** By verdict; a hint is hatched thinly and has a broken edge, whatever its verdict. */
function zoneArea(zone: MapZone, area: AreaDrawer): SvgElement {
  if (zone.hint) return area(zone, 'hint', 1.5, '4 3');
  return area(zone, zone.verdict, zone.verdict === 'void_like' ? 3 : 2, null);
}

function corridor({ id, words, rings }: MapArea, frame: MapFrame, look: SiteMapLook, askable: boolean): SvgElement {
  return shape(id, words, askable, {
    d: ringsPath(rings, frame),
    fill: look.rule,
    'fill-opacity': 0.1,
    stroke: look.rule,
    'stroke-width': 1,
  });
}

const DRAWN_FIRST: readonly MarkKey[] = [
  'not_graded',
  'none',
  'over_range',
  'slight_below',
  'slight_above',
  'clear_below',
  'clear_above',
  'strong_below',
  'strong_above',
];

/** The strongest lie on top. What has no words of its own is one path a mark, so that many readings stay light. */
function segments(all: readonly MapSegment[], frame: MapFrame, look: SiteMapLook, askable: boolean): SvgElement[] {
  return DRAWN_FIRST.flatMap((key) => {
    const own = all.filter((segment) => segment.key === key);
    const style = {
      stroke: look.stroke[key],
      'stroke-width': table.stroke_width_px[key],
      // Below the reference is broken and above it is whole: told apart without colour.
      'stroke-dasharray': key.endsWith('_below') ? '6 2' : null,
      fill: 'none',
    };
    const plain = own.filter(({ words }) => words === null);
    return [
      ...(plain.length > 0
        ? [
            element('path', {
              d: plain.map(({ piece }) => piecePath(piece, frame)).join(''),
              'vector-effect': 'non-scaling-stroke',
              ...style,
            }),
          ]
        : []),
      ...own.flatMap(({ id, words, piece }) =>
        words === null ? [] : [shape(id, words, askable, { d: piecePath(piece, frame), ...style })],
      ),
    ];
  });
}

function feature(each: MapFeature, frame: MapFrame, look: SiteMapLook, askable: boolean): SvgElement {
  const { id, words, glyph, point, lines, rings, gridM } = each;
  const children: SvgNode[] = [element('title', {}, [words])];
  const edge = { stroke: look.ink, 'vector-effect': 'non-scaling-stroke' };
  if (point) {
    const [x, y] = frame.at(point);
    if (gridM !== null) {
      const side = gridM * frame.pxPerM;
      const square = { x: x - side / 2, y: y - side / 2, width: side, height: side };
      children.push(
        element('rect', { ...square, ...edge, fill: look.rule, 'fill-opacity': 0.1, 'stroke-dasharray': '3 3' }),
      );
    }
    children.push(element('g', { transform: `translate(${px(x)} ${px(y)})` }, [featureGlyph(glyph, look)]));
  }
  const d = `${lines.map((line) => piecePath(line, frame)).join('')}${ringsPath(rings, frame)}`;
  if (d !== '') {
    const fill = rings.length > 0 ? look.inkSoft : 'none';
    children.push(
      element('path', { d, ...edge, fill, 'fill-opacity': 0.12, 'stroke-width': 1.5, 'stroke-dasharray': '1 3' }),
    );
  }
  return element('g', askable ? { 'data-ask': id } : {}, children);
}

/** Names of zones and lines, each of a fixed size however near the map is looked at. */
function names(data: SiteMapData, frame: MapFrame, look: SiteMapLook): SvgElement[] {
  const wanted: WantedLabel[] = [
    ...data.zones.flatMap(({ name, rings }) => {
      const bounds = boundsOf(rings);
      if (!bounds) return [];
      const [x, y] = frame.at([(bounds[0] + bounds[2]) / 2, bounds[3]]);
      return [{ words: name, x, y, bold: true }];
    }),
    ...data.lines.flatMap(({ name, pieces }) => {
      const end = pieces[0]?.[0];
      if (!end) return [];
      const [x, y] = frame.at(end);
      return [{ words: name, x, y, bold: false }];
    }),
  ];
  const marks = data.features.flatMap(({ point }) => (point ? [frame.at(point)] : []));
  return placedLabels(wanted, look, [look.widthPx, look.heightPx], marks).map(({ words, x, y, dx, dy, bold }) =>
    element('g', { transform: `translate(${px(x)} ${px(y)})` }, [
      element('g', { class: 'upright' }, [label(dx, dy, words, look, { bold, halo: true })]),
    ]),
  );
}

/** North and scale, which stay where they are when the map is moved. */
function furniture(gridM: number, pxPerM: number, look: SiteMapLook): SvgElement[] {
  const { heightPx, widthPx, textPx } = look;
  const upright = (children: readonly SvgNode[]): SvgElement => element('g', { class: 'upright' }, children);
  return [
    element('g', { class: 'scale', 'pointer-events': 'none', transform: `translate(12 ${heightPx - 12})` }, [
      element('path', {
        class: 'scale-bar',
        d: `M0 -6V0H${px(gridM * pxPerM)}V-6`,
        stroke: look.ink,
        'stroke-width': 2,
        fill: 'none',
        'vector-effect': 'non-scaling-stroke',
      }),
      upright([label(0, -10, `${gridLabel(gridM)}, one square`, look, { halo: true })]),
    ]),
    element('g', { class: 'north', 'pointer-events': 'none', transform: `translate(${widthPx - 24} 12)` }, [
      upright([
        element('path', { d: 'M0 0L8 26L0 20L-8 26Z', fill: look.ink, stroke: look.paper, 'stroke-width': 1 }),
        label(0, 28 + textPx, 'N', look, { anchor: 'middle', bold: true, halo: true }),
      ]),
    ]),
  ];
}

const gridLabel = (gridM: number): string => (gridM >= 1000 ? `${gridM / 1000} km` : `${gridM} m`);
