import { whitening } from './left-over';
import type { LegVector, LineData, Node, PlaneFix, Supposition } from './line-data';
import { SparseRow } from './sparse-row';
import type { Layout } from './unknowns-of-line';

/** Without the tape's word a stretch may be anything. */
const FREE_SCALE_SIGMA = 1e3;

/**
 * What is observed of a line against what its unknowns make of it, each made white (of variance 1), with the
 * derivatives by the unknowns in `row`.
 */
export class LineEquations {
  readonly x: number[] = [];
  readonly y: number[] = [];
  readonly row = new SparseRow();
  readonly unknowns: Float64Array;
  readonly scaleSigma: number;
  /** Of every fix, the lower triangle that makes it white. */
  readonly whiten: readonly (readonly [number, number, number])[];
  private readonly along: number[] = [];
  private readonly ux: number[] = [];
  private readonly uy: number[] = [];
  private readonly lengths: number[] = [];
  private readonly legOf: readonly number[];

  constructor(
    private readonly data: LineData,
    private readonly layout: Layout,
    { gross, freeScale }: Supposition,
  ) {
    this.unknowns = new Float64Array(layout.size);
    this.scaleSigma = freeScale ? FREE_SCALE_SIGMA : data.scaleSigma;
    this.whiten = data.fixes.map(({ own: { xx, xy, yy } }, i) => {
      const off = (gross.get(i) ?? 0) ** 2;
      return whitening({ xx: xx + off, xy, yy: yy + off });
    });
    this.legOf = legCovering(data.legs, data.nodes.length - 1);
  }

  /** Places of the nodes from the unknowns; false when a straight has shrunk to nothing. */
  place(): boolean {
    const { unknowns, x, y, along, ux, uy, lengths } = this;
    const { runs, cornerAt, alongAt } = this.layout;
    for (let r = 0; r < runs.length; r += 1) {
      const [first, last] = runs[r] as readonly [number, number];
      const p = cornerAt[r] as number;
      const q = cornerAt[r + 1] as number;
      const dx = (unknowns[q] as number) - (unknowns[p] as number);
      const dy = (unknowns[q + 1] as number) - (unknowns[p + 1] as number);
      const length = Math.hypot(dx, dy);
      if (!(length > 1e-4)) return false;
      ux[r] = dx / length;
      uy[r] = dy / length;
      lengths[r] = length;
      for (let k = first; k <= last; k += 1) {
        const d = k === first ? 0 : k === last ? length : (unknowns[alongAt[k] as number] as number);
        if (k < last) along[k] = d;
        x[k] = (unknowns[p] as number) + d * (dx / length);
        y[k] = (unknowns[p + 1] as number) + d * (dy / length);
      }
    }
    return true;
  }

  /** Adds the derivatives of a node's place, weighted by (wx, wy). */
  addPlace(k: number, wx: number, wy: number): void {
    const { row } = this;
    const { runOf, runs, cornerAt, alongAt } = this.layout;
    const r = runOf[k] as number;
    const [first, last] = runs[r] as readonly [number, number];
    const p = cornerAt[r] as number;
    const q = cornerAt[r + 1] as number;
    if (k === first || k === last) {
      row.add(k === first ? p : q, wx);
      row.add((k === first ? p : q) + 1, wy);
      return;
    }
    const u = this.ux[r] as number;
    const v = this.uy[r] as number;
    const share = (this.along[k] as number) / (this.lengths[r] as number);
    // The end of the straight moves the node sideways in proportion; its start moves it along in full.
    const sideways = share * (u * wy - v * wx);
    row.add(p, wx + v * sideways);
    row.add(p + 1, wy - u * sideways);
    row.add(q, -v * sideways);
    row.add(q + 1, u * sideways);
    row.add(alongAt[k] as number, u * wx + v * wy);
  }

  /** One of the two rows of a fix: what is observed minus what is computed. */
  fixRow(i: number, axis: 0 | 1): number {
    const { row, unknowns } = this;
    const fix = this.data.fixes[i] as PlaneFix;
    const [a, b, c] = this.whiten[i] as readonly [number, number, number];
    const wx = axis === 0 ? a : b;
    const wy = axis === 0 ? 0 : c;
    const bias = this.layout.biasAt + 2 * fix.group;
    row.clear();
    this.addPlace(fix.node, wx, wy);
    const offX = fix.x - (this.x[fix.node] as number);
    const offY = fix.y - (this.y[fix.node] as number);
    if (!(fix.sharedSigmaM > 0)) return wx * offX + wy * offY;
    row.add(bias, wx * fix.sharedSigmaM);
    row.add(bias + 1, wy * fix.sharedSigmaM);
    const biasX = fix.sharedSigmaM * (unknowns[bias] as number);
    const biasY = fix.sharedSigmaM * (unknowns[bias + 1] as number);
    return wx * (offX - biasX) + wy * (offY - biasY);
  }

