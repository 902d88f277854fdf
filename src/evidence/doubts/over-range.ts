import { metres, ohmMetres, shownText } from '../../survey/wording';
import type { ReadingFigure } from '../figure';
import { doubtAbout, type FindDoubts } from './doubt-context';

const isOver = ({ reading }: ReadingFigure): boolean => reading.status === 'over_range';

/** Over range is censored data: above the limit, and never the limit itself. */
export const overRange: FindDoubts = ({ line, places }) =>
  places
    .filter(({ place }) => place.figures.some(isOver))
    .map(({ place }) => {
      const over = place.figures.filter(isOver);
      const { limit, unit, wetting } = (over[0] as ReadingFigure).reading;
      const above = limit ? `above ${shownText(limit, unit)}` : 'above a limit that was not written down';
      const value = place.counted[0];
      const wet = value?.reading.wetting ?? 'none';
      const wetted = wet !== 'none' && wet !== (wetting ?? 'none') ? ' with the rods wetted' : '';
      const then =
        value && value.figureOhmM !== null
          ? ` A value was also read here${wetted}: ${ohmMetres(value.figureOhmM)}.`
          : ' No value was read here.';
      const at = place.spacingM === null ? '' : ` at spacing ${metres(place.spacingM)}`;
      return doubtAbout({
        code: 'over_range',
        severity: value ? 'note' : 'warning',
        line: line.id,
        chainageM: place.chainageM,
        spacingM: place.spacingM,
        aspect: place.hookup,
        sentence: `Line ${line.name}, ${metres(place.chainageM)}${at}: the meter ran over range, ${above}.${then}`,
        remedy:
          'Meter off, then check leads and jumpers, push the rods deeper, wet them with plain water, and read again. Wet the reference in the same way.',
        readings: over.map(({ reading }) => reading.id),
      });
    });
