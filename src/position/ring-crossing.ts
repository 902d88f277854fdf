type Corner = readonly [x: number, y: number];

interface Edge {
  readonly index: number;
  readonly from: Corner;
  readonly to: Corner;
  readonly west: number;
  readonly east: number;
}

/**
 * Where a closed ring of a plane crosses or touches itself elsewhere than where its edges follow each other; null where it
 * does not. `ring` has its first corner once. Edges are compared with those that overlap them in x only.
 */
export function ringCrossing(ring: readonly Corner[]): Corner | null {
  const count = ring.length;
  const edges = ring
    .map((from, index): Edge => {
      const to = ring[(index + 1) % count] as Corner;
      return { index, from, to, west: Math.min(from[0], to[0]), east: Math.max(from[0], to[0]) };
    })
    .filter(({ from, to }) => from[0] !== to[0] || from[1] !== to[1])
    .sort((p, q) => p.west - q.west);
  let open: Edge[] = [];
  for (const edge of edges) {
    open = open.filter(({ east }) => east >= edge.west);
    for (const other of open) {
      const apart = Math.abs(edge.index - other.index);
      const follows = apart === 1 || apart === count - 1;
      if (follows ? foldsBack(edge, other) : meet(edge, other)) return edge.from;
    }
    open.push(edge);
  }
  return null;
}

/** Twice the area of a triangle: positive where c is left of the way from a to b. */
const turn = ([ax, ay]: Corner, [bx, by]: Corner, [cx, cy]: Corner): number =>
  (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);

const within = ({ from, to }: Edge, [x, y]: Corner): boolean =>
  x >= Math.min(from[0], to[0]) &&
  x <= Math.max(from[0], to[0]) &&
  y >= Math.min(from[1], to[1]) &&
  y <= Math.max(from[1], to[1]);

function meet(p: Edge, q: Edge): boolean {
  const [a, b] = [turn(p.from, p.to, q.from), turn(p.from, p.to, q.to)];
  const [c, d] = [turn(q.from, q.to, p.from), turn(q.from, q.to, p.to)];
  if (a * b < 0 && c * d < 0) return true;
  return (
    (a === 0 && within(p, q.from)) ||
    (b === 0 && within(p, q.to)) ||
    (c === 0 && within(q, p.from)) ||
    (d === 0 && within(q, p.to))
  );
}

/** Whether one of two edges that share a corner runs back along the other. */
function foldsBack(p: Edge, q: Edge): boolean {
  const [first, second] = p.to === q.from ? [p, q] : [q, p];
  if (turn(first.from, first.to, second.to) !== 0) return false;
  const [ax, ay] = [first.to[0] - first.from[0], first.to[1] - first.from[1]];
  const [bx, by] = [second.to[0] - second.from[0], second.to[1] - second.from[1]];
  return ax * bx + ay * by < 0;
}
