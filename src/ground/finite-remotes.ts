import type { Outcome } from '../survey/outcome';
import { type ElectrodeDistances, geometricFactorM } from './geometric-factor';

/**
 * Where the remote electrodes of a pole-pole reading stand. C at 0 and P at the spacing:
 * `in_line`: B beyond C and N beyond P, on the line; `square_off`: B level with C and N level with P, square to the line
 * on opposite sides; `current_only`: B as in line, N infinitely far.
 */
export type RemoteSetting = 'in_line' | 'square_off' | 'current_only';

/** Distances of a pole-pole reading whose remotes stand `remoteM` from C and P; all in metres, above 0. */
export function polePoleWithRemotes(spacingM: number, remoteM: number, setting: RemoteSetting): ElectrodeDistances {
  const a = spacingM;
  const r = remoteM;
  switch (setting) {
    case 'in_line':
      return { am: a, an: a + r, bm: a + r, bn: a + 2 * r };
    case 'square_off':
      return { am: a, an: Math.hypot(a, r), bm: Math.hypot(a, r), bn: Math.hypot(a, 2 * r) };
    case 'current_only':
      return { am: a, an: Infinity, bm: a + r, bn: Infinity };
  }
}

/**
 * How wrong the apparent resistivity of uniform ground is, −0.07 for 7 % low, when remotes at a finite distance are taken
 * as infinitely far (or electrodes as elsewhere in any way): K(taken)/K(true) − 1.
 */
export function ignoredRemotesError(taken: ElectrodeDistances, really: ElectrodeDistances): number {
  return geometricFactorM(taken) / geometricFactorM(really) - 1;
}

/** The same of a pole-pole reading. */
export function polePoleRemoteError(spacingM: number, remoteM: number, setting: RemoteSetting): number {
  const taken = { am: spacingM, an: Infinity, bm: Infinity, bn: Infinity };
  return ignoredRemotesError(taken, polePoleWithRemotes(spacingM, remoteM, setting));
}

/**
 * How far in metres the remotes must be for a pole-pole reading to be wrong by no more than `share` (0.05 for 5 %) when
 * they are taken as infinitely far. The widest spacing of a ladder decides.
 * Refusal: `share_out_of_range` unless 0 < share < 1.
 */
export function remotesNeededM(spacingM: number, share: number, setting: RemoteSetting): Outcome<number> {
  if (!(share > 0 && share < 1)) {
    return {
      ok: false,
      code: 'share_out_of_range',
      sentence: 'Say the error that may be left as a share between 0 and 1.',
    };
  }
  let near = 0;
  let far = spacingM;
  while (Math.abs(polePoleRemoteError(spacingM, far, setting)) > share) {
    near = far;
    far *= 2;
  }
  for (let i = 0; i < 60; i += 1) {
    const middle = (near + far) / 2;
    if (Math.abs(polePoleRemoteError(spacingM, middle, setting)) > share) near = middle;
    else far = middle;
  }
  return { ok: true, value: far };
}
