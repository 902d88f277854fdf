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
import { childOf, descendantsOf, elementsOf, nameOf, rowOf, textOf } from './xml';

/*
 * KML 2.2 (OGC 07-147r2) with the gx:Track of Google's extension. Elements are known by their local names.
 * Coordinates are `lon,lat[,altitude]` tuples parted by spaces, without spaces in a tuple.
 */

const GEOMETRIES = new Set(['Point', 'LineString', 'LinearRing', 'Polygon', 'MultiGeometry', 'Track', 'MultiTrack']);
/** Things with coordinates that are no places of a survey. */
const OTHERS: Readonly<Record<string, string>> = {
  GroundOverlay: 'a picture on the ground',
  ScreenOverlay: 'a picture on the screen',
  PhotoOverlay: 'a photograph',
  NetworkLink: 'a link to another file (not followed)',
  Tour: 'a tour',
};

/** Reads the root element of a KML file; what is wrong is told in the notebook. */
export function readKml(root: Element, notes: Notebook): PlacesFile {
  const places = new PlacesGathering('kml', notes);
  walk(root, null, places);
  return places.finish();
}

function walk(container: Element, folder: string | null, places: PlacesGathering): void {
  for (const element of elementsOf(container)) {
    const name = nameOf(element);
    if (name === 'Placemark') readPlacemark(element, folder, places);
    else if (name === 'Folder' || name === 'Document') {
      const own = name === 'Folder' ? places.name(textOf(element, 'name'), rowOf(element)) : null;
      walk(element, own ?? folder, places);
    } else if (OTHERS[name] !== undefined) {
      places.skip(rowOf(element), name, 'a placemark', `${OTHERS[name]} was left out.`, coordinatesIn(element));
    } else if (name === 'Update' || name === 'NetworkLinkControl') {
      places.skip(
        rowOf(element),
        name,
        'a placemark',
        'a change to another file was left out.',
        coordinatesIn(element),
      );
    }
  }
}

/** Tuples of everything below an element, to say how much is left out with it. */
function coordinatesIn(element: Element): number {
  const tuples = descendantsOf(element, 'coordinates').flatMap((each) => tuplesOf(each).tuples).length;
  const coords = descendantsOf(element, 'coord').filter((each) => textOf(each) !== null).length;
  return tuples + coords;
}

function readPlacemark(placemark: Element, folder: string | null, places: PlacesGathering): void {
  const row = rowOf(placemark);
  const fields = extendedData(placemark);
  const described: Described = {
    name: places.name(textOf(placemark, 'name'), row),
    folder,
    type: fields.type ?? null,
    remark: plainText(textOf(placemark, 'description')),
    fields,
  };
  const time = childOf(placemark, 'TimeStamp');
  const when = places.time(textOf(time, 'when'), time ? rowOf(time) : row);
  const children = elementsOf(placemark);
  const geometries = children.filter((element) => GEOMETRIES.has(nameOf(element)));
  const models = children.filter((element) => nameOf(element) === 'Model');
  for (const model of models) places.skip(rowOf(model), 'Model', 'a point or a line', 'a solid model was left out.');
  if (geometries.length === 0 && models.length === 0) {
    places.skip(
      row,
      'no geometry',
      'a point or a line',
      `the placemark ${called(described)} has no place and was left out.`,
    );
  }
  for (const geometry of geometries) readGeometry(geometry, described, when, places);
}

const called = ({ name }: Described): string => (name ? `"${name}"` : 'without a name');

