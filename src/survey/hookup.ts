/**
 * How the probes are wired.
 * `two_probe`: current and potential share the same two rods. `pole_pole`: two rods on the line, two remote.
 * `unknown`: not said; treated as two-probe, with a doubt. `four_electrode`: any layout given electrode by electrode.
 */
export const HOOKUPS = [
  'two_probe',
  'pole_pole',
  'wenner_alpha',
  'wenner_beta',
  'wenner_gamma',
  'schlumberger',
  'dipole_dipole',
  'pole_dipole',
  'four_electrode',
  'unknown',
] as const;
export type Hookup = (typeof HOOKUPS)[number];

export const HOOKUP_LABEL: Record<Hookup, string> = {
  two_probe: 'two-probe',
  pole_pole: 'pole-pole',
  wenner_alpha: 'Wenner alpha',
  wenner_beta: 'Wenner beta',
  wenner_gamma: 'Wenner gamma',
  schlumberger: 'Schlumberger',
  dipole_dipole: 'dipole-dipole',
  pole_dipole: 'pole-dipole',
  four_electrode: 'four-electrode',
  unknown: 'hookup not said',
};

/** A figure that is mostly contact: never called resistivity, never given a depth. */
export function isTwoProbe(hookup: Hookup): boolean {
  return hookup === 'two_probe' || hookup === 'unknown';
}
