import { factoriseBand, SIDE_BY_SIDE, solveBand } from './band-cholesky';
import { assemble, emptyStencil, rowOff, type Stencil, toBand } from './section-elements';
import { factorOf, type MeshReading } from './section-factor';
import type { SectionMesh } from './section-mesh';
import { NOTHING_BEYOND, primaryAt, surfaceFlux, wedgeAngle } from './section-primary';
import { createSensitivity, type Sensitivity } from './section-sensitivity';
import type { Wavenumbers } from './section-wavenumbers';

/** A plain name of this file: in a hot loop an imported one may be looked up each time. */
const SIDE = SIDE_BY_SIDE;

export interface SectionAnswer {
  /** R·K in Ω·m, K from the straight distances of the electrodes. */
  readonly apparentOhmM: Float64Array;
  /** ∂ln|R|/∂ln ρ of the cells, reading by reading; null when not asked for. */
  readonly jacobian: Float64Array | null;
}

export interface SectionForward {
  readonly cells: number;
  /** Conductivities in S/m of the elements, down the columns. */
  elementsOf(cellOhmM: Float64Array): Float64Array;
  answer(conductivity: Float64Array, withJacobian: boolean, tick?: (fraction: number) => void): SectionAnswer;
}

/**
 * What electrodes along a line read over ground that is endless and alike to either side: 2.5-D finite elements
 * (Dey & Morrison 1979, Geophysics 44:753) with the singularity taken out, so that uniform ground is exact, flat or
 * tilted. Sensitivities from the potentials of both pairs of electrodes (reciprocity).
 */
export function sectionForward(
  mesh: SectionMesh,
  readings: readonly MeshReading[],
  { perM, weights }: Wavenumbers,
): SectionForward {
  const { xM, heightM, depthM, electrodeColumns, cellColumns, cellRows } = mesh;
  const rows = depthM.length;
  const nodes = xM.length * rows;
  const halfBand = rows + 1;
  const electrodes = electrodeColumns.length;
  const bent = heightM.some((height) => Math.abs(height) > 1e-9);
  const layers = cellRows.length - 1;
  const cells = (cellColumns.length - 1) * layers;
  const angles = Float64Array.from(electrodeColumns, (column) => wedgeAngle(mesh, column));
  const factors = readings.map((reading) => factorOf(mesh, reading));

  const elementsOf = (cellOhmM: Float64Array): Float64Array => {
    const conductivity = new Float64Array((xM.length - 1) * (rows - 1));
    for (let p = 0; p + 1 < cellColumns.length; p += 1) {
      for (let c = cellColumns[p] as number; c < (cellColumns[p + 1] as number); c += 1) {
        for (let q = 0; q < layers; q += 1) {
          const sigma = 1 / (cellOhmM[p * layers + q] as number);
          conductivity.fill(
            sigma,
            c * (rows - 1) + (cellRows[q] as number),
            c * (rows - 1) + (cellRows[q + 1] as number),
          );
        }
      }
    }
    return conductivity;
  };

  const matrix = emptyStencil(nodes);
  const unit = emptyStencil(nodes);
  const difference = emptyStencil(nodes);
  const band = new Float64Array(nodes * (halfBand + 1));
  const primary = new Float64Array(nodes);
  const flux = new Float64Array(xM.length);
  const block = new Float64Array(nodes * SIDE);

  const answer: SectionForward['answer'] = (conductivity, withJacobian, tick = () => {}) => {
    const grounds = Float64Array.from(electrodeColumns, (column) => {
      const [left, right] = [conductivity[(column - 1) * (rows - 1)], conductivity[column * (rows - 1)]];
      return ((left as number) + (right as number)) / 2;
    });
    const meanOhmM = grounds.length / grounds.reduce((sum, sigma) => sum + sigma, 0);
    const transfer = new Float64Array(electrodes * electrodes);
    const fields = withJacobian ? new Float64Array(electrodes * nodes) : null;
    const sensitivity: Sensitivity | null = withJacobian ? createSensitivity(mesh, readings) : null;
    for (const [j, k] of perM.entries()) {
      assemble(mesh, conductivity, k, matrix);
      assemble(mesh, null, k, unit);
      toBand(matrix, rows, band);
      if (!factoriseBand(band, nodes, halfBand)) throw new Error('the matrix of a section is positive definite');
      for (let first = 0; first < electrodes; first += SIDE) {
        const last = Math.min(electrodes, first + SIDE);
        block.fill(0);
        for (let e = first; e < last; e += 1) {
          const column = electrodeColumns[e] as number;
          const sigma = grounds[e] as number;
          const scale = 1 / (2 * (angles[e] as number) * sigma);
          const reach = columnsWithin(xM, column, NOTHING_BEYOND / k);
          primaryAt(mesh, column, k, reach, primary);
          minus(matrix, unit, sigma, difference, reach, rows);
          subtractProduct(difference, rows, primary, scale, block, e - first, reach);
          if (fields) {
            const field = fields.subarray(e * nodes, (e + 1) * nodes).fill(0);
            for (let i = reach[0] * rows; i < reach[1] * rows; i += 1) field[i] = scale * (primary[i] as number);
          }
          if (!bent) continue;
          surfaceFlux(mesh, column, k, flux);
          for (let c = 0; c < xM.length; c += 1) {
            const to = c * rows * SIDE + e - first;
            block[to] = (block[to] as number) - scale * sigma * (flux[c] as number);
          }
        }
        solveBand(band, nodes, halfBand, block);
        for (let e = first; e < last; e += 1) {
          for (let f = 0; f < electrodes; f += 1) {
            const at = (electrodeColumns[f] as number) * rows * SIDE + e - first;
            const to = e * electrodes + f;
            transfer[to] = (transfer[to] as number) + (weights[j] as number) * (block[at] as number);
          }
          if (!fields) continue;
          const field = fields.subarray(e * nodes, (e + 1) * nodes);
          for (let i = 0, at = e - first; i < nodes; i += 1, at += SIDE) {
            field[i] = (field[i] as number) + (block[at] as number);
          }
          // At the source itself the potential of the elements, which is finite.
          const source = (electrodeColumns[e] as number) * rows;
          field[source] = (0.5 - rowOff(matrix, rows, source, field)) / (matrix.diagonal[source] as number);
        }
        tick((j + 0.7 * (last / electrodes)) / perM.length);
      }
      if (fields && sensitivity) sensitivity.add(fields, k, weights[j] as number, meanOhmM);
      tick((j + 1) / perM.length);
    }
    addPrimary(mesh, angles, grounds, transfer);
    return finish(conductivity, transfer, sensitivity);
  };

  const finish = (conductivity: Float64Array, transfer: Float64Array, sensitivity: Sensitivity | null) => {
    const between = (p: number | null, q: number | null): number =>
      p === null || q === null
        ? 0
        : ((transfer[p * electrodes + q] as number) + (transfer[q * electrodes + p] as number)) / 2;
    const apparentOhmM = new Float64Array(readings.length);
    for (const [i, { a, b, m, n }] of readings.entries()) {
      const ohm = between(a, m) - between(a, n) - between(b, m) + between(b, n);
      apparentOhmM[i] = ohm * (factors[i] as number);
    }
    if (!sensitivity) return { apparentOhmM, jacobian: null };
    const jacobian = sensitivity.sums;
    for (let i = 0; i < readings.length; i += 1) {
      const scale = (2 * (factors[i] as number)) / (apparentOhmM[i] as number);
      for (let p = 0; p + 1 < cellColumns.length; p += 1) {
        const column = (cellColumns[p] as number) * (rows - 1);
        for (let q = 0; q < layers; q += 1) {
          const to = i * cells + p * layers + q;
          const sigma = conductivity[column + (cellRows[q] as number)] as number;
          jacobian[to] = (jacobian[to] as number) * scale * sigma;
        }
      }
    }
    return { apparentOhmM, jacobian };
  };

  return { cells, elementsOf, answer };
}

