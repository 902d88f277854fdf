import type { LeftOver } from './left-over';
import { leftOverOf } from './left-over';
import type { LineData, Node, Supposition } from './line-data';
import { LineEquations } from './line-equations';
import { Skyline } from './skyline';
import { startingCorners } from './starting-corners';
import { layOut } from './unknowns-of-line';

const MOST_ITERATIONS = 30;
/** A supposition that takes longer than this to settle is a poor one. */
const MOST_ROUGH_ITERATIONS = 8;

/** A line that was fitted under a supposition. */
export class Fit {
  private found: readonly LeftOver[] | null = null;

  constructor(
    readonly supposition: Supposition,
    /** The straights between corners, by their nodes. */
    readonly runs: readonly (readonly [first: number, last: number])[],
    /** Weighted squares left over, those of the prior knowledge included. */
    readonly squares: number,
    readonly stretch: number,
    private readonly equations: LineEquations,
    private readonly factor: Skyline,
  ) {}

  get x(): readonly number[] {
    return this.equations.x;
  }

  get y(): readonly number[] {
    return this.equations.y;
  }

  get stretchVariance(): number {
    return this.equations.scaleSigma ** 2 * this.factor.lastVariance;
  }

  /** Leave-one-out residual of every fix, also of those taken for gross errors. */
  leftOver(): readonly LeftOver[] {
    this.found ??= this.equations.whiten.map((_, i) => this.leftOverAt(i));
    return this.found;
  }

  /** Covariance of two nodes together: x and y of the first, x and y of the second; rows of a 4×4 matrix. */
  covarianceOf(first: number, second: number): readonly (readonly number[])[] {
    const columns = [
      this.columnOf(first, 0),
      this.columnOf(first, 1),
      this.columnOf(second, 0),
      this.columnOf(second, 1),
    ];
    return columns.map((p) => columns.map((q) => dot(p, q)));
  }

  private columnOf(node: number, axis: 0 | 1): Float64Array {
    this.equations.row.clear();
    this.equations.addPlace(node, 1 - axis, axis);
    return this.solved();
  }

  /** The row that stands in the equations, through the factor. */
  private solved(): Float64Array {
    const { row } = this.equations;
    const column = row.dense(this.factor.size);
    this.factor.forward(column, row.least);
    return column;
  }

  private leftOverAt(i: number): LeftOver {
    const { equations } = this;
    const p = equations.fixRow(i, 0);
    const first = this.solved();
    const q = equations.fixRow(i, 1);
    const second = this.solved();
    const white = { xx: 1 - dot(first, first), xy: -dot(first, second), yy: 1 - dot(second, second) };
    const grossM = this.supposition.gross.get(i) ?? 0;
    return leftOverOf(white, [p, q], equations.whiten[i] as readonly [number, number, number], grossM);
  }
}

/**
 * Weighted least squares of fixes, tape and legs under a supposition about corners and gross errors (Gauss–Newton).
 * Unknowns: the corners' coordinates, distances along the straights between them, one bias per group of fixes, the
 * turn of the compass, the stretch of the tape. Null when the supposition leaves something undetermined.
 * `convergedM`: a last step under this is the end. `from`: a fit with the same corners to begin with.
 */
export function fitLine(data: LineData, supposition: Supposition, convergedM = 1e-7, from?: Fit): Fit | null {
  const layout = layOut(data, supposition);
  const { runs, cornerAt, alongAt, scaleAt, size } = layout;
  const start = from ? cornersOf(from) : startingCorners(data, supposition, runs);
  if (!start) return null;
  const equations = new LineEquations(data, layout, supposition);
  const { unknowns, row } = equations;
  runs.forEach(([first, last], r) => {
    unknowns.set(start[r] as readonly number[], cornerAt[r] as number);
    for (let k = first + 1; k < last; k += 1) {
      unknowns[alongAt[k] as number] = from ? apart(from, first, k) : span(data.nodes, first, k);
    }
  });
  unknowns.set(start[runs.length] as readonly number[], cornerAt[runs.length] as number);

  const matrix = new Skyline(layout.firstColumns);
  const right = new Float64Array(size);
  const mostIterations = convergedM < 1e-6 ? MOST_ITERATIONS : MOST_ROUGH_ITERATIONS;
  let squares = 0;
  for (let iteration = 0; ; iteration += 1) {
    if (!equations.place()) return null;
    matrix.clear();
    right.fill(0);
    squares = 0;
    equations.each((off) => {
      squares += off * off;
      row.addTo(matrix, right, off);
    });
    if (!matrix.factor()) return null;
    matrix.forward(right);
    // What this step takes off, to the order to which the step is right.
    squares -= dot(right, right);
    matrix.backward(right);
    let step = 0;
    for (let i = 0; i < size; i += 1) {
      unknowns[i] = (unknowns[i] as number) + (right[i] as number);
      step = Math.max(step, Math.abs(right[i] as number));
    }
    if (!Number.isFinite(step)) return null;
    if (step < convergedM || iteration >= mostIterations) break;
  }
  if (!equations.place()) return null;
  const stretch = equations.scaleSigma * (unknowns[scaleAt] as number);
  return new Fit(supposition, runs, squares, stretch, equations, matrix);
}

const cornersOf = ({ runs, x, y }: Fit): readonly (readonly number[])[] =>
  [...runs.map(([first]) => first), x.length - 1].map((node) => [x[node] as number, y[node] as number]);

const apart = ({ x, y }: Fit, p: number, q: number): number =>
  Math.hypot((x[q] as number) - (x[p] as number), (y[q] as number) - (y[p] as number));

const span = (nodes: readonly Node[], from: number, to: number): number =>
  (nodes[to] as Node).horizontalM - (nodes[from] as Node).horizontalM;

const dot = (p: Float64Array, q: Float64Array): number => {
  let total = 0;
  for (let i = 0; i < p.length; i += 1) total += (p[i] as number) * (q[i] as number);
  return total;
};
