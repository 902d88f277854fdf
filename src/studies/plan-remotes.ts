import { ignoredRemotesError, remotesNeededM } from '../ground/finite-remotes';
import type { ElectrodeDistances } from '../ground/geometric-factor';
import { layoutOf, nominalDistances } from '../ground/layout';
import { done, type Outcome } from '../survey/outcome';
import type { PlanArray } from './plan-profile';

/**
 * How far the remotes must stand for a reading of uniform ground to be wrong by no more than `share` where they are taken
 * as infinitely far: for pole-pole from either probe, in line or square off, whichever asks for more; for pole-dipole B
 * from A, in line behind it (square off it asks for less). Null for arrays without remotes.
 * Refusals: `share_out_of_range`, those of `layoutOf`.
 */
export function remotesFor(array: PlanArray, spacingM: number, share: number): Outcome<number | null> {
  const inLine = remotesNeededM(spacingM, share, 'in_line');
  if (!inLine.ok) return inLine;
  if (array.hookup === 'pole_pole') {
    const squareOff = remotesNeededM(spacingM, share, 'square_off');
    return squareOff.ok ? done(Math.max(inLine.value, squareOff.value)) : squareOff;
  }
  if (array.hookup !== 'pole_dipole') return done(null);
  const layout = layoutOf({ hookup: array.hookup, midpointM: 0, spacingM, n: array.n });
  if (!layout.ok) return layout;
  const taken = nominalDistances(layout.value);
  const really = (farM: number): ElectrodeDistances => ({ ...taken, bm: taken.am + farM, bn: taken.an + farM });
  const isWrong = (farM: number): boolean => Math.abs(ignoredRemotesError(taken, really(farM))) > share;
  let [near, far] = [0, spacingM];
  while (isWrong(far)) [near, far] = [far, 2 * far];
  for (let i = 0; i < 60; i += 1) {
    const middle = (near + far) / 2;
    if (isWrong(middle)) near = middle;
    else far = middle;
  }
  return done(far);
}
