import { counted, metres } from '../../survey/wording';
import { besideLine, fromSpanM, widestM } from './beside-line';
import { doubtAbout, type FindDoubts, readingsOf } from './doubt-context';

/** What stands open in the ground; also as a karst feature. */
export const OPENINGS: readonly string[] = [
  'opening',
  'cave_entrance',
  'shaft',
  'swallow_hole',
  'ponor',
  'estavelle',
  'karst_window',
];

/** Readings whose rods come within one spacing of an opening: it changes them as a hollow under the line would. */
export const nearOpening: FindDoubts = ({ line, placed, places, things }) => {
  if (!placed.ok || things.length === 0) return [];
  const { track } = placed;
  const reachM = widestM(places);
  return things
    .filter(({ kind }) => OPENINGS.includes(kind))
    .flatMap((thing) => {
      const points = besideLine(thing, track, reachM);
      if (points.length === 0) return [];
      const near = places.filter(
        ({ place }) =>
          place.spacingM !== null && points.some((point) => fromSpanM(point, place) <= (place.spacingM as number)),
      );
      if (near.length === 0) return [];
      const nearest = points.reduce((least, point) => (point.offsetM < least.offsetM ? point : least));
      return [
        doubtAbout({
          code: 'near_opening',
          severity: 'warning',
          line: line.id,
          chainageM: nearest.chainageM,
          aspect: thing.id,
          sentence: `Line ${line.name}: an opening${thing.name ? ` (${thing.name})` : ''} lies ${metres(Number(nearest.offsetM.toFixed(1)))} from the line at ${metres(nearest.chainageM)}, within one spacing of the rods of ${counted(near.length, 'place')}: it can stand behind what they show.`,
          remedy:
            'Keep off the rim. Judge the line by the readings farther away, and do not read these as a second hollow.',
          readings: near.flatMap(({ place }) => readingsOf(place)),
        }),
      ];
    });
};
