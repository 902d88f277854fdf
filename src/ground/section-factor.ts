import type { SectionMesh } from './section-mesh';

/** Electrodes of a reading by their number in the mesh; null = infinitely far. */
export interface MeshReading {
  readonly a: number | null;
  readonly b: number | null;
  readonly m: number | null;
  readonly n: number | null;
}

/** K in metres, from the straight distances in the plane of the section. */
export function factorOf({ xM, heightM, electrodeColumns }: SectionMesh, { a, b, m, n }: MeshReading): number {
  const near = (p: number | null, q: number | null): number => {
    if (p === null || q === null) return 0;
    const [i, j] = [electrodeColumns[p] as number, electrodeColumns[q] as number];
    return 1 / Math.hypot((xM[i] as number) - (xM[j] as number), (heightM[i] as number) - (heightM[j] as number));
  };
  return (2 * Math.PI) / (near(a, m) - near(a, n) - near(b, m) + near(b, n));
}
