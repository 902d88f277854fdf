import { slopeOf } from './section-elements';
import { factorOf, type MeshReading } from './section-factor';
import type { SectionMesh } from './section-mesh';

export interface Sensitivity {
  /** Σ w ∫ (∇φ·∇ψ + k²φψ) over each cell, φ of the current and ψ of the potential electrodes, reading by reading. */
  readonly sums: Float64Array;
  /** Adds one wavenumber; potentials of the electrodes one after another, in ground of about `meanOhmM`. */
  add(fields: Float64Array, k: number, weight: number, meanOhmM: number): void;
}

/** Numbers to an element. */
const MODES = 4;
/** A part of a cell's sum that is less than this share of what a reading of even ground adds up to is left out. */
const NOTHING = 1e-6;

/** A pair of current or of potential electrodes; null = one alone. */
type Pole = readonly [number, number | null];

interface Reading {
  readonly current: number;
  readonly potential: number;
  readonly sign: number;
  /** |R| in ground of 1 Ω·m. */
  readonly size: number;
}

/**
 * Cell by cell: the potentials of each electrode are turned into numbers whose plain products add up to the integral, so
 * that a reading costs one product of two rows.
 * Over a rectangle of w × t, with the means p of the four corners, their differences u along and d down and the twist c:
 * ∫φψ = wt(p p′ + (u u′ + d d′)/12 + c c′/144), and the integral of the gradients likewise; exact but for k²-terms on
 * sloping ground.
 */
export function createSensitivity(mesh: SectionMesh, readings: readonly MeshReading[]): Sensitivity {
  const { depthM, cellColumns, cellRows, electrodeColumns } = mesh;
  const rows = depthM.length;
  const layers = cellRows.length - 1;
  const cells = (cellColumns.length - 1) * layers;
  const sums = new Float64Array(readings.length * cells);
  const { poles, pairs } = polesOf(mesh, readings);
  const widest = Math.max(...cellColumns.slice(1).map((to, p) => (to - (cellColumns[p] as number)) * (rows - 1)));
  const shapes = new Float64Array(widest * SHAPES);
  const perElectrode = new Float64Array(electrodeColumns.length * widest * MODES);
  const perPole = new Float64Array(poles.length * widest * MODES);
  const sizes = new Float64Array(poles.length);
  const starts = new Int32Array(layers + 1);

  const add: Sensitivity['add'] = (fields, k, weight, meanOhmM) => {
    for (let p = 0; p + 1 < cellColumns.length; p += 1) {
      const [from, to] = [cellColumns[p] as number, cellColumns[p + 1] as number];
      const length = (to - from) * (rows - 1) * MODES;
      for (let q = 0; q <= layers; q += 1) starts[q] = (cellRows[q] as number) * (to - from) * MODES;
      shapesOf(mesh, from, to, k, shapes);
      for (let e = 0; e < electrodeColumns.length; e += 1) {
        modesOf(mesh, from, to, fields, e, shapes, perElectrode, e * length);
      }
      for (let i = 0; i < poles.length; i += 1) {
        sizes[i] = poleModes(perElectrode, poles[i] as Pole, perPole, i * length, length);
      }
      for (let i = 0; i < pairs.length; i += 1) {
        const { current, potential, sign, size } = pairs[i] as Reading;
        const most = Math.abs(weight) * (sizes[current] as number) * (sizes[potential] as number);
        if (most < NOTHING * size * meanOhmM) continue;
        const to = i * cells + p * layers;
        addProducts(perPole, current * length, potential * length, starts, sign * weight, sums, to);
      }
    }
  };
  return { sums, add };
}

