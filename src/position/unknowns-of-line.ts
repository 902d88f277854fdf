import type { LineData, Supposition } from './line-data';

/** Where the unknowns of a line's fit stand. */
export interface Layout {
  readonly runs: readonly (readonly [first: number, last: number])[];
  /** Of each node, the run that it begins or stands in. */
  readonly runOf: readonly number[];
  /** Where the two coordinates of each corner stand among the unknowns. */
  readonly cornerAt: readonly number[];
  /** Where the distance along its run stands, for nodes that are no corner. */
  readonly alongAt: readonly number[];
  readonly biasAt: number;
  readonly turnAt: number;
  readonly scaleAt: number;
  readonly size: number;
  readonly firstColumns: readonly number[];
}

/** The unknowns in an order that keeps the rows of the normal matrix short: those of a run before its start. */
export function layOut({ nodes, groupCount }: LineData, { corners }: Supposition): Layout {
  const cornerNodes = [0, ...[...corners].sort((p, q) => p - q), nodes.length - 1];
  const runs = cornerNodes.slice(1).map((last, r) => [cornerNodes[r] as number, last] as const);
  const runOf: number[] = [];
  const cornerAt: number[] = [];
  const alongAt: number[] = [];
  const firstColumns: number[] = [];
  let before = 0;
  runs.forEach(([first, last], r) => {
    const start = firstColumns.length;
    runOf[first] = r;
    for (let k = first + 1; k < last; k += 1) {
      runOf[k] = r;
      alongAt[k] = firstColumns.length;
      firstColumns.push(Math.max(start, firstColumns.length - 1));
    }
    if (r === 0) before = start;
    cornerAt[r] = firstColumns.length;
    firstColumns.push(before, before);
    before = start;
  });
  runOf[nodes.length - 1] = runs.length - 1;
  cornerAt[runs.length] = firstColumns.length;
  firstColumns.push(before, before);
  const biasAt = firstColumns.length;
  const turnAt = biasAt + 2 * groupCount;
  for (let i = biasAt; i <= turnAt + 1; i += 1) firstColumns.push(0);
  return {
    runs,
    runOf,
    cornerAt,
    alongAt,
    biasAt,
    turnAt,
    scaleAt: turnAt + 1,
    size: turnAt + 2,
    firstColumns,
  };
}
