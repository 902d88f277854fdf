/** A rectangle of the plan that contours are drawn over, metres. */
export interface Extent {
  readonly westM: number;
  readonly southM: number;
  readonly eastM: number;
  readonly northM: number;
}

type Point = readonly [eastM: number, northM: number];

/**
 * The contour of one height by marching squares: crossings of the grid's edges by linear interpolation, joined cell by
 * cell into open or closed chains. A saddle is split by the height of its middle.
 */
export function contoursAt(
  heightM: (eastM: number, northM: number) => number,
  levelM: number,
  extent: Extent,
  stepM: number,
): readonly (readonly Point[])[] {
  const columns = Math.round((extent.eastM - extent.westM) / stepM);
  const rows = Math.round((extent.northM - extent.southM) / stepM);
  const corner = (i: number, j: number): Point => [extent.westM + i * stepM, extent.southM + j * stepM];
  // Just off the level, so that no corner of the grid lies on it.
  const above = (i: number, j: number): number => heightM(...corner(i, j)) - levelM - 1e-9;

  const points = new Map<string, Point>();
  const neighbours = new Map<string, string[]>();
  const link = (p: string, q: string): void => {
    neighbours.set(p, [...(neighbours.get(p) ?? []), q]);
    neighbours.set(q, [...(neighbours.get(q) ?? []), p]);
  };
  for (let j = 0; j < rows; j += 1) {
    for (let i = 0; i < columns; i += 1) {
      const around = [
        [i, j],
        [i + 1, j],
        [i + 1, j + 1],
        [i, j + 1],
      ] as const;
      const crossed: string[] = [];
      for (const [side, p] of around.entries()) {
        const q = around[(side + 1) % 4] as (typeof around)[number];
        const [hp, hq] = [above(...p), above(...q)];
        if (hp > 0 === hq > 0) continue;
        // Named and computed from the same end in both cells that share the edge.
        const key =
          side === 0 || side === 3 ? `${side % 2}:${i}:${j}` : side === 1 ? `1:${i + 1}:${j}` : `0:${i}:${j + 1}`;
        const [from, to] = [corner(...p), corner(...q)];
        const t = hp / (hp - hq);
        if (!points.has(key)) points.set(key, [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])]);
        crossed.push(key);
      }
      const [first, second, third, fourth] = crossed;
      if (first && second && third && fourth) {
        const middle = heightM(extent.westM + (i + 0.5) * stepM, extent.southM + (j + 0.5) * stepM) > levelM;
        const around01 = above(i, j) > 0 === middle;
        link(first, around01 ? second : fourth);
        link(third, around01 ? fourth : second);
      } else if (first && second) link(first, second);
    }
  }

  const chains: Point[][] = [];
  const left = new Set(points.keys());
  const follow = (start: string): void => {
    const chain = [points.get(start) as Point];
    left.delete(start);
    for (let at = start; ; ) {
      const next = neighbours.get(at)?.find((key) => left.has(key));
      if (next === undefined) {
        if (chain.length > 2 && neighbours.get(at)?.includes(start)) chain.push(chain[0] as Point);
        break;
      }
      chain.push(points.get(next) as Point);
      left.delete(next);
      at = next;
    }
    if (chain.length > 1) chains.push(chain);
  };
  // Open chains from an end at the rim first; what is left is closed.
  for (const key of points.keys()) if (left.has(key) && neighbours.get(key)?.length === 1) follow(key);
  for (const key of points.keys()) if (left.has(key)) follow(key);
  return chains;
}
