import { counted, metres } from '../../survey/wording';
import { type Beside, besideLine, fromSpanM, widestM } from './beside-line';
import { doubtAbout, type FindDoubts, readingsOf } from './doubt-context';

const UTILITIES: readonly string[] = ['pipe', 'cable', 'fence'];

/** ASTM G57: no pipe or cable within half the spacing of the span of the electrodes, unless at right angles to it. */
const REACH_SPACINGS = 0.5;
/** What counts as at right angles (choice). */
const NEARLY_RIGHT_DEG = 70;

const runsAlong = ({ crossingDeg }: Beside): boolean => crossingDeg === null || crossingDeg < NEARLY_RIGHT_DEG;

/** Readings whose rods come near a pipe, a cable or a fence, which leads current past the ground. */
export const utilitySuspected: FindDoubts = ({ line, placed, places, things }) => {
  if (!placed.ok || things.length === 0) return [];
  const { track } = placed;
  const reachM = REACH_SPACINGS * widestM(places);
  return things
    .filter(({ kind }) => UTILITIES.includes(kind))
    .flatMap((thing) => {
      const points = besideLine(thing, track, reachM).filter(runsAlong);
      const near = places.filter(
        ({ place }) =>
          place.spacingM !== null &&
          points.some((point) => fromSpanM(point, place) <= REACH_SPACINGS * (place.spacingM as number)),
      );
      const [first, ...others] = points;
      if (!first || near.length === 0) return [];
      const nearest = others.reduce((least, point) => (point.offsetM < least.offsetM ? point : least), first);
      return [
        doubtAbout({
          code: 'utility_suspected',
          severity: 'warning',
          line: line.id,
          chainageM: nearest.chainageM,
          aspect: thing.id,
          sentence: `Line ${line.name}: a ${thing.kind}${thing.name ? ` (${thing.name})` : ''} comes within ${metres(Number(nearest.offsetM.toFixed(1)))} of the line at ${metres(nearest.chainageM)}, nearer than half the spacing to the rods of ${counted(near.length, 'place')}: metal there leads current past the ground.`,
          remedy:
            'Ask the one-call or utility service and sweep before rods are driven. Read a line at right angles to it, or one farther away.',
          readings: near.flatMap(({ place }) => readingsOf(place)),
        }),
      ];
    });
};
