import type { Findings } from '../findings';
import { type LonLat, toLonLat } from '../position/crs';
import type { Position, Survey } from '../survey/survey';

/** Every place that a share shows exactly, piece by piece: lines, remotes, features, surroundings. */
export function shownPlaces(shown: Survey, findings: Findings): readonly (readonly (readonly LonLat[])[])[] {
  const { local_grids: grids } = shown.site;
  const placesOf = (positions: readonly Position[]): readonly (readonly LonLat[])[] =>
    positions.flatMap((position) => {
      const place = toLonLat(position, grids);
      return place.ok ? [[place.value]] : [];
    });
  return [
    ...findings.lines.map(({ track }) => [track]),
    ...shown.outings.map(({ remotes }) => placesOf(remotes.map(({ position }) => position))),
    ...shown.features.filter(({ generalised_grid_m: gridM }) => !gridM).map(({ positions }) => placesOf(positions)),
    ...shown.surroundings.map(({ positions }) => placesOf(positions)),
  ];
}
