import { HOOKUP_LABEL } from '../survey/hookup';
import { counted } from '../survey/wording';
import type { SectionInput } from './section-input';

/** What a section takes for granted, and what came of the search, in plain words. */
export function sectionRemarks(
  { hookups, heights, leftOut }: SectionInput,
  readings: number,
  downWeighted: number,
  converged: boolean,
  chiSquare: number,
): readonly string[] {
  const remarks = [
    'The ground is taken as endless and alike to either side of the line. A chamber, the end of a passage or a passage along the line shows smaller and elsewhere than it is.',
    'It is the smoothest ground that explains the readings, one of many: edges are drawn out, and a hollow shows wider and weaker than it is. It neither proves nor rules out a void.',
    heights.length > 0
      ? 'The heights along the line are in it; the ground beside the line is taken as level with it. Depths are square to the mean slope of the line.'
      : 'No heights of the ground are known: it is taken as even.',
    'The line is taken as straight.',
  ];
  if (hookups.some((hookup) => hookup === 'pole_pole' || hookup === 'pole_dipole')) {
    remarks.push(
      'Remote electrodes are taken as infinitely far; where their places are known, what they change in uniform ground is taken off.',
    );
  }
  if (hookups.length > 1) {
    remarks.push(`Readings of ${hookups.map((hookup) => HOOKUP_LABEL[hookup]).join(', ')} are taken together.`);
  }
  if (leftOut.length > 0) {
    remarks.push(`${counted(leftOut.length, 'reading')} of the line ${leftOut.length === 1 ? 'is' : 'are'} left out.`);
  }
  if (downWeighted > 0) {
    remarks.push(
      `${counted(downWeighted, 'reading')} of ${readings} that nothing else bears out ${downWeighted === 1 ? 'is' : 'are'} weighted down.`,
    );
  }
  if (!converged) {
    remarks.push(
      `The readings are not explained within their errors (χ² ${chiSquare.toFixed(1)} per reading where 1 is expected): they are noisier than was said, or the ground is not alike to either side.`,
    );
  }
  return remarks;
}
