import type { MeshReading } from '../../src/ground/section-factor';
import { sectionForward } from '../../src/ground/section-forward';
import { type GroundLine, type SectionMesh, sectionMesh } from '../../src/ground/section-mesh';
import { wavenumbersFor } from '../../src/ground/section-wavenumbers';

export interface MadeGround {
  readonly electrodesM: readonly number[];
  readonly spacingM: number;
  readonly layersM: readonly number[];
  readonly fineness?: number;
  readonly ground?: GroundLine;
  readonly knownM?: readonly [number, number];
  /** Chainages of A, B, M, N. */
  readonly readings: readonly (readonly [number, number | null, number, number | null])[];
  /** Along the section and down, of the middle of an element. */
  readonly ohmM: (chainageM: number, depthM: number) => number;
}

/** What the readings come to over a ground given element by element. */
export function apparentOver(made: MadeGround): { apparent: Float64Array; mesh: SectionMesh; readings: MeshReading[] } {
  const { electrodesM, ohmM } = made;
  const meshed = sectionMesh({ ...made, ground: made.ground ?? ((chainageM) => [chainageM, 0]) });
  if (!meshed.ok) throw new Error(meshed.sentence);
  const mesh = meshed.value;
  const at = (chainageM: number | null): number | null => (chainageM === null ? null : electrodesM.indexOf(chainageM));
  const readings = made.readings.map(([a, b, m, n]) => ({ a: at(a), b: at(b), m: at(m), n: at(n) }));
  const length = (electrodesM[electrodesM.length - 1] as number) - (electrodesM[0] as number);
  const forward = sectionForward(mesh, readings, wavenumbersFor(made.spacingM / 2, 4 * length, 5e-5));
  const rows = mesh.depthM.length - 1;
  const conductivity = new Float64Array((mesh.xM.length - 1) * rows);
  for (let c = 0; c + 1 < mesh.xM.length; c += 1) {
    for (let r = 0; r < rows; r += 1) {
      const along = ((mesh.chainageM[c] as number) + (mesh.chainageM[c + 1] as number)) / 2;
      const depth = ((mesh.depthM[r] as number) + (mesh.depthM[r + 1] as number)) / 2;
      conductivity[c * rows + r] = 1 / ohmM(along, depth);
    }
  }
  return { apparent: forward.answer(conductivity, false).apparentOhmM, mesh, readings };
}

/** Bottoms of layers that grow from one to the next, the given depths among them, and the one that goes on. */
export function layersThrough(firstM: number, toM: number, depthsM: readonly number[] = []): number[] {
  const bottoms = new Set<number>(depthsM);
  let [bottom, thickness] = [0, firstM];
  while (bottom < toM) {
    bottom += thickness;
    thickness *= 1.2;
    if (depthsM.every((depth) => Math.abs(depth - bottom) > thickness / 2)) bottoms.add(bottom);
  }
  return [...[...bottoms].sort((p, q) => p - q), Infinity];
}
