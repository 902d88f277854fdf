import { type Heights, heightsOfLegs } from '../../position/heights';
import type { Track } from '../../position/track';
import type { Line } from '../../survey/survey';
import { counted, metres } from '../../survey/wording';
import { doubtAbout, type FindDoubts, readingsOf } from './doubt-context';

/**
 * Slopes that differ by less hardly show in readings: Fox, Hohmann, Killpack and Rijo 1980 (Geophysics 45:75,
 * doi 10.1190/1.1441041) name 10° over a dipole length or more; value from memory.
 */
const LEAST_TURN_DEG = 10;
/** Straights shorter than this tell of a stone, or of an error of the heights, not of the ground (choice). */
const SHORTEST_M = 1;
/** Of a height that a fix brought, m: a satellite fix is rarely better (common practice, no source). */
const FIX_HEIGHT_SIGMA_M = 1;

interface Break {
  readonly chainageM: number;
  readonly turnDeg: number;
}

/** Readings within one spacing of a place where the slope breaks: the formulae hold for ground that keeps to one slope. */
export const slopeBreak: FindDoubts = ({ line, placed, places }) => {
  if (!placed.ok || placed.track.slopeBreaks.length < 3) return [];
  return breaksOf(placed.track, line).flatMap(({ chainageM, turnDeg }) => {
    const near = places.filter(
      ({ place }) => place.spacingM !== null && Math.abs(place.chainageM - chainageM) <= place.spacingM,
    );
    if (near.length === 0) return [];
    return [
      doubtAbout({
        code: 'slope_break',
        severity: 'note',
        line: line.id,
        chainageM,
        sentence: `Line ${line.name}: the slope changes by ${Math.round(Math.abs(turnDeg))}° at ${metres(chainageM)}, a ${turnDeg > 0 ? 'hollow' : 'crest'}, within one spacing of ${counted(near.length, 'place')}. The shape of the ground alone changes readings there.`,
        remedy:
          'Compare with a reference on ground of the same shape, or read a line beside it that keeps to one slope.',
        readings: near.flatMap(({ place }) => readingsOf(place)),
      }),
    ];
  });
};

function breaksOf(track: Track, line: Line): readonly Break[] {
  const elevations: Heights = track.slopeBreaks.flatMap((chainageM) => {
    const heightM = track.elevationAt(chainageM);
    return heightM === null ? [] : [{ chainageM, heightM }];
  });
  const heights = elevations.length > 0 ? elevations : heightsOfLegs(line);
  const levelled = line.profile.length >= 2 || elevations.length === 0;
  return heights.flatMap((here, i) => {
    const before = heights[i - 1];
    const after = heights[i + 1];
    if (!before || !after) return [];
    const lengths = [here.chainageM - before.chainageM, after.chainageM - here.chainageM] as const;
    if (Math.min(...lengths) < SHORTEST_M) return [];
    const slopes = [(here.heightM - before.heightM) / lengths[0], (after.heightM - here.heightM) / lengths[1]] as const;
    const turnDeg = ((Math.asin(slopes[1]) - Math.asin(slopes[0])) * 180) / Math.PI;
    const sigmaDeg = levelled
      ? 0
      : (FIX_HEIGHT_SIGMA_M * Math.hypot(1 / lengths[0] + 1 / lengths[1], 1 / lengths[0], 1 / lengths[1]) * 180) /
        Math.PI;
    return Math.abs(turnDeg) >= LEAST_TURN_DEG + 2 * sigmaDeg ? [{ chainageM: here.chainageM, turnDeg }] : [];
  });
}
