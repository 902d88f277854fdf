import { besselRatio } from './section-bessel';
import type { SectionMesh } from './section-mesh';

/*
 * Finite elements in the frame (u, d): u along the section, d the depth under the ground at u. With the slope s of the
 * ground over an element, |∇φ|² = φ_u² + 2s φ_u φ_d + (1 + s²) φ_d² and areas are du·dd: sheared rectangles with bilinear
 * potentials, exactly integrated. Nodes are numbered down the columns, so that a matrix reaches one column and one node
 * far.
 */

/** A symmetric matrix on the nodes: the diagonal, and what ties a node to the four that follow it. */
export interface Stencil {
  readonly diagonal: Float64Array;
  /** To the node below, and to those above, beside and below in the next column. */
  readonly down: Float64Array;
  readonly nextUp: Float64Array;
  readonly next: Float64Array;
  readonly nextDown: Float64Array;
}

export const emptyStencil = (nodes: number): Stencil => ({
  diagonal: new Float64Array(nodes),
  down: new Float64Array(nodes),
  nextUp: new Float64Array(nodes),
  next: new Float64Array(nodes),
  nextDown: new Float64Array(nodes),
});

export const slopeOf = ({ xM, heightM }: SectionMesh, column: number): number =>
  ((heightM[column + 1] as number) - (heightM[column] as number)) /
  ((xM[column + 1] as number) - (xM[column] as number));

/** The ten entries of an element of unit conductivity; corners: upper left, lower left, upper right, lower right. */
export interface ElementMatrix {
  readonly own: readonly [number, number, number, number];
  readonly leftSide: number;
  readonly rightSide: number;
  readonly top: number;
  readonly bottom: number;
  /** Upper left to lower right, and lower left to upper right. */
  readonly falling: number;
  readonly rising: number;
}

export function elementMatrix(widthM: number, tallM: number, slope: number, k: number): ElementMatrix {
  const across = tallM / widthM / 6;
  const down = ((1 + slope * slope) * widthM) / tallM / 6;
  const mass = (k * k * widthM * tallM) / 36;
  // ∫ 2s φ_u φ_d: s/2 at corners where φ_u and φ_d rise together, −s/2 where they do not.
  const half = slope / 2;
  const own = 2 * (across + down) + 4 * mass;
  return {
    own: [own + half, own - half, own - half, own + half],
    leftSide: across - 2 * down + 2 * mass,
    rightSide: across - 2 * down + 2 * mass,
    top: -2 * across + down + 2 * mass,
    bottom: -2 * across + down + 2 * mass,
    falling: -across - down + mass - half,
    rising: -across - down + mass + half,
  };
}

/**
 * The matrix of ∫ σ(∇φ·∇v + k²φv) with σαφ on the sides and the bottom, α = k·K₁(kr)/K₀(kr)·cos for a source at the
 * middle of the line (Dey & Morrison 1979). Conductivities of the elements down the columns; null = 1 everywhere.
 */
export function assemble(mesh: SectionMesh, conductivity: Float64Array | null, k: number, into: Stencil): void {
  const { xM, depthM } = mesh;
  const columns = xM.length;
  const rows = depthM.length;
  const { diagonal, down, nextUp, next, nextDown } = into;
  for (const array of [diagonal, down, nextUp, next, nextDown]) array.fill(0);
  for (let c = 0; c + 1 < columns; c += 1) {
    const width = (xM[c + 1] as number) - (xM[c] as number);
    const slope = slopeOf(mesh, c);
    for (let r = 0; r + 1 < rows; r += 1) {
      const sigma = conductivity ? (conductivity[c * (rows - 1) + r] as number) : 1;
      const tall = (depthM[r + 1] as number) - (depthM[r] as number);
      const { own, leftSide, rightSide, top, bottom, falling, rising } = elementMatrix(width, tall, slope, k);
      const node = c * rows + r;
      const beside = node + rows;
      diagonal[node] = (diagonal[node] as number) + sigma * own[0];
      diagonal[node + 1] = (diagonal[node + 1] as number) + sigma * own[1];
      diagonal[beside] = (diagonal[beside] as number) + sigma * own[2];
      diagonal[beside + 1] = (diagonal[beside + 1] as number) + sigma * own[3];
      down[node] = (down[node] as number) + sigma * leftSide;
      down[beside] = (down[beside] as number) + sigma * rightSide;
      next[node] = (next[node] as number) + sigma * top;
      next[node + 1] = (next[node + 1] as number) + sigma * bottom;
      nextDown[node] = (nextDown[node] as number) + sigma * falling;
      nextUp[node + 1] = (nextUp[node + 1] as number) + sigma * rising;
    }
  }
  addEdges(mesh, conductivity, k, diagonal);
}

