import { isTwoProbe } from '../../survey/hookup';
import type { Line } from '../../survey/survey';
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

interface Verdict {
  readonly severity: 'warning' | 'note';
  readonly what: string;
}

const CONTACT: Verdict = {
  severity: 'warning',
  what: 'the figure climbs about in proportion to spacing, as the contact of the rods alone would make it',
};
const PERHAPS: Verdict = {
  severity: 'note',
  what: 'the figure climbs steeply with spacing: contact, or thin soil over rock',
};
const FOUR_ELECTRODES: Verdict = {
  severity: 'note',
  what: 'the figure climbs about in proportion to spacing; four electrodes hardly feel their contacts, so this is thin soil over rock, or another hookup than the one written down',
};

function verdictOf({ slope, rungs }: LadderSlope): Verdict | null {
  if (slope < PERHAPS_SLOPE) return null;
  const hookup = rungs[0]?.hookup ?? 'unknown';
  const feelsContact = isTwoProbe(hookup) || hookup === 'pole_pole';
  if (slope < CONTACT_SLOPE) return feelsContact ? PERHAPS : null;
  return feelsContact ? CONTACT : FOUR_ELECTRODES;
}

/** Ladders whose slope is that of contact. A line that is steep as a whole has one cause, and says it once. */
export const contactSuspected: FindDoubts = ({ line, slopes }) => {
  const steep = slopes.filter((slope) => verdictOf(slope) !== null).length;
  return [CONTACT, PERHAPS, FOUR_ELECTRODES].flatMap((verdict) => {
    const found = slopes.filter((slope) => verdictOf(slope) === verdict);
    if (found.length > 2 && steep * 2 >= slopes.length) {
      const chainages = chainageList(found.map(({ chainageM }) => chainageM));
      const where = `${found.length} of ${counted(slopes.length, 'ladder')} (${chainages})`;
      return [told(line, verdict, found, where, null)];
    }
    return found.map((slope) => told(line, verdict, [slope], metres(slope.chainageM), slope.chainageM));
  });
};

function told(line: Line, verdict: Verdict, found: readonly LadderSlope[], where: string, chainageM: number | null) {
  const slopes = found.map(({ slope }) => slope);
  const [gentlest, steepest] = [Math.min(...slopes).toFixed(2), Math.max(...slopes).toFixed(2)];
  const range = found.length === 1 ? steepest : `${gentlest} to ${steepest}`;
  const hookups = [...new Set(found.map(({ rungs }) => rungs[0]?.hookup))].join('+');
  return doubtAbout({
    code: 'contact_suspected',
    severity: verdict.severity,
    line: line.id,
    chainageM,
    aspect: `${verdict.severity}:${hookups}`,
    sentence: `Line ${line.name}, ${where}: ${verdict.what} (log-log slope ${range}).`,
    remedy: REMEDY,
    readings: found.flatMap(({ rungs }) => rungs.flatMap(readingsOf)),
  });
}
