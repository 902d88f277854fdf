import { counted } from '../../survey/wording';
import { doubtAbout, type FindDoubts } from './doubt-context';

export const hookupUnknown: FindDoubts = ({ line, figures }) => {
  const unsaid = figures.filter(({ hookup }) => hookup === 'unknown');
  if (unsaid.length === 0) return [];
  return [
    doubtAbout({
      code: 'hookup_unknown',
      severity: 'serious',
      line: line.id,
      sentence: `Line ${line.name}: ${counted(unsaid.length, 'reading')} without a hookup, treated as two-probe: no resistivity and no depth come from them.`,
      remedy:
        'Say how many rods were in the ground and where the other leads went: two rods and no other lead is two_probe; two rods on the line and two far away is pole_pole; four rods on the line is wenner_alpha, schlumberger or dipole_dipole.',
      readings: unsaid.map(({ reading }) => reading.id),
    }),
  ];
};
