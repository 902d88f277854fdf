import type { LineData, Node, Supposition } from './line-data';

type Point = readonly [x: number, y: number];

/**
 * Where a fit begins: each corner on the straights that go through the fixes beside it. Null when nothing is known of
 * where the line is.
 */
export function startingCorners(
  data: LineData,
  { gross }: Supposition,
  runs: readonly (readonly [first: number, last: number])[],
): readonly Point[] | null {
  const known = knownPlaces(data, gross);
  if (known.filter(Boolean).length < 2) return null;
  const sums = Array.from({ length: runs.length + 1 }, () => [0, 0, 0]);
  const give = (corner: number, [x, y]: Point): void => {
    const sum = sums[corner] as number[];
    sum[0] = (sum[0] as number) + x;
    sum[1] = (sum[1] as number) + y;
    sum[2] = (sum[2] as number) + 1;
  };
  runs.forEach(([first, last], r) => {
    const straight = straightThrough(data.nodes, known, first, last);
    if (!straight) return;
    give(r, straight(first));
    give(r + 1, straight(last));
  });
  const cornerNodes = [...runs.map(([first]) => first), data.nodes.length - 1];
  return cornerNodes.map((node, corner): Point => {
    const [x, y, count] = sums[corner] as [number, number, number];
    return count > 0 ? [x / count, y / count] : beside(data.nodes, known, node);
  });
}

/** Nodes whose place a fix tells, or legs that start at such a node. */
function knownPlaces({ nodes, fixes, legs }: LineData, gross: ReadonlyMap<number, number>): (Point | null)[] {
  const sums = nodes.map(() => [0, 0, 0]);
  fixes.forEach(({ node, x, y, own, sharedSigmaM }, i) => {
    const sum = sums[node] as [number, number, number];
    const weight = 1 / (own.xx + own.yy + sharedSigmaM ** 2 + (gross.get(i) ?? 0) ** 2);
    sum[0] += weight * x;
    sum[1] += weight * y;
    sum[2] += weight;
  });
  const known = sums.map(([x, y, weight]): Point | null =>
    weight ? [(x as number) / weight, (y as number) / weight] : null,
  );
  for (const { from, to, dx, dy } of legs) {
    const at = known[from];
    if (at && !known[to]) known[to] = [at[0] + dx, at[1] + dy];
  }
  for (const { from, to, dx, dy } of [...legs].reverse()) {
    const at = known[to];
    if (at && !known[from]) known[from] = [at[0] - dx, at[1] - dy];
  }
  return known;
}

/** The regression of place on chainage over the nodes of a run; null with fewer than two known. */
function straightThrough(
  nodes: readonly Node[],
  known: readonly (Point | null)[],
  first: number,
  last: number,
): ((node: number) => Point) | null {
  let count = 0;
  let [meanH, meanX, meanY] = [0, 0, 0];
  for (let k = first; k <= last; k += 1) {
    const at = known[k];
    if (!at) continue;
    count += 1;
    meanH += (nodes[k] as Node).horizontalM;
    meanX += at[0];
    meanY += at[1];
  }
  if (count < 2) return null;
  meanH /= count;
  meanX /= count;
  meanY /= count;
  let [hh, hx, hy] = [0, 0, 0];
  for (let k = first; k <= last; k += 1) {
    const at = known[k];
    if (!at) continue;
    const h = (nodes[k] as Node).horizontalM - meanH;
    hh += h * h;
    hx += h * (at[0] - meanX);
    hy += h * (at[1] - meanY);
  }
  return (node) => {
    const h = (nodes[node] as Node).horizontalM - meanH;
    return [meanX + (h * hx) / hh, meanY + (h * hy) / hh];
  };
}

/** Between (or beyond) the two nearest known nodes. */
function beside(nodes: readonly Node[], known: readonly (Point | null)[], node: number): Point {
  const at = known[node];
  if (at) return at;
  const { horizontalM } = nodes[node] as Node;
  const apart = (k: number): number => Math.abs((nodes[k] as Node).horizontalM - horizontalM);
  const near = nodes.map((_, k) => k).filter((k) => known[k]);
  near.sort((p, q) => apart(p) - apart(q));
  const [p, q] = near as [number, number];
  const from = known[p] as Point;
  const to = known[q] as Point;
  const t =
    (horizontalM - (nodes[p] as Node).horizontalM) / ((nodes[q] as Node).horizontalM - (nodes[p] as Node).horizontalM);
  return [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])];
}
