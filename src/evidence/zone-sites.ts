import type { MidpointFinding } from '../findings';
import type { Stretch } from './stretch';

/** Whether a midpoint stands out: graded, and not like the reference. */
export const isGraded = ({ grade }: MidpointFinding): boolean => grade !== null && grade !== 'none';

/**
 * Where along the line the cause of a graded midpoint may lie. Pole-pole: a high comes when one of the two probes stands
 * over a hollow and nobody knows which, a low when the midpoint does (first order; see ground/small-void). Two probes:
 * the contact of either rod. Four electrodes: the midpoint.
 */
export function sitesOf(midpoint: MidpointFinding): readonly Stretch[] {
  const { chainageM, fromM, toM, hookup, figureKind, sign, aM, bM, mM } = midpoint;
  const second = hookup === 'pole_pole' ? mM : figureKind === 'two_probe' ? bM : null;
  const byProbes = figureKind === 'two_probe' || (hookup === 'pole_pole' && sign === 'above_reference');
  if (!byProbes || aM === null || second === null) return [{ fromM, toM }];
  return [aM, second].map((probeM) => ({ fromM: probeM - (chainageM - fromM), toM: probeM + (toM - chainageM) }));
}

/**
 * The places of several graded midpoints of one story. Of the two probes of a high the one at which more of the others
 * have a place too; both where the others do not tell them apart. Listed per midpoint.
 */
export function likelySitesOf(midpoints: readonly MidpointFinding[]): readonly (readonly Stretch[])[] {
  const sites = midpoints.map(sitesOf);
  return sites.map((own, i) => {
    if (own.length === 1) return own;
    const support = own.map(
      (site) => sites.filter((others, k) => k !== i && others.some((other) => overlap(site, other))).length,
    );
    const most = Math.max(...support);
    return own.filter((_, k) => support[k] === most);
  });
}

/** Stretches that touch become one; sorted along the line. */
export function joinedStretches(stretches: readonly Stretch[]): readonly Stretch[] {
  const sorted = [...stretches].sort((p, q) => p.fromM - q.fromM);
  const joined: Stretch[] = [];
  for (const stretch of sorted) {
    const last = joined[joined.length - 1];
    if (last && stretch.fromM <= last.toM + TOUCHING_M) {
      joined[joined.length - 1] = { fromM: last.fromM, toM: Math.max(last.toM, stretch.toM) };
    } else {
      joined.push(stretch);
    }
  }
  return joined;
}

const TOUCHING_M = 1e-6;

export const overlap = (p: Stretch, q: Stretch): boolean =>
  p.fromM < q.toM - TOUCHING_M && q.fromM < p.toM - TOUCHING_M;