/** Columns nearer than a distance, and one more. */
function columnsWithin(xM: Float64Array, column: number, distanceM: number): readonly [number, number] {
  const x = xM[column] as number;
  let from = column;
  while (from > 0 && x - (xM[from] as number) < distanceM) from -= 1;
  let to = column;
  while (to < xM.length - 1 && (xM[to] as number) - x < distanceM) to += 1;
  return [from, to + 1];
}

function minus(
  matrix: Stencil,
  unit: Stencil,
  sigma: number,
  into: Stencil,
  [from, to]: readonly [number, number],
  rows: number,
): void {
  for (const part of ['diagonal', 'down', 'nextUp', 'next', 'nextDown'] as const) {
    const [p, q, r] = [matrix[part], unit[part], into[part]];
    for (let i = from * rows; i < to * rows; i += 1) r[i] = (p[i] as number) - sigma * (q[i] as number);
  }
}

/** block −= scale·(matrix·x), for x in some columns only; both halves of the symmetric matrix from one pass. */
function subtractProduct(
  { diagonal, down, nextUp, next, nextDown }: Stencil,
  rows: number,
  x: Float64Array,
  scale: number,
  block: Float64Array,
  offset: number,
  [from, to]: readonly [number, number],
): void {
  const end = to * rows;
  const parts = [down, nextUp, next, nextDown];
  const steps = [1, rows - 1, rows, rows + 1];
  for (let i = from * rows; i < end; i += 1) {
    const own = x[i] as number;
    let sum = (diagonal[i] as number) * own;
    const scaled = scale * own;
    for (let part = 0; part < 4; part += 1) {
      const entry = (parts[part] as Float64Array)[i] as number;
      const j = i + (steps[part] as number);
      if (entry === 0 || j >= end) continue;
      sum += entry * (x[j] as number);
      block[j * SIDE + offset] = (block[j * SIDE + offset] as number) - entry * scaled;
    }
    const at = i * SIDE + offset;
    block[at] = (block[at] as number) - scale * sum;
  }
}

/** What was taken out beforehand, between different electrodes. */
function addPrimary(mesh: SectionMesh, angles: Float64Array, grounds: Float64Array, transfer: Float64Array): void {
  const { xM, heightM, electrodeColumns } = mesh;
  const electrodes = electrodeColumns.length;
  for (let e = 0; e < electrodes; e += 1) {
    const [i, scale] = [electrodeColumns[e] as number, 1 / (2 * (angles[e] as number) * (grounds[e] as number))];
    for (let f = 0; f < electrodes; f += 1) {
      if (e === f) continue;
      const j = electrodeColumns[f] as number;
      const r = Math.hypot((xM[i] as number) - (xM[j] as number), (heightM[i] as number) - (heightM[j] as number));
      transfer[e * electrodes + f] = (transfer[e * electrodes + f] as number) + scale / r;
    }
  }
}
