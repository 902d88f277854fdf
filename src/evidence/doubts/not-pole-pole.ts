import { chainageList, counted } from '../../survey/wording';
import { doubtAbout, type FindDoubts, readingsOf } from './doubt-context';

/** Between true pole-pole electrodes the resistance falls about as 1/a; one that falls slower than this does not fall. */
const FALLING_SLOPE = -0.1;

export const notPolePole: FindDoubts = ({ line, slopes }) => {
  const polePole = slopes.filter(({ rungs }) => rungs[0]?.hookup === 'pole_pole');
  const level = polePole.filter(({ slope }) => slope - 1 > FALLING_SLOPE);
  if (level.length === 0) return [];
  const where = chainageList(level.map(({ chainageM }) => chainageM));
  return [
    doubtAbout({
      code: 'not_pole_pole',
      severity: 'serious',
      line: line.id,
      chainageM: level.length === 1 ? (level[0]?.chainageM ?? null) : null,
      sentence: `Line ${line.name} is declared pole-pole, but at ${level.length} of ${counted(polePole.length, 'ladder')} (${where}) the resistance does not fall with spacing, as it would between true poles.`,
      remedy:
        'Check where the leads went: with two rods and no remote electrodes the hookup is two_probe. With remotes, check their connection and distance.',
      readings: level.flatMap(({ rungs }) => rungs.flatMap(readingsOf)),
    }),
  ];
};