function polesOf(mesh: SectionMesh, readings: readonly MeshReading[]) {
  const poles: Pole[] = [];
  const known = new Map<string, number>();
  const poleOf = (p: number | null, q: number | null): { index: number; sign: number } => {
    const [first, second, sign] = p === null ? [q as number, null, -1] : [p, q, 1];
    const key = `${first} ${second}`;
    const index = known.get(key) ?? poles.push([first, second]) - 1;
    known.set(key, index);
    return { index, sign };
  };
  const pairs = readings.map((reading): Reading => {
    const [current, potential] = [poleOf(reading.a, reading.b), poleOf(reading.m, reading.n)];
    return {
      current: current.index,
      potential: potential.index,
      sign: current.sign * potential.sign,
      size: Math.abs(1 / factorOf(mesh, reading)),
    };
  });
  return { poles, pairs };
}

/** Numbers that turn the corners of an element into its modes. */
const SHAPES = 5;

function shapesOf(mesh: SectionMesh, from: number, to: number, k: number, shapes: Float64Array): void {
  const { xM, depthM } = mesh;
  let at = 0;
  for (let r = 0; r + 1 < depthM.length; r += 1) {
    const t = (depthM[r + 1] as number) - (depthM[r] as number);
    for (let c = from; c < to; c += 1) {
      const w = (xM[c + 1] as number) - (xM[c] as number);
      const slope = slopeOf(mesh, c);
      const area = Math.sqrt(w * t);
      const kk = (k * k) / 12;
      shapes[at] = (area / 2) * Math.sqrt(1 / (w * w) + kk);
      shapes[at + 1] = (area / 2) * (slope / t);
      shapes[at + 2] = (area / 2) * Math.sqrt(1 / (t * t) + kk);
      shapes[at + 3] = (area * k) / 4;
      shapes[at + 4] = area * Math.sqrt((1 / (w * w) + (1 + slope * slope) / (t * t) + kk) / 12);
      at += SHAPES;
    }
  }
}

function modesOf(
  { xM, depthM }: SectionMesh,
  from: number,
  to: number,
  fields: Float64Array,
  electrode: number,
  shapes: Float64Array,
  modes: Float64Array,
  start: number,
): void {
  const rows = depthM.length;
  const field = electrode * xM.length * rows;
  let at = start;
  let shape = 0;
  for (let r = 0; r + 1 < rows; r += 1) {
    for (let c = from; c < to; c += 1) {
      const i = field + c * rows + r;
      const ul = fields[i] as number;
      const ll = fields[i + 1] as number;
      const ur = fields[i + rows] as number;
      const lr = fields[i + rows + 1] as number;
      const along = ur + lr - ul - ll;
      const down = ll + lr - ul - ur;
      modes[at] = (shapes[shape] as number) * along + (shapes[shape + 1] as number) * down;
      modes[at + 1] = (shapes[shape + 2] as number) * down;
      modes[at + 2] = (shapes[shape + 3] as number) * (ul + ll + ur + lr);
      modes[at + 3] = (shapes[shape + 4] as number) * (ul + lr - ll - ur);
      at += MODES;
      shape += SHAPES;
    }
  }
}

/** Modes of a pair from those of its electrodes; returns their length. */
function poleModes(perElectrode: Float64Array, [p, q]: Pole, into: Float64Array, start: number, length: number) {
  const first = p * length;
  const second = q === null ? -1 : q * length;
  let square = 0;
  for (let s = 0; s < length; s += 1) {
    const value = (perElectrode[first + s] as number) - (second < 0 ? 0 : (perElectrode[second + s] as number));
    into[start + s] = value;
    square += value * value;
  }
  return Math.sqrt(square);
}

function addProducts(
  modes: Float64Array,
  x: number,
  y: number,
  starts: Int32Array,
  weight: number,
  sums: Float64Array,
  to: number,
): void {
  for (let q = 0; q + 1 < starts.length; q += 1) {
    let even = 0;
    let odd = 0;
    const end = starts[q + 1] as number;
    for (let s = starts[q] as number; s < end; s += 2) {
      even += (modes[x + s] as number) * (modes[y + s] as number);
      odd += (modes[x + s + 1] as number) * (modes[y + s + 1] as number);
    }
    sums[to + q] = (sums[to + q] as number) + weight * (even + odd);
  }
}
