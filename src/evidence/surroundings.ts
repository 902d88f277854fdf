import { toLonLat } from '../position/crs';
import type { TrackOutcome } from '../position/track';
import type { LineId } from '../survey/ids';
import type { Survey } from '../survey/survey';
import type { PlacedThing, StationPlace } from './doubts/doubt-context';

/**
 * What was written down of the surroundings, and the karst features, where they have a place. Features with a word on
 * confidentiality are left out: a doubt would tell, in every share of the line, that an opening is near. So is what a
 * share placed by the middle of a square: it is not there.
 */
export function thingsOf({ surroundings, features, site }: Survey): readonly PlacedThing[] {
  const placed = (id: string, kind: string, name: string | null | undefined, positions: readonly Positioned[]) => {
    const places = positions.flatMap((position) => {
      const place = toLonLat(position, site.local_grids);
      return place.ok ? [place.value] : [];
    });
    return places.length > 0 ? [{ id, kind, name: name ?? null, places }] : [];
  };
  return [
    ...surroundings
      .filter(({ retired }) => !retired)
      .flatMap(({ id, kind, name, positions }) => placed(id, kind, name, positions)),
    ...features
      .filter(
        ({ retired, confidentiality, status, generalised_grid_m: gridM }) =>
          !retired && !confidentiality && !gridM && status !== 'rejected',
      )
      .flatMap(({ id, type, name, positions }) => placed(id, type, name, positions)),
  ];
}

type Positioned = Survey['surroundings'][number]['positions'][number];

/** The stations of all references in use, on the ground; those of lines without a place are left out. */
export function stationPlacesOf(
  { references }: Survey,
  trackOf: (line: LineId) => TrackOutcome | null,
): readonly StationPlace[] {
  return references
    .filter(({ retired }) => !retired)
    .flatMap(({ stations }) => stations)
    .flatMap(({ line, chainage_m: chainageM }) => {
      const placed = trackOf(line);
      if (!placed?.ok) return [];
      const { lon, lat } = placed.track.placeAt(chainageM);
      return [{ line, chainageM, lon, lat }];
    });
}
