import { type Refusal, refuse } from '../survey/outcome';
import { factorOfPlacesM, type SurfaceElectrodes } from './small-void';

/** Where a void lies under the frame of the electrodes. */
export interface VoidPlace {
  /** The point of the ground over its middle. */
  readonly xM: number;
  readonly yM: number;
  /** Its middle or axis below ground. */
  readonly depthM: number;
  /** Of its length, from the x axis towards the y axis; 90 = a passage square to a line along x. */
  readonly bearingDeg: number;
}

export interface VoidQuestion {
  readonly place: VoidPlace;
  readonly hostOhmM: number;
  /** What fills it, Ω·m: Infinity for air, 0 for a perfect conductor. */
  readonly fillOhmM: number;
  readonly electrodes: readonly SurfaceElectrodes[];
}

export interface VoidReading {
  /** ρa/ρ₁, by the factor of the electrodes' own places. */
  readonly ratio: number;
  /** How far `ratio` may be off; null where it was not estimated. */
  readonly ratioError: number | null;
}

/**
 * Why a question cannot be answered, null where it can: `resistivity_not_positive`, `place_not_a_number`,
 * `electrodes_not_level`, `electrodes_coincide` (current and potential on one rod), `array_without_response`.
 */
export function refusalOf({ place, hostOhmM, fillOhmM, electrodes }: VoidQuestion): Refusal | null {
  if (!(hostOhmM > 0 && hostOhmM < Infinity && fillOhmM >= 0)) {
    return refuse('resistivity_not_positive', 'Resistivities have to be above zero, Ω·m.');
  }
  const placed = [place.xM, place.yM, place.bearingDeg].every(Number.isFinite);
  if (!(placed && place.depthM > 0 && place.depthM < Infinity)) {
    return refuse('place_not_a_number', 'A void needs a place, a bearing, and a depth above zero.');
  }
  for (const reading of electrodes) {
    const refused = refusalOfElectrodes(reading, electrodes[0]?.a[2] ?? 0);
    if (refused) return refused;
  }
  return null;
}

function refusalOfElectrodes({ a, b, m, n }: SurfaceElectrodes, levelM: number): Refusal | null {
  const places = [a, b, m, n].filter((place) => place !== null);
  if (!places.every((place) => place.every(Number.isFinite))) {
    return refuse('place_not_a_number', 'Each electrode needs a place in metres, or none for a remote one.');
  }
  if (places.some((place) => Math.abs(place[2] - levelM) > 1e-9)) {
    return refuse('electrodes_not_level', 'This computation is for flat ground: give all electrodes the same height.');
  }
  for (const current of [a, b]) {
    for (const potential of [m, n]) {
      if (current && potential && current[0] === potential[0] && current[1] === potential[1]) {
        return refuse(
          'electrodes_coincide',
          'Current and potential share a rod: that is mostly its contact, and no void can be computed from it.',
        );
      }
    }
  }
  if (!Number.isFinite(factorOfPlacesM({ a, b, m, n }))) {
    return refuse('array_without_response', 'These electrodes read nothing over uniform ground: move one of them.');
  }
  return null;
}
