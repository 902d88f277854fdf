import type { MidpointFinding } from '../../findings';
import { ohmMetres } from '../../survey/wording';

/** What the figure is called. A two-probe figure is never called a resistivity. */
export function figureName(kind: MidpointFinding['figureKind']): string {
  return kind === 'two_probe' ? 'Two-probe figure' : 'Apparent resistivity';
}

/** The figure with its unit; a place that was only read over range has a lower bound instead. */
export function figureWords(finding: Pick<MidpointFinding, 'figureOhmM' | 'figureAboveOhmM'>): string {
  if (finding.figureOhmM !== null) return ohmMetres(finding.figureOhmM);
  return finding.figureAboveOhmM !== null ? `above ${ohmMetres(finding.figureAboveOhmM)}` : 'none';
}

export const TWO_PROBE_SENTENCE =
  'Current and voltage share the same two rods here, so the figure is mostly the contact of the rods with the ground. ' +
  'It is not the resistivity of the ground, it has no depth, and it cannot show a void: it says where to look again.';
