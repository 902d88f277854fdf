import type { Element } from '@xmldom/xmldom';
import type { Position } from '../../survey/survey';
import type { Notebook } from './notebook';
import {
  type Described,
  type PlacesFile,
  PlacesGathering,
  type PlaceVertex,
  plainText,
  said,
  strictNumber,
} from './places-file';
import { childOf, elementsOf, nameOf, rowOf, textOf } from './xml';

/*
 * GPX 1.0 and 1.1 (https://www.topografix.com/GPX/1/1/): waypoints, routes, tracks of segments. Elements are known by
 * their local names, so that files without a namespace, or with a prefix, are read alike.
 */

/** Names that loggers give the horizontal accuracy in metres among their extensions. */
const ACCURACY = new Set(['accuracy', 'accuracy_horizontal', 'hacc', 'horizontalaccuracy', 'horizontal_accuracy']);

/** Reads the root element of a GPX file; what is wrong is told in the notebook. */
export function readGpx(root: Element, notes: Notebook): PlacesFile {
  const places = new PlacesGathering('gpx', notes);
  for (const element of elementsOf(root)) {
    switch (nameOf(element)) {
      case 'wpt': {
        const vertex = vertexOf(element, places);
        if (vertex) places.point(vertex, describe(element, places));
        break;
      }
      case 'rte':
        readLine(element, 'rtept', 'route', describe(element, places), places);
        break;
      case 'trk':
        readTrack(element, places);
        break;
    }
  }
  return places.finish();
}

function readTrack(track: Element, places: PlacesGathering): void {
  const described = describe(track, places);
  const segments = elementsOf(track).filter((element) => nameOf(element) === 'trkseg');
  if (segments.length === 0) {
    places.skip(rowOf(track), 'no segment', 'track points', `the track ${called(described)} has no points.`);
  }
  segments.forEach((segment, i) => {
    const name = described.name && segments.length > 1 ? `${described.name} part ${i + 1}` : (described.name ?? null);
    readLine(segment, 'trkpt', 'track', { ...described, name }, places);
  });
}

function readLine(
  parent: Element,
  pointName: 'rtept' | 'trkpt',
  kind: 'route' | 'track',
  described: Described,
  places: PlacesGathering,
): void {
  const elements = elementsOf(parent).filter((element) => nameOf(element) === pointName);
  if (elements.length === 0) {
    const what = kind === 'route' ? 'route' : 'segment of the track';
    places.skip(rowOf(parent), 'no points', `${kind} points`, `the ${what} ${called(described)} has no points.`);
    return;
  }
  const vertices = elements.flatMap((element) => vertexOf(element, places) ?? []);
  places.line(vertices, kind, described, rowOf(parent));
}

const called = ({ name }: Described): string => (name ? `"${name}"` : 'without a name');

function describe(element: Element, places: PlacesGathering): Described {
  return {
    name: places.name(textOf(element, 'name'), rowOf(element)),
    type: textOf(element, 'type') ?? textOf(element, 'sym'),
    remark: plainText(textOf(element, 'desc') ?? textOf(element, 'cmt')),
  };
}

function vertexOf(element: Element, places: PlacesGathering): PlaceVertex | null {
  const row = rowOf(element);
  const [lon, lat] = [element.getAttribute('lon'), element.getAttribute('lat')];
  if (nameOf(element) === 'trkpt' && places.isPauseMark(lon, lat, row)) return null;
  const lonLat = places.lonLat(lon, lat, row);
  if (!lonLat) return null;
  const satellites = textOf(element, 'sat');
  const more = said<Record<string, number | string>>({
    pdop: places.number(textOf(element, 'pdop'), row, 'pdop', 'hdop'),
    satellites: satellites === null ? null : strictNumber(satellites),
    fix: textOf(element, 'fix'),
  });
  const position: Position = {
    x: lonLat.lon,
    y: lonLat.lat,
    crs: 'EPSG:4326',
    source: 'gpx',
    ...said<Position>({
      elevation_m: places.number(textOf(element, 'ele'), row, 'ele', 'elevation_m'),
      hdop: places.number(textOf(element, 'hdop'), row, 'hdop', 'hdop'),
      accuracy_m: places.number(accuracyText(element), row, 'accuracy', 'accuracy_m'),
      time: places.time(textOf(element, 'time'), row),
    }),
    ...more,
  };
  return { position, lonLat, row };
}

/** The accuracy among the extensions, two levels deep; GPX itself has only dilutions. */
function accuracyText(element: Element): string | null {
  const extensions = childOf(element, 'extensions') ?? element;
  for (const extension of elementsOf(extensions)) {
    for (const candidate of [extension, ...elementsOf(extension)]) {
      if (ACCURACY.has(nameOf(candidate).toLowerCase())) return textOf(candidate);
    }
  }
  return null;
}