function readGeometry(geometry: Element, described: Described, when: string | null, places: PlacesGathering): void {
  const row = rowOf(geometry);
  switch (nameOf(geometry)) {
    case 'Point': {
      const vertices = verticesOf(geometry, described, when, places);
      vertices.slice(0, 1).forEach((vertex) => {
        places.point(vertex, described);
      });
      if (vertices.length > 1) {
        places.skip(
          row,
          `${vertices.length} places`,
          'one place',
          `${called(described)} is a point with more than one place; the first was taken.`,
          vertices.length - 1,
        );
      }
      break;
    }
    case 'LineString':
      places.line(verticesOf(geometry, described, when, places), 'line', described, row);
      break;
    case 'LinearRing':
      places.line(verticesOf(geometry, described, when, places), 'outline', described, row);
      break;
    case 'Polygon':
      for (const boundary of elementsOf(geometry)) {
        const ring = childOf(boundary, 'LinearRing');
        if (!ring) continue;
        if (nameOf(boundary) === 'outerBoundaryIs') readGeometry(ring, described, when, places);
        else
          places.skip(
            rowOf(ring),
            'an inner boundary',
            'an outer boundary',
            `the hole in the area ${called(described)} was left out.`,
            coordinatesIn(ring),
          );
      }
      break;
    case 'MultiGeometry':
    case 'MultiTrack': {
      const parts = elementsOf(geometry).filter((element) => GEOMETRIES.has(nameOf(element)));
      if (parts.length === 0)
        places.skip(row, 'no geometry', 'a point or a line', `${called(described)} has no place in it.`);
      // Parts of one name are told apart only where there is more than one line among them.
      const lines = parts.filter((part) => nameOf(part) !== 'Point').length;
      parts.forEach((part, i) => {
        const name = described.name && lines > 1 ? `${described.name} part ${i + 1}` : (described.name ?? null);
        readGeometry(part, { ...described, name }, when, places);
      });
      break;
    }
    case 'Track':
      readGxTrack(geometry, described, places);
      break;
  }
}

/** Times and places stand in two lists of one order: the n-th belongs to the n-th. */
function readGxTrack(track: Element, described: Described, places: PlacesGathering): void {
  const row = rowOf(track);
  const children = elementsOf(track);
  const times = children.filter((element) => nameOf(element) === 'when');
  const coords = children.filter((element) => nameOf(element) === 'coord');
  if (coords.length === 0) {
    places.skip(row, 'no places', 'gx:coord', `the track ${called(described)} has no places.`);
    return;
  }
  const paired = times.length === coords.length;
  if (!paired && times.length > 0) {
    places.notes.guessed(
      { row, column: 'when' },
      `${times.length} times`,
      `${coords.length} times`,
      `${places.notes.label}, line ${row}: the track ${called(described)} has ${times.length} times for ${coords.length} places, so its times were left out.`,
    );
  }
  const blank = coords.filter((coord) => textOf(coord) === null).length;
  if (blank > 0) {
    places.skip(
      row,
      `${blank} blank`,
      'a place',
      `${blank} of the ${coords.length} entries of the track ${called(described)} have no place and were left out.`,
    );
  }
  const keepsHeights = heightsRule(track, described, places);
  const vertices = coords.flatMap((coord, i) => {
    const text = textOf(coord);
    if (text === null) return [];
    const time = paired ? places.time(textOf(times[i] ?? null), rowOf(times[i] ?? coord)) : null;
    const parts = text.split(' ');
    if (places.isPauseMark(parts[0] ?? null, parts[1] ?? null, rowOf(coord))) return [];
    return vertexOf(parts, rowOf(coord), time, keepsHeights, places) ?? [];
  });
  places.line(vertices, 'track', described, row);
}

interface Tuples {
  readonly tuples: readonly { readonly text: string; readonly row: number }[];
  /** Spaces behind commas, against the standard, were taken out. */
  readonly repaired: boolean;
}

function tuplesOf(coordinates: Element): Tuples {
  const text = coordinates.textContent ?? '';
  const joined = text.replace(/[^\S\n]*,\s*/g, ',').replace(/\n\s*,/g, ',');
  const repaired = joined !== text;
  const tuples: { text: string; row: number }[] = [];
  // Rows can be told only where nothing was joined across them.
  const from = rowOf(coordinates);
  joined.split('\n').forEach((line, i) => {
    for (const tuple of line.split(/\s+/)) if (tuple !== '') tuples.push({ text: tuple, row: from + i });
  });
  return { tuples, repaired };
}

