import type { FigureLook } from './look';
import { px } from './marks';
import { element, type SvgNode } from './svg';

/** Upper and lower edge of a band at one place, in px (y grows downwards). */
export interface BandEdge {
  readonly x: number;
  readonly topY: number;
  readonly bottomY: number;
}

const HATCH_STEP_PX = 7;
const HATCH_LEAN_PX = 5;
/** Half the length of a band that is known at one place only. */
const ALONE_PX = 11;

/** A band through its edges, told from everything else by leaning strokes rather than by its colour. */
export function hatchedBand(edges: readonly BandEdge[], look: FigureLook): SvgNode[] {
  const [first] = edges;
  if (!first) return [];
  const along =
    edges.length > 1
      ? edges
      : [
          { ...first, x: first.x - ALONE_PX },
          { ...first, x: first.x + ALONE_PX },
        ];
  const upper = along.map(({ x, topY }) => `${px(x)} ${px(topY)}`);
  const lower = along.map(({ x, bottomY }) => `${px(x)} ${px(bottomY)}`);
  const area = `M${upper.join('L')}L${[...lower].reverse().join('L')}Z`;
  return [
    element('path', { d: area, fill: look.rule, 'fill-opacity': 0.14 }),
    element('path', { d: hatch(along), fill: 'none', stroke: look.rule, 'stroke-width': 1, 'stroke-opacity': 0.6 }),
    element('path', {
      d: `M${upper.join('L')}M${lower.join('L')}`,
      fill: 'none',
      stroke: look.rule,
      'stroke-width': 1,
    }),
  ];
}

/** Each stroke stands on the lower edge and ends, a little farther on, at the upper one: it never leaves the band. */
function hatch(along: readonly BandEdge[]): string {
  const fromX = along[0]?.x ?? 0;
  const toX = along.at(-1)?.x ?? 0;
  const strokes: string[] = [];
  for (let x = fromX; x + HATCH_LEAN_PX <= toX; x += HATCH_STEP_PX) {
    const end = x + HATCH_LEAN_PX;
    strokes.push(`M${px(x)} ${px(edgeAt(along, x).bottomY)}L${px(end)} ${px(edgeAt(along, end).topY)}`);
  }
  return strokes.join('') || `M${px(fromX)} ${px(along[0]?.bottomY ?? 0)}`;
}

function edgeAt(along: readonly BandEdge[], x: number): BandEdge {
  const next = along.findIndex((edge) => edge.x >= x);
  const q = along[next < 0 ? along.length - 1 : next] as BandEdge;
  const p = along[Math.max(0, (next < 0 ? along.length : next) - 1)] as BandEdge;
  const t = q.x > p.x ? (x - p.x) / (q.x - p.x) : 0;
  return { x, topY: p.topY + t * (q.topY - p.topY), bottomY: p.bottomY + t * (q.bottomY - p.bottomY) };
}
