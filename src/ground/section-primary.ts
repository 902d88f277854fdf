import { besselK0, besselK1 } from './section-bessel';
import { slopeOf } from './section-elements';
import type { SectionMesh } from './section-mesh';

/*
 * The part of a potential that is known beforehand (Lowry, Allen & Shive 1989, Geophysics 54:766, for flat ground). A
 * point source on the edge of a wedge of uniform ground with the angle θ gives 1/(2θσr), exactly; at wavenumber k
 * K₀(kr)/(2θσ). θ = π on even ground. Where the ground bends elsewhere this potential would let current out through the
 * surface: that flux is known too, and goes to the right-hand side of what is left to solve.
 */

/** Beyond this K₀ is nothing: 10⁻¹¹. */
export const NOTHING_BEYOND = 24;

/** Angle of the ground at an electrode, in the plane of the section. */
export function wedgeAngle(mesh: SectionMesh, column: number): number {
  return Math.PI - Math.atan(slopeOf(mesh, column - 1)) + Math.atan(slopeOf(mesh, column));
}

/** K₀(k·r) of a source at every node of the columns from `from` to `to`; 0 at the source itself. */
export function primaryAt(
  mesh: SectionMesh,
  source: number,
  k: number,
  [from, to]: readonly [number, number],
  into: Float64Array,
): void {
  const { xM, heightM, depthM } = mesh;
  const rows = depthM.length;
  const [x, height] = [xM[source] as number, heightM[source] as number];
  for (let c = from; c < to; c += 1) {
    const dx = (xM[c] as number) - x;
    const above = (heightM[c] as number) - height;
    for (let r = 0; r < rows; r += 1) {
      const kr = k * Math.hypot(dx, above - (depthM[r] as number));
      into[c * rows + r] = kr === 0 || kr > NOTHING_BEYOND ? 0 : besselK0(kr);
    }
  }
}

const GAUSS = 0.5 / Math.sqrt(3);

/**
 * ∮ ∂K₀(kr)/∂n·v along the ground, for the surface node of each column; nothing on the two faces of the source, which it
 * runs along.
 */
export function surfaceFlux(mesh: SectionMesh, source: number, k: number, into: Float64Array): void {
  const { xM, heightM } = mesh;
  into.fill(0);
  const [x, height] = [xM[source] as number, heightM[source] as number];
  for (let c = 0; c + 1 < xM.length; c += 1) {
    if (c === source || c + 1 === source) continue;
    const dx = (xM[c + 1] as number) - (xM[c] as number);
    const dz = (heightM[c + 1] as number) - (heightM[c] as number);
    for (const share of [0.5 - GAUSS, 0.5 + GAUSS]) {
      const [rx, rz] = [(xM[c] as number) + share * dx - x, (heightM[c] as number) + share * dz - height];
      // Length of the piece times the cosine between r and the outward normal (−dz, dx)/length.
      const through = rz * dx - rx * dz;
      if (through === 0) continue;
      const r = Math.hypot(rx, rz);
      if (k * r > NOTHING_BEYOND) continue;
      const flux = (-0.5 * k * besselK1(k * r) * through) / r;
      into[c] = (into[c] as number) + flux * (1 - share);
      into[c + 1] = (into[c + 1] as number) + flux * share;
    }
  }
}
