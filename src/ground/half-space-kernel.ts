import type { QuarterMesh } from './void-mesh';

/*
 * Green's function of ground under a flat insulating surface z = 0 (z down): G(x, y) = (1/|x − y| + 1/|x* − y|)/4π,
 * x* = x mirrored over the surface. The flux of 1/4π|x − y| out through a panel is −Ω/4π, Ω the solid angle of the
 * panel seen from x, positive where the panel shows its inner side. Solid angles of flat panels are exact, near ones
 * too, so those of a closed surface add to 4π, 2π or 0 from inside, on it or outside: no row has to be mended.
 */

/** Images of a point over the planes x = 0 and y = 0, in the order that the four parities are numbered in, bit by bit. */
const IMAGES = [
  [1, 1],
  [-1, 1],
  [1, -1],
  [-1, -1],
] as const;

/** Sign of image g in parity p: −1 for each plane that mirrors g and that the parity is odd in. */
export const SIGNS = IMAGES.map((_, p) => IMAGES.map((__, g) => ((p & g) === 0 || (p & g) === 3 ? 1 : -1)));

/**
 * Solid angle, sr, of the panel that starts at `at` in `corners`, seen from (x, y, z): two triangles by Van Oosterom &
 * Strackee 1983 (IEEE Trans. Biomed. Eng. 30:125-126), tan(Ω/2) = N/D, joined as the argument of (D₁ + iN₁)(D₂ + iN₂).
 */
export function solidAngle(corners: Float64Array, at: number, x: number, y: number, z: number): number {
  const ax = (corners[at] as number) - x;
  const ay = (corners[at + 1] as number) - y;
  const az = (corners[at + 2] as number) - z;
  const bx = (corners[at + 3] as number) - x;
  const by = (corners[at + 4] as number) - y;
  const bz = (corners[at + 5] as number) - z;
  const cx = (corners[at + 6] as number) - x;
  const cy = (corners[at + 7] as number) - y;
  const cz = (corners[at + 8] as number) - z;
  const dx = (corners[at + 9] as number) - x;
  const dy = (corners[at + 10] as number) - y;
  const dz = (corners[at + 11] as number) - z;
  const a = Math.sqrt(ax * ax + ay * ay + az * az);
  const b = Math.sqrt(bx * bx + by * by + bz * bz);
  const c = Math.sqrt(cx * cx + cy * cy + cz * cz);
  const ac = ax * cx + ay * cy + az * cz;
  const mx = cy * az - cz * ay;
  const my = cz * ax - cx * az;
  const mz = cx * ay - cy * ax;
  const n1 = bx * mx + by * my + bz * mz;
  const d1 = a * b * c + (ax * bx + ay * by + az * bz) * c + (bx * cx + by * cy + bz * cz) * a + ac * b;
  if (dx === cx && dy === cy && dz === cz) return 2 * Math.atan2(n1, d1);
  const d = Math.sqrt(dx * dx + dy * dy + dz * dz);
  const n2 = -(dx * mx + dy * my + dz * mz);
  const d2 = a * c * d + ac * d + (cx * dx + cy * dy + cz * dz) * a + (dx * ax + dy * ay + dz * az) * c;
  return 2 * Math.atan2(d1 * n2 + d2 * n1, d1 * d2 - n1 * n2);
}

/**
 * The double-layer matrix K of a mesh, K_ij = flux of G from the middle of panel i out through panel j (the panel's own
 * part is zero: it is flat), for potentials that are even or odd in the two mirror planes: four count × count matrices,
 * row after row. Each row of the first adds to −1/2.
 */
export function doubleLayer(mesh: QuarterMesh): readonly Float64Array[] {
  const { count, corners, centres } = mesh;
  const parts = SIGNS.map(() => new Float64Array(count * count)) as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  const [even, oddX, oddY, oddBoth] = parts;
  const inverse = -1 / (4 * Math.PI);
  for (let i = 0; i < count; i += 1) {
    const x = centres[3 * i] as number;
    const y = centres[3 * i + 1] as number;
    const z = centres[3 * i + 2] as number;
    for (let j = 0; j < count; j += 1) {
      const at = 12 * j;
      const own = i === j ? 0 : solidAngle(corners, at, x, y, z);
      const p = own + solidAngle(corners, at, x, y, -z);
      const q = solidAngle(corners, at, -x, y, z) + solidAngle(corners, at, -x, y, -z);
      const r = solidAngle(corners, at, x, -y, z) + solidAngle(corners, at, x, -y, -z);
      const s = solidAngle(corners, at, -x, -y, z) + solidAngle(corners, at, -x, -y, -z);
      const k = i * count + j;
      even[k] = inverse * (p + q + r + s);
      oddX[k] = inverse * (p - q + r - s);
      oddY[k] = inverse * (p + q - r - s);
      oddBoth[k] = inverse * (p - q - r + s);
    }
  }
  return parts;
}

/** What an electrode at (x, y) on the surface does to the panels, one array per parity. */
export interface ElectrodeVectors {
  /** G at the middle of the panels: potential per current and resistivity. */
  readonly potential: readonly Float64Array[];
  /** Flux of G out through the panels, added over the four images. */
  readonly flux: readonly Float64Array[];
}

export function electrodeVectors({ count, corners, centres }: QuarterMesh, x: number, y: number): ElectrodeVectors {
  const potential = SIGNS.map(() => new Float64Array(count));
  const flux = SIGNS.map(() => new Float64Array(count));
  for (const [g, [sx, sy]] of IMAGES.entries()) {
    for (let j = 0; j < count; j += 1) {
      const px = (centres[3 * j] as number) - sx * x;
      const py = (centres[3 * j + 1] as number) - sy * y;
      const pz = centres[3 * j + 2] as number;
      const value = 1 / (8 * Math.PI * Math.sqrt(px * px + py * py + pz * pz));
      const through = -solidAngle(corners, 12 * j, sx * x, sy * y, 0) / (2 * Math.PI);
      for (let p = 0; p < 4; p += 1) {
        const sign = (SIGNS[p] as number[])[g] as number;
        const [inPotential, inFlux] = [potential[p], flux[p]] as [Float64Array, Float64Array];
        inPotential[j] = (inPotential[j] as number) + sign * value;
        inFlux[j] = (inFlux[j] as number) + sign * through;
      }
    }
  }
  return { potential, flux };
}