function verticesOf(
  geometry: Element,
  described: Described,
  when: string | null,
  places: PlacesGathering,
): readonly PlaceVertex[] {
  const element = childOf(geometry, 'coordinates');
  const { tuples, repaired } = element ? tuplesOf(element) : { tuples: [], repaired: false };
  const row = element ? rowOf(element) : rowOf(geometry);
  if (tuples.length === 0) {
    places.skip(row, 'no coordinates', 'coordinates', `${called(described)} has no coordinates and was left out.`);
    return [];
  }
  if (repaired) {
    places.notes.guessed(
      { row, column: 'coordinates' },
      textOf(element) ?? '',
      'lon,lat,altitude without spaces',
      `${places.notes.label}, line ${row}: the coordinates of ${called(described)} have spaces beside their commas; they were read as if they had none.`,
    );
  }
  const keepsHeights = heightsRule(geometry, described, places);
  return tuples.flatMap(({ text, row: tupleRow }) => {
    const parts = text.split(',');
    if (parts.length === 4 && !repaired && parts.every((part) => strictNumber(part) !== null)) {
      places.notes.skipped(
        { row: tupleRow, column: 'coordinates' },
        text,
        'lon,lat,altitude',
        `${places.notes.label}, line ${tupleRow}: the fourth number of "${text.slice(0, 60)}" was left out.`,
      );
    } else if (parts.length < 2 || parts.length > 3) {
      places.leftOut += 1;
      places.wrong(tupleRow, 'coordinates', text, 'lon,lat or lon,lat,altitude, with points as decimal signs');
      return [];
    }
    return vertexOf(parts, tupleRow, when, keepsHeights, places) ?? [];
  });
}

/**
 * Whether altitudes count. KML lays a geometry on the ground unless it says otherwise, and drawn ones then have a 0 that
 * nobody measured; what is above the ground or the sea floor is no height of the ground.
 */
function heightsRule(geometry: Element, described: Described, places: PlacesGathering): (altitude: number) => boolean {
  const parent = geometry.parentNode as Element | null;
  const mode =
    textOf(geometry, 'altitudeMode') ??
    (parent && nameOf(parent) === 'MultiTrack' ? textOf(parent, 'altitudeMode') : null);
  if (mode === 'absolute') return () => true;
  const isSaid = mode !== null;
  if (!isSaid) return (altitude) => altitude !== 0;
  return (altitude) => {
    if (altitude === 0) return false;
    places.notes.skippedOnce(
      `altitudeMode ${rowOf(geometry)}`,
      { row: rowOf(geometry), column: 'altitudeMode' },
      mode,
      'absolute',
      `${places.notes.label}, line ${rowOf(geometry)}: the altitudes of ${called(described)} are ${mode}, so they are no heights above the sea and were left out.`,
    );
    return false;
  };
}

function vertexOf(
  [lonText, latText, altitudeText]: readonly string[],
  row: number,
  time: string | null,
  keepsHeight: (altitude: number) => boolean,
  places: PlacesGathering,
): PlaceVertex | null {
  const lonLat = places.lonLat(lonText ?? null, latText ?? null, row);
  if (!lonLat) return null;
  const altitude = places.number(altitudeText ?? null, row, 'altitude', 'elevation_m');
  const position: Position = {
    x: lonLat.lon,
    y: lonLat.lat,
    crs: 'EPSG:4326',
    source: 'kml',
    ...said<Position>({ elevation_m: altitude !== null && keepsHeight(altitude) ? altitude : null, time }),
  };
  return { position, lonLat, row };
}

/** `Data` and `SimpleData` by their names. */
function extendedData(placemark: Element): Readonly<Record<string, string>> {
  const data = childOf(placemark, 'ExtendedData');
  if (!data) return {};
  const pairs = [
    ...descendantsOf(data, 'Data').map((each) => [each.getAttribute('name'), textOf(each, 'value')] as const),
    ...descendantsOf(data, 'SimpleData').map((each) => [each.getAttribute('name'), textOf(each)] as const),
  ];
  return Object.fromEntries(pairs.flatMap(([name, value]) => (name && value ? [[name, value] as const] : [])));
}