function addEdges(mesh: SectionMesh, conductivity: Float64Array | null, k: number, diagonal: Float64Array): void {
  const { xM, depthM, heightM } = mesh;
  const columns = xM.length;
  const rows = depthM.length;
  const middle = ((xM[0] as number) + (xM[columns - 1] as number)) / 2;
  const alpha = (dx: number, dz: number, outward: number): number => {
    const r = Math.hypot(dx, dz);
    return (k * besselRatio(k * r) * outward) / r;
  };
  const add = (node: number, value: number) => {
    diagonal[node] = (diagonal[node] as number) + value;
  };
  for (const c of [0, columns - 1]) {
    const dx = Math.abs((xM[c] as number) - middle);
    const element = c === 0 ? 0 : c - 1;
    for (let r = 0; r + 1 < rows; r += 1) {
      const sigma = conductivity ? (conductivity[element * (rows - 1) + r] as number) : 1;
      const half = ((depthM[r + 1] as number) - (depthM[r] as number)) / 2;
      for (const row of [r, r + 1]) {
        const dz = (depthM[row] as number) - (heightM[c] as number);
        add(c * rows + row, sigma * half * alpha(dx, dz, dx));
      }
    }
  }
  for (let c = 0; c + 1 < columns; c += 1) {
    const sigma = conductivity ? (conductivity[c * (rows - 1) + rows - 2] as number) : 1;
    const half = ((xM[c + 1] as number) - (xM[c] as number)) / 2;
    for (const column of [c, c + 1]) {
      const dz = (depthM[rows - 1] as number) - (heightM[column] as number);
      add(column * rows + rows - 1, sigma * half * alpha((xM[column] as number) - middle, dz, dz));
    }
  }
}

/** The stencil as rows of a band, for `factoriseBand`; its half band is one column and one node. */
export function toBand({ diagonal, down, nextUp, next, nextDown }: Stencil, rows: number, band: Float64Array): void {
  const halfBand = rows + 1;
  const width = halfBand + 1;
  const nodes = diagonal.length;
  band.fill(0);
  for (let i = 0; i < nodes; i += 1) {
    const at = i * width + halfBand;
    band[at] = diagonal[i] as number;
    if (i >= 1) band[at - 1] = down[i - 1] as number;
    if (i >= rows - 1) band[at - rows + 1] = nextUp[i - rows + 1] as number;
    if (i >= rows) band[at - rows] = next[i - rows] as number;
    if (i >= rows + 1) band[at - rows - 1] = nextDown[i - rows - 1] as number;
  }
}

/** What ties node i to the others, applied to their potentials. */
export function rowOff(stencil: Stencil, rows: number, i: number, x: Float64Array): number {
  const { down, nextUp, next, nextDown, diagonal } = stencil;
  const nodes = diagonal.length;
  const at = (j: number): number => x[j] as number;
  let sum = 0;
  if (i + 1 < nodes) sum += (down[i] as number) * at(i + 1);
  if (i >= 1) sum += (down[i - 1] as number) * at(i - 1);
  if (i + rows - 1 < nodes) sum += (nextUp[i] as number) * at(i + rows - 1);
  if (i >= rows - 1) sum += (nextUp[i - rows + 1] as number) * at(i - rows + 1);
  if (i + rows < nodes) sum += (next[i] as number) * at(i + rows);
  if (i >= rows) sum += (next[i - rows] as number) * at(i - rows);
  if (i + rows + 1 < nodes) sum += (nextDown[i] as number) * at(i + rows + 1);
  if (i >= rows + 1) sum += (nextDown[i - rows - 1] as number) * at(i - rows - 1);
  return sum;
}
