import { metres } from '../../survey/wording';
import { doubtAbout, type FindDoubts, readingsOf } from './doubt-context';

/** A wetted reading has a better contact than the dry reference that it is compared with. */
export const wettingMixed: FindDoubts = ({ line, places }) =>
  places
    .filter(({ score }) => score.basis === 'same_day_other_wetting' || score.basis === 'other_day_and_wetting')
    .map(({ place }) => {
      const at = place.spacingM === null ? '' : ` at spacing ${metres(place.spacingM)}`;
      return doubtAbout({
        code: 'wetting_mixed',
        severity: 'warning',
        line: line.id,
        chainageM: place.chainageM,
        spacingM: place.spacingM,
        aspect: place.hookup,
        sentence: `Line ${line.name}, ${metres(place.chainageM)}${at}: the rods were wetted otherwise than at the reference, so the ratio compares unlike contacts.`,
        remedy: 'Wet the reference stations in the same way and read them, or read this place again without water.',
        readings: readingsOf(place),
      });
    });
