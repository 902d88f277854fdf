import type { MidpointFinding } from '../../findings';
import { metres } from '../../survey/wording';

/** The depth that a reading speaks of, with the rule it was taken by. */
export function depthWords(finding: Pick<MidpointFinding, 'depthM' | 'depthRule' | 'figureKind' | 'spacingM'>): string {
  if (finding.figureKind === 'two_probe') return 'none: a two-probe figure has no depth';
  if (finding.depthM === null) return finding.spacingM === null ? 'none: the spacing was not said' : 'none';
  return finding.depthRule === 'half_spacing'
    ? `${metres(finding.depthM)} (half the spacing, as is common practice)`
    : `${metres(finding.depthM)} (half of what uniform ground answers lies above it)`;
}
