import { done, type Outcome } from '../survey/outcome';
import type { LocalGrid, Position } from '../survey/survey';
import { accuracyOf } from './accuracy';
import { circular, type UncertainPlace } from './covariance';
import { toLonLat } from './crs';

/** A position of the record as the start of a tape or a bearing. Refusals: those of `toLonLat`. */
export function uncertainPlaceOf(position: Position, grids: readonly LocalGrid[]): Outcome<UncertainPlace> {
  const place = toLonLat(position, grids);
  return place.ok ? done({ ...place.value, covariance: circular(accuracyOf(position).sigmaM) }) : place;
}
