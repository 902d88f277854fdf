import type { LocalGrid, Outing } from '../survey/survey';
import { accuracyOf, radius95M } from './accuracy';
import { toLonLat } from './crs';
import type { Placed } from './joined';

/** Places of the remote electrodes of an outing; null = taken as infinitely far. */
export interface Remotes {
  readonly a: Placed | null;
  readonly b: Placed | null;
  readonly m: Placed | null;
  readonly n: Placed | null;
}

export const NO_REMOTES: Remotes = { a: null, b: null, m: null, n: null };

/** The remote electrodes that an outing wrote down. A place that cannot be read counts as not written down. */
export function remotesOf(outing: Outing | null, grids: readonly LocalGrid[]): Remotes {
  if (!outing || outing.remotes.length === 0) return NO_REMOTES;
  const placeOf = (role: 'A' | 'B' | 'M' | 'N'): Placed | null => {
    const remote = outing.remotes.find((candidate) => candidate.role === role);
    const place = remote ? toLonLat(remote.position, grids) : null;
    if (!remote || !place?.ok) return null;
    return { ...place.value, uncertainty95M: radius95M(accuracyOf(remote.position).sigmaM) };
  };
  return { a: placeOf('A'), b: placeOf('B'), m: placeOf('M'), n: placeOf('N') };
}
