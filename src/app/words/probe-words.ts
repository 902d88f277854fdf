import type { MidpointFinding } from '../../findings';
import { metres } from '../../survey/wording';

const ROLES = ['A', 'B', 'M', 'N'] as const;

/** Where the electrodes of a reading stood along the line: those at one place share a rod. */
export function probePlaces(
  finding: Pick<MidpointFinding, 'aM' | 'bM' | 'mM' | 'nM'>,
): { label: string; chainageM: number }[] {
  const at = [finding.aM, finding.bM, finding.mM, finding.nM];
  const places: { label: string; chainageM: number }[] = [];
  at.forEach((chainageM, i) => {
    if (chainageM === null) return;
    const role = ROLES[i] ?? '';
    const shared = places.find((place) => Math.abs(place.chainageM - chainageM) < 0.001);
    if (shared) shared.label += ` ${role}`;
    else places.push({ label: role, chainageM });
  });
  return places.sort((a, b) => a.chainageM - b.chainageM);
}

/** "A at 12 m, M at 17 m; B and N far away". */
export function probeWords(finding: Pick<MidpointFinding, 'aM' | 'bM' | 'mM' | 'nM' | 'figureKind'>): string {
  const places = probePlaces(finding);
  if (places.length === 0) return 'not said';
  if (finding.figureKind === 'two_probe') {
    return `rods at ${places.map(({ chainageM }) => metres(chainageM)).join(' and ')}`;
  }
  const near = places.map(({ label, chainageM }) => `${label.replaceAll(' ', ' and ')} at ${metres(chainageM)}`);
  const remote = ROLES.filter((_, i) => [finding.aM, finding.bM, finding.mM, finding.nM][i] === null);
  const far = remote.length > 0 ? `; ${remote.join(' and ')} remote` : '';
  return `${near.join(', ')}${far}`;
}
