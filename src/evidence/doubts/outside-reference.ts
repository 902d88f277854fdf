import type { ReferenceBasis } from '../../findings';
import { HOOKUP_LABEL } from '../../survey/hookup';
import { counted, metres } from '../../survey/wording';
import { doubtAbout, type FindDoubts, readingsOf } from './doubt-context';

const SENTENCES: Partial<Record<ReferenceBasis, string>> = {
  site_median:
    "have no reference of their hookup and are compared with the site's own median, which hides what is common to the whole site",
  other_day: 'have no reference of their day and are compared with that of another day, when the ground was not as wet',
  none: 'have nothing to be compared with: no reference reading within a factor 1.25 of their spacing, and too few stations for a site median',
};

/** Readings that are compared with less than a reference of their own hookup, day and spacing, or with nothing. */
export const outsideReference: FindDoubts = ({ line, places }) => {
  const bases = new Set(places.map(({ score }) => score.basis));
  return (['none', 'site_median', 'other_day'] as const).flatMap((basis) => {
    if (!bases.has(basis)) return [];
    const outside = places.filter(({ place, score }) => score.basis === basis && place.counted.length > 0);
    if (outside.length === 0) return [];
    const hookups = [...new Set(outside.map(({ place }) => HOOKUP_LABEL[place.hookup]))].join(', ');
    const spacings = [...new Set(outside.flatMap(({ place }) => (place.spacingM === null ? [] : [place.spacingM])))];
    const at =
      spacings.length > 0
        ? ` at ${spacings
            .sort((p, q) => p - q)
            .map(metres)
            .join(', ')}`
        : '';
    const doubt = doubtAbout({
      code: 'outside_reference',
      severity: basis === 'none' ? 'warning' : 'note',
      line: line.id,
      sentence: `Line ${line.name}: ${counted(outside.length, 'place')} (${hookups}${at}) ${SENTENCES[basis]}.`,
      remedy:
        'Take the same spacings with the same hookup at five quiet stations on the same day, and mark them as reference.',
      readings: outside.flatMap(({ place }) => readingsOf(place)),
    });
    return [{ ...doubt, id: `${doubt.id}:${basis}` }];
  });
};
