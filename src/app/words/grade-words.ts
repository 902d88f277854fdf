import type { Grade, MidpointFinding, Sign } from '../../findings';

const GRADE: Record<Exclude<Grade, 'none'>, string> = { slight: 'Slightly', clear: 'Clearly', strong: 'Strongly' };

export function signWords(sign: Sign): string {
  return sign === 'above_reference' ? 'above the reference' : 'below the reference';
}

/** What a grade says, complete in itself. A two-probe grade is a hint: a place to look at again. */
export function gradeWords(
  finding: Pick<MidpointFinding, 'grade' | 'sign' | 'figureKind' | 'figureOhmM' | 'figureAboveOhmM' | 'referenceOhmM'>,
): string {
  const { grade, sign } = finding;
  if (grade === null || sign === null) {
    if (finding.figureOhmM === null) {
      return finding.figureAboveOhmM === null ? 'No figure' : 'Over range: no figure, so no grade';
    }
    return finding.referenceOhmM === null ? 'Not graded: nothing to compare with' : 'Not graded';
  }
  if (grade === 'none') return 'Like the reference';
  const words = `${GRADE[grade]} ${signWords(sign)}`;
  return finding.figureKind === 'two_probe' ? `Hint: ${words.toLowerCase()}` : words;
}
