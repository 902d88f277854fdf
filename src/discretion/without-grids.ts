import { type LonLat, toLonLat } from '../position/crs';
import type { LocalGrid, Position, Survey } from '../survey/survey';

/** A place in longitude and latitude as a position that is known to so many metres, 95 %. */
export function lonLatPosition({ lon, lat }: LonLat, accuracyM: number): Position {
  return { x: lon, y: lat, crs: 'EPSG:4326', accuracy_m: accuracyM, accuracy_level: 95 };
}

/** The same survey with every position of a local grid in longitude and latitude, and without the grids. */
export function withoutGrids(survey: Survey): Survey {
  const { local_grids: grids } = survey.site;
  const site = { ...survey.site, local_grids: [] };
  if (grids.length === 0) return { ...survey, site };
  const at = (position: Position): Position => inLonLat(position, grids);
  return {
    ...survey,
    site,
    outings: survey.outings.map((outing) => ({
      ...outing,
      remotes: outing.remotes.map((remote) => ({ ...remote, position: at(remote.position) })),
    })),
    lines: survey.lines.map((line) => ({
      ...line,
      path: line.path.map((item) => {
        if (item.kind === 'two_tapes') return { ...item, first: at(item.first), second: at(item.second) };
        return 'position' in item ? { ...item, position: at(item.position) } : item;
      }),
    })),
    readings: survey.readings.map((reading) =>
      reading.position ? { ...reading, position: at(reading.position) } : reading,
    ),
    surroundings: survey.surroundings.map((each) => ({ ...each, positions: each.positions.map(at) })),
    features: survey.features.map((feature) => ({ ...feature, positions: feature.positions.map(at) })),
  };
}

function inLonLat(position: Position, grids: readonly LocalGrid[]): Position {
  if (!position.crs.startsWith('grid:')) return position;
  const place = toLonLat(position, grids);
  // What cannot be placed shows no place; the origin of its grid would.
  if (!place.ok) return position;
  return { ...position, x: place.value.lon, y: place.value.lat, crs: 'EPSG:4326', as_entered: null };
}
