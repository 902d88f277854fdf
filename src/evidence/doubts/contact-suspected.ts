import { chainageList, counted, metres } from '../../survey/wording';
import type { LadderSlope } from '../ladder-slope';
import { doubtAbout, type FindDoubts, readingsOf } from './doubt-context';

/**
 * The resistance of two rods' contact does not care how far apart they stand, so 2πaR grows in proportion to spacing:
 * slope 1. Thin soil over rock can come near that, never beyond.
 */
const CONTACT_SLOPE = 0.9;
const PERHAPS_SLOPE = 0.6;

const REMEDY =
  'Wet the rods or drive them deeper and read one station again: contact changes, ground does not. Ask whether the hookup is really the one written down.';

export const contactSuspected: FindDoubts = ({ line, slopes }) => {
  const certain = slopes.filter(({ slope }) => slope >= CONTACT_SLOPE);
  const perhaps = slopes.filter(({ slope }) => slope >= PERHAPS_SLOPE && slope < CONTACT_SLOPE);
  return [
    ...told(
      certain,
      slopes.length,
      'warning',
      'the figure climbs about in proportion to spacing, as the contact of the rods alone would make it',
    ),
    ...told(perhaps, slopes.length, 'note', 'the figure climbs steeply with spacing: contact, or thin soil over rock'),
  ];

  function told(found: readonly LadderSlope[], of: number, severity: 'warning' | 'note', what: string) {
    const about = (slopesHere: readonly LadderSlope[], where: string, chainageM: number | null) => {
      const steepest = Math.max(...slopesHere.map(({ slope }) => slope));
      const gentlest = Math.min(...slopesHere.map(({ slope }) => slope));
      const range = slopesHere.length === 1 ? steepest.toFixed(2) : `${gentlest.toFixed(2)} to ${steepest.toFixed(2)}`;
      return doubtAbout({
        code: 'contact_suspected',
        severity,
        line: line.id,
        chainageM,
        sentence: `Line ${line.name}, ${where}: ${what} (log-log slope ${range}).`,
        remedy: REMEDY,
        readings: slopesHere.flatMap(({ rungs }) => rungs.flatMap(readingsOf)),
      });
    };
    // A line that is steep as a whole has one cause, and says it once.
    const wholeLine = (certain.length + perhaps.length) * 2 >= of;
    if (found.length > 2 && wholeLine) {
      const where = `${found.length} of ${counted(of, 'ladder')} (${chainageList(found.map(({ chainageM }) => chainageM))})`;
      return [about(found, where, null)];
    }
    return found.map((slope) => about([slope], metres(slope.chainageM), slope.chainageM));
  }
};
