import type { ReferenceBasis, Settings } from '../../findings';
import { HOOKUP_LABEL } from '../../survey/hookup';
import { counted, metres } from '../../survey/wording';
import { type DoubtContext, doubtAbout, type FindDoubts, readingsOf, type ScoredPlace } from './doubt-context';

type Lack = 'none' | 'site_median' | 'other_day' | 'few_stations';

const SENTENCES: Record<Lack, string> = {
  none: 'nothing to compare with: no reference spacing near enough, and too few stations for a site median',
  site_median:
    "no reference that reaches them: compared with the site's own median, which hides what the whole site shares",
  other_day: 'no reference of their own day: compared with another day, when the ground may have been wetter or drier',
  few_stations: 'a reference of few stations: how much quiet ground scatters is assumed, not measured',
};
const LACKS = Object.keys(SENTENCES) as readonly Lack[];

const LACK_OF_BASIS: Partial<Record<ReferenceBasis, Lack>> = {
  none: 'none',
  site_median: 'site_median',
  other_day: 'other_day',
  other_day_and_wetting: 'other_day',
};

function lackOf({ score }: ScoredPlace, settings: Settings): Lack | null {
  const { basis, stations } = score;
  return LACK_OF_BASIS[basis] ?? ((stations ?? 0) < settings.medianStations ? 'few_stations' : null);
}

/** Readings that are compared with less than five stations of their own hookup, day and spacing. */
export const outsideReference: FindDoubts = (context) => {
  const places = context.places.filter(({ place }) => place.counted.length > 0);
  const lacks = places.map((scored) => lackOf(scored, context.settings));
  return LACKS.flatMap((lack) => {
    const outside = places.filter((_, i) => lacks[i] === lack);
    return outside.length > 0 ? [told(context, outside, lack)] : [];
  });
};

function told({ line }: DoubtContext, outside: readonly ScoredPlace[], lack: Lack) {
  const hookups = [...new Set(outside.map(({ place }) => HOOKUP_LABEL[place.hookup]))].join(', ');
  const spacings = [...new Set(outside.map(({ place }) => place.spacingM))].filter((spacingM) => spacingM !== null);
  const at =
    spacings.length > 0
      ? ` at ${spacings
          .sort((p, q) => p - q)
          .map(metres)
          .join(', ')}`
      : '';
  return doubtAbout({
    code: 'outside_reference',
    severity: lack === 'none' ? 'warning' : 'note',
    line: line.id,
    aspect: lack,
    sentence: `Line ${line.name}, ${counted(outside.length, 'place')} (${hookups}${at}): ${SENTENCES[lack]}.`,
    remedy:
      'Take the same spacings with the same hookup at five quiet stations on the same day, and mark them as reference.',
    readings: outside.flatMap(({ place }) => readingsOf(place)),
  });
}
