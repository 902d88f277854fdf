import type { SurfaceElectrodes } from '../../src/ground/small-void';
import { createVoidModel, type VoidModel, type VoidModelOptions } from '../../src/ground/void-response';
import type { VoidShape } from '../../src/ground/void-shape';

/** Pole-pole along x, its midpoint `offsetM` from the origin. */
export const polePole = (spacingM: number, offsetM: number): SurfaceElectrodes => ({
  a: [offsetM - spacingM / 2, 0, 0],
  b: null,
  m: [offsetM + spacingM / 2, 0, 0],
  n: null,
});

/** The model of a void that can be modelled. */
export function modelOf(shape: VoidShape, depthM: number, options?: VoidModelOptions): VoidModel {
  const made = createVoidModel(shape, depthM, options);
  if (!made.ok) throw new Error(made.sentence);
  return made.value;
}

/**
 * Pole-pole spacing and offset in m, and ρa/ρ₁ over an endless empty cylinder of radius 1 m square to the line, its axis
 * 2 m down: Fourier along strike, modified Bessel multipoles and mirror cylinder; computed for this project by two methods
 * that share nothing with panels.
 */
export const ENDLESS_PASSAGE = [
  [2, 0, 1.175731],
  [4, 0, 1.023272],
  [8, 0, 0.952162],
  [20, 0, 0.982252],
  [4, 2.5, 1.10711],
  [8, 5, 1.061578],
] as const;