  /** Calls back with what every observation is off; `row` holds its derivatives. */
  each(use: (off: number) => void): void {
    const { fixes, nodes, legs } = this.data;
    for (let i = 0; i < fixes.length; i += 1) {
      use(this.fixRow(i, 0));
      use(this.fixRow(i, 1));
    }
    for (let k = 0; k + 1 < nodes.length; k += 1) {
      const leg = legs[this.legOf[k] as number];
      if (!leg || leg.to - leg.from > 1) use(this.tapeRow(k));
    }
    for (const leg of legs) {
      const weight = 1 / Math.sqrt(leg.variance);
      if (leg.to - leg.from === 1) {
        use(this.legRow(leg, weight, 0));
        use(this.legRow(leg, 0, weight));
        continue;
      }
      // Where fixes stand within a leg its length is in the tape already, and only its bearing is left.
      const length = Math.hypot(leg.dx, leg.dy);
      use(this.legRow(leg, (-weight * leg.dy) / length, (weight * leg.dx) / length));
    }
    for (let i = this.layout.biasAt; i < this.layout.size; i += 1) {
      this.row.clear();
      this.row.add(i, 1);
      use(-(this.unknowns[i] as number));
    }
  }

  /** The tape from one node to the next. */
  private tapeRow(k: number): number {
    const { row, unknowns, scaleSigma } = this;
    const { runOf, runs, scaleAt } = this.layout;
    const { nodes, tapeVariances } = this.data;
    const r = runOf[k] as number;
    const weight = 1 / Math.sqrt(tapeVariances[k] as number);
    const taped = (nodes[k + 1] as Node).horizontalM - (nodes[k] as Node).horizontalM;
    const [, last] = runs[r] as readonly [number, number];
    const to = k + 1 === last ? (this.lengths[r] as number) : (this.along[k + 1] as number);
    row.clear();
    this.addAlong(k, r, -weight);
    this.addAlong(k + 1, r, weight);
    row.add(scaleAt, -weight * taped * scaleSigma);
    return weight * (taped * (1 + scaleSigma * (unknowns[scaleAt] as number)) - (to - (this.along[k] as number)));
  }

  /** A leg in the direction (wx, wy). */
  private legRow(leg: LegVector, wx: number, wy: number): number {
    const { row, x, y, unknowns } = this;
    const { turnAt } = this.layout;
    const { turnSigma } = this.data;
    const turn = turnSigma * (unknowns[turnAt] as number);
    const offX = leg.dx + turn * leg.dy - ((x[leg.to] as number) - (x[leg.from] as number));
    const offY = leg.dy - turn * leg.dx - ((y[leg.to] as number) - (y[leg.from] as number));
    row.clear();
    this.addPlace(leg.to, wx, wy);
    this.addPlace(leg.from, -wx, -wy);
    row.add(turnAt, -(wx * leg.dy - wy * leg.dx) * turnSigma);
    return wx * offX + wy * offY;
  }

  /** Adds the derivatives of a node's distance along its straight. */
  private addAlong(k: number, r: number, weight: number): void {
    const { row } = this;
    const { runs, cornerAt, alongAt } = this.layout;
    const [first, last] = runs[r] as readonly [number, number];
    if (k === first) return;
    if (k < last) {
      row.add(alongAt[k] as number, weight);
      return;
    }
    const u = weight * (this.ux[r] as number);
    const v = weight * (this.uy[r] as number);
    row.add(cornerAt[r] as number, -u);
    row.add((cornerAt[r] as number) + 1, -v);
    row.add(cornerAt[r + 1] as number, u);
    row.add((cornerAt[r + 1] as number) + 1, v);
  }
}

/** Of each interval between nodes, the leg that covers it, or -1. */
function legCovering(legs: readonly LegVector[], intervals: number): readonly number[] {
  const covering = new Array<number>(intervals).fill(-1);
  legs.forEach(({ from, to }, i) => {
    for (let k = from; k < to; k += 1) covering[k] = i;
  });
  return covering;
}
