import { counted } from '../../survey/wording';
import type { ReadingFigure } from '../figure';
import { doubtAbout, type FindDoubts } from './doubt-context';

/** A figure that was never repeated carries an assumed error, not a measured one. One doubt a line. */
export const singleReading: FindDoubts = ({ line, places, settings }) => {
  const once = places.filter(({ place }) => place.counted.length === 1);
  if (once.length === 0) return [];
  const floor = Math.round(settings.standardErrorFloor * 100);
  return [
    doubtAbout({
      code: 'single_reading',
      severity: 'note',
      line: line.id,
      sentence: `Line ${line.name}: ${once.length} of ${counted(places.length, 'place')} ${once.length === 1 ? 'was' : 'were'} read once: the error is assumed (${floor} % at least), not measured.`,
      remedy: 'Repeat some stations with the rods pulled and driven again, the striking ones first.',
      readings: once.map(({ place }) => (place.counted[0] as ReadingFigure).reading.id),
    }),
  ];
};
