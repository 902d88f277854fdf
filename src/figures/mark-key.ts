import type { MidpointFinding } from '../findings';

/** The place of a reading on the ramp: grade and side of the reference, or why it has none. */
export type MarkKey =
  | 'strong_below'
  | 'clear_below'
  | 'slight_below'
  | 'none'
  | 'slight_above'
  | 'clear_above'
  | 'strong_above'
  | 'over_range'
  | 'not_graded';

export type Graded = Pick<MidpointFinding, 'grade' | 'sign' | 'figureOhmM' | 'figureAboveOhmM' | 'doubts'>;

/** Only ever read over range: the figure is above the meter's limit, and where the limit is known, above that. */
export function isOverRange({ figureOhmM, figureAboveOhmM, doubts }: Omit<Graded, 'grade' | 'sign'>): boolean {
  return figureOhmM === null && (figureAboveOhmM !== null || doubts.includes('over_range'));
}

export function markKey(finding: Graded): MarkKey {
  const { grade, sign } = finding;
  if (isOverRange(finding)) return 'over_range';
  if (grade === null || sign === null) return 'not_graded';
  if (grade === 'none') return 'none';
  return `${grade}_${sign === 'below_reference' ? 'below' : 'above'}`;
}
