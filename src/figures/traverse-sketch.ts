import { counted, metres } from '../survey/wording';
import { label } from './label';
import type { FigureLook } from './look';
import { element, figureText, type SvgNode } from './svg';

/** A vertex of a traverse, metres east and north of its start. */
export interface SketchVertex {
  readonly eastM: number;
  readonly northM: number;
  /** On the tape. */
  readonly chainageM: number;
}

export interface SketchClosure {
  readonly misclosureM: number;
  /** The n of 1:n; null where it closes exactly. */
  readonly ratio: number | null;
  /** Misclosure over what bearings and tape let expect. */
  readonly sigmas: number;
}

export interface TraverseSketch {
  readonly lineName: string;
  /** As the legs give them, from the start. */
  readonly vertices: readonly SketchVertex[];
  /** The known place that the legs should have come to; null where there is none. */
  readonly knownEnd: Pick<SketchVertex, 'eastM' | 'northM'> | null;
  readonly closure: SketchClosure | null;
}

const EDGE_PX = 34;
const LARGEST_HEIGHT_PX = 360;
const LEAST_HEIGHT_PX = 120;
/** Over so many sigmas a misclosure is a mistake, not a matter of chance. */
const MISTAKE_SIGMAS = 3;

/** How a traverse closes, as a sentence. */
export function closureWords(closure: SketchClosure | null): string {
  if (!closure) return 'Nothing known at its end, so how well it closes cannot be told.';
  const { misclosureM, ratio, sigmas } = closure;
  const part = ratio === null ? '' : `, 1:${Math.round(ratio)} of its length`;
  const judged =
    sigmas > MISTAKE_SIGMAS
      ? `${sigmas.toFixed(1)} σ: more than bearings and tape explain. Look for a wrong leg.`
      : `${sigmas.toFixed(1)} σ: within what bearings and tape let expect.`;
  return `It misses the known end by ${metres(misclosureM)}${part}, ${judged}`;
}

/**
 * A traverse seen from above, north up, as its legs give it, with the gap to the known end.
 * Lengths are true to each other; the figure is as high as the traverse needs, between two bounds.
 */
export function traverseSketch({ lineName, vertices, knownEnd, closure }: TraverseSketch, look: FigureLook): string {
  const points = knownEnd ? [...vertices, knownEnd] : vertices;
  const easts = points.map(({ eastM }) => eastM);
  const norths = points.map(({ northM }) => northM);
  const [west, east] = [Math.min(...easts), Math.max(...easts)];
  const [south, north] = [Math.min(...norths), Math.max(...norths)];
  const { widthPx } = look;
  const roomPx = widthPx - 2 * EDGE_PX;
  const scale = Math.min(
    roomPx / Math.max(east - west, 1e-6),
    (LARGEST_HEIGHT_PX - 2 * EDGE_PX) / Math.max(north - south, 1e-6),
  );
  const heightPx = Math.max(LEAST_HEIGHT_PX, (north - south) * scale + 2 * EDGE_PX);
  const left = (widthPx - (east - west) * scale) / 2;
  const top = (heightPx - (north - south) * scale) / 2;
  const at = ({ eastM, northM }: Pick<SketchVertex, 'eastM' | 'northM'>) => ({
    x: left + (eastM - west) * scale,
    y: top + (north - northM) * scale,
  });
  const path = vertices
    .map((vertex, i) => {
      const { x, y } = at(vertex);
      return `${i === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`;
    })
    .join('');
  const last = vertices[vertices.length - 1];
  const children: SvgNode[] = [];
  if (look.paintPaper) {
    children.push(element('rect', { x: 0, y: 0, width: widthPx, height: heightPx, fill: look.paper }));
  }
  children.push(element('path', { d: path, fill: 'none', stroke: look.ink, 'stroke-width': 1.6 }));
  if (knownEnd && last) {
    const [from, to] = [at(last), at(knownEnd)];
    children.push(
      element('line', {
        x1: from.x,
        y1: from.y,
        x2: to.x,
        y2: to.y,
        stroke: look.accent,
        'stroke-width': 2,
        'stroke-dasharray': '4 3',
      }),
      element('circle', { cx: to.x, cy: to.y, r: 6, fill: 'none', stroke: look.accent, 'stroke-width': 2 }),
    );
  }
  for (const vertex of vertices) {
    const { x, y } = at(vertex);
    // Towards the middle, where there is room.
    const isRight = x > widthPx / 2;
    children.push(
      element('circle', { cx: x, cy: y, r: 3, fill: look.paper, stroke: look.ink, 'stroke-width': 1.4 }),
      label(isRight ? x - 8 : x + 8, y - 8, metres(vertex.chainageM), look, {
        halo: true,
        anchor: isRight ? 'end' : 'start',
      }),
    );
  }
  return figureText({
    widthPx,
    heightPx,
    title: `Traverse of line ${lineName}`,
    summary: `${counted(Math.max(0, vertices.length - 1), 'leg')}, north up. ${closureWords(closure)}`,
    children,
  });
}
