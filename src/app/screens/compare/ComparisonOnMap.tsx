import { useEffect } from 'react';
import { changesDrawn } from '../../../map/change-layers';
import { EMPTY_COLLECTION, type Picture } from '../../../map/picture';
import type { SurveyMap } from '../../../map/survey-map';
import type { Compared } from '../../compare/compared';

export interface ComparisonOnMapProps {
  readonly map: SurveyMap;
  readonly picture: Picture;
  readonly compared: Compared;
}

/** Keeps the changes on the map for as long as the comparison is open. */
export function ComparisonOnMap({ map, picture, compared }: ComparisonOnMapProps) {
  const { segments } = picture;
  const { matched } = compared.comparison;
  useEffect(() => {
    map.showChanges(changesDrawn(segments, matched));
    return () => map.showChanges(EMPTY_COLLECTION);
  }, [map, segments, matched]);
  return null;
}
