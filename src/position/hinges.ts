import type { Fit } from './fit-line';
import type { LineData, Node } from './line-data';

/** A bend that would explain what fixes are off to the side. */
export interface Hinge {
  readonly node: number;
  /** By how much it would lower the weighted squares. */
  readonly gain: number;
}

/** For every straight, the node at which a bend would explain most of what its fixes are off to the side. */
export function hingesOf({ nodes, fixes }: LineData, fit: Fit): readonly Hinge[] {
  return fit.runs.flatMap(([first, last]) => {
    if (last - first < 2) return [];
    const dx = (fit.x[last] as number) - (fit.x[first] as number);
    const dy = (fit.y[last] as number) - (fit.y[first] as number);
    const length = Math.hypot(dx, dy);
    const beside: Beside[] = [];
    fixes.forEach(({ node, x, y, own }, i) => {
      if (node < first || node > last || fit.supposition.gross.has(i)) return;
      const [rx, ry] = [x - (fit.x[first] as number), y - (fit.y[first] as number)];
      const [nx, ny] = [-dy / length, dx / length];
      beside.push({
        node,
        along: (nodes[node] as Node).horizontalM - (nodes[first] as Node).horizontalM,
        aside: rx * nx + ry * ny,
        weight: 1 / (own.xx * nx * nx + 2 * own.xy * nx * ny + own.yy * ny * ny),
      });
    });
    beside.sort((p, q) => p.node - q.node);
    const best = bestHinge(beside, first, last);
    return best ? [best] : [];
  });
}

interface Beside {
  readonly node: number;
  readonly along: number;
  readonly aside: number;
  readonly weight: number;
}

/** By weighted regression of the sideways offsets on a straight, with and without a bend at each node in turn. */
function bestHinge(beside: readonly Beside[], first: number, last: number): Hinge | null {
  let [w, wa, waa, ws, was] = [0, 0, 0, 0, 0];
  for (const { along, aside, weight } of beside) {
    w += weight;
    wa += weight * along;
    waa += weight * along * along;
    ws += weight * aside;
    was += weight * along * aside;
  }
  const determinant = w * waa - wa * wa;
  if (!(determinant > 1e-9 * w * waa)) return null;
  const solve = (p: number, q: number): readonly [number, number] => [
    (waa * p - wa * q) / determinant,
    (w * q - wa * p) / determinant,
  ];
  const [offset, slope] = solve(ws, was);
  let best: Hinge | null = null;
  // Sums over the fixes beyond the bend, which grow as it walks back.
  let [bw, ba, baa, bs, bas] = [0, 0, 0, 0, 0];
  for (let i = beside.length - 1; i >= 0; i -= 1) {
    const { along, aside, weight, node } = beside[i] as Beside;
    const off = aside - offset - slope * along;
    bw += weight;
    ba += weight * along;
    baa += weight * along * along;
    bs += weight * off;
    bas += weight * along * off;
    if (node === first || node === last || beside[i - 1]?.node === node) continue;
    const h = ba - along * bw;
    const ha = baa - along * ba;
    const hh = baa - 2 * along * ba + along * along * bw;
    const hs = bas - along * bs;
    const [c0, c1] = solve(h, ha);
    const left = hh - c0 * h - c1 * ha;
    if (!(left > 1e-9 * hh)) continue;
    const gain = (hs * hs) / left;
    if (gain > (best?.gain ?? 0)) best = { node, gain };
  }
  return best;
}
