import { type DenseLu, factorise, solve } from '../../src/ground/dense-lu';
import { solidAngle } from '../../src/ground/half-space-kernel';
import { factorOfPlacesM, type Place, type SurfaceElectrodes } from '../../src/ground/small-void';
import type { PanelMesh } from './tube-mesh';

/*
 * An air-filled body of any shape in uniform ground under a flat surface, by boundary elements: the equations of
 * src/ground/void-response.ts for κ = −1, without its mirror planes, so that a passage may bend:
 *     (½ − K) φ = φ₀,    change at an electrode = ∫ φ ∂G/∂n dS.
 */
export interface EmptyBody {
  readonly panels: number;
  /** ρa with the body over ρa without it, of electrodes on the surface in the body's frame; their third figure is not used. */
  ratio(electrodes: SurfaceElectrodes): number;
}

interface Met {
  readonly solved: Float64Array;
  readonly flux: Float64Array;
}

export function emptyBody(mesh: PanelMesh): EmptyBody {
  const factors = factorise(system(mesh), mesh.count);
  const known = new Map<string, Met>();
  const meeting = (place: Place | null): Met | null => {
    if (!place) return null;
    const key = `${place[0]} ${place[1]}`;
    const met = known.get(key) ?? meet(mesh, factors, place[0], place[1]);
    known.set(key, met);
    return met;
  };
  return {
    panels: mesh.count,
    ratio: (electrodes) => {
      const { a, b, m, n } = electrodes;
      const [current, potential] = [[meeting(a), meeting(b)] as const, [meeting(m), meeting(n)] as const];
      // Equal but for the panels: the mean of current and potential either way round.
      const change = (fourPoles(current, potential) + fourPoles(potential, current)) / 2;
      return 1 + factorOfPlacesM(electrodes) * change;
    },
  };
}

type Poles = readonly [Met | null, Met | null];

function fourPoles(from: Poles, to: Poles): number {
  let sum = 0;
  for (const [i, source] of from.entries()) {
    for (const [j, sink] of to.entries()) {
      if (source && sink) sum += (i === j ? 1 : -1) * product(source.solved, sink.flux);
    }
  }
  return sum;
}

function product(p: Float64Array, q: Float64Array): number {
  let sum = 0;
  for (let j = 0; j < p.length; j += 1) sum += (p[j] as number) * (q[j] as number);
  return sum;
}

/** ½ − K, less half the mean over the surface, which makes it solvable and changes no reading. */
function system({ count, corners, centres, areas }: PanelMesh): Float64Array {
  const entries = new Float64Array(count * count);
  const surface = areas.reduce((sum, area) => sum + area, 0);
  for (let i = 0; i < count; i += 1) {
    const x = centres[3 * i] as number;
    const y = centres[3 * i + 1] as number;
    const z = centres[3 * i + 2] as number;
    for (let j = 0; j < count; j += 1) {
      const own = i === j ? 0 : solidAngle(corners, 12 * j, x, y, z);
      const seen = own + solidAngle(corners, 12 * j, x, y, -z);
      entries[i * count + j] = seen / (4 * Math.PI) - (0.5 * (areas[j] as number)) / surface + (i === j ? 0.5 : 0);
    }
  }
  return entries;
}

function meet({ count, corners, centres }: PanelMesh, factors: DenseLu, x: number, y: number): Met {
  const potential = new Float64Array(count);
  const flux = new Float64Array(count);
  for (let j = 0; j < count; j += 1) {
    const awayM = Math.hypot(
      (centres[3 * j] as number) - x,
      (centres[3 * j + 1] as number) - y,
      centres[3 * j + 2] as number,
    );
    potential[j] = 1 / (2 * Math.PI * awayM);
    flux[j] = -solidAngle(corners, 12 * j, x, y, 0) / (2 * Math.PI);
  }
  return { solved: solve(factors, potential), flux };
}
