import { crsOf, type LonLat, toLonLat } from '../../position/crs';
import { done, type Outcome, refuse } from '../../survey/outcome';
import type { Position } from '../../survey/survey';
import { decodeText } from './decode';
import type { Notebook } from './notebook';
import { type Described, type PlacesFile, PlacesGathering, type PlaceVertex, plainText, said } from './places-file';

/*
 * GeoJSON (RFC 7946) and the older form with a `crs` member (GeoJSON 2008), whose code is then the system of all
 * coordinates. Rows are numbers of features.
 */

const TYPES = new Set([
  ...['FeatureCollection', 'Feature', 'GeometryCollection'],
  ...['Point', 'MultiPoint', 'LineString', 'MultiLineString', 'Polygon', 'MultiPolygon'],
]);
/** Collections within collections. Choice. */
const DEEPEST = 16;
const WGS84 = /^(?:urn:ogc:def:crs:)?(?:OGC:(?:1\.3:|:)?CRS84|WGS[ _]?84|EPSG::?4326)$/i;

type Json = Readonly<Record<string, unknown>>;
const isObject = (value: unknown): value is Json =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Whether bytes are GeoJSON by their `type`; false for text that is no JSON at all. */
export function isGeoJson(bytes: Uint8Array): boolean {
  const parsed = parseJson(bytes);
  return (
    parsed.ok && isObject(parsed.value) && TYPES.has(String(parsed.value.type)) && parsed.value.format === undefined
  );
}

function parseJson(bytes: Uint8Array): Outcome<unknown> {
  const decoded = decodeText(bytes);
  if (!decoded.ok) return decoded;
  try {
    return done(JSON.parse(decoded.value.text));
  } catch (error) {
    const why = error instanceof Error ? error.message : 'it cannot be parsed';
    return refuse(
      'not_json',
      `This is not whole GeoJSON (${why.replace(/\s+/g, ' ').slice(0, 120)}). Nothing was read.`,
    );
  }
}

/** Reads GeoJSON bytes; null with a fault where there is nothing to go on. */
export function readGeoJson(bytes: Uint8Array, notes: Notebook): PlacesFile | null {
  const fault = (read: string, expected: string, sentence: string): null => {
    notes.fault({ row: null, column: null }, read, expected, `${notes.label}: ${sentence}`);
    return null;
  };
  const parsed = parseJson(bytes);
  if (!parsed.ok) return fault('no whole JSON', `GeoJSON; ${parsed.sentence}`, parsed.sentence);
  const json = parsed.value;
  if (!isObject(json) || !TYPES.has(String(json.type))) {
    return fault('JSON', 'GeoJSON', 'This is JSON and no GeoJSON: it has no "type" such as FeatureCollection.');
  }
  const crs = crsMember(json, notes);
  if (!crs.ok) return fault('crs', `a coordinate system that can be computed here; ${crs.sentence}`, crs.sentence);
  if (isOwnLayer(json)) {
    notes.skipped(
      { row: null, column: null },
      'a layer that this program wrote',
      'places from the field',
      `${notes.label} is a layer that was computed here, not places from the field, and was left out.`,
    );
    return new PlacesGathering('geojson', notes).finish();
  }
  const reading = new GeoJsonReading(new PlacesGathering('geojson', notes), crs.value);
  if (json.type === 'FeatureCollection') {
    if (!Array.isArray(json.features)) return fault('no features', 'a list of features', 'It has no list of features.');
    json.features.forEach((feature, i) => {
      reading.feature(feature, i + 1);
    });
  } else if (json.type === 'Feature') reading.feature(json, 1);
  else reading.geometry(json, {}, 1, 0);
  return reading.places.finish();
}

/** Layers that are written here have the id of every feature among its properties too, as `sid`. */
function isOwnLayer({ features }: Json): boolean {
  if (!Array.isArray(features) || features.length === 0) return false;
  return features.every(
    (each) =>
      isObject(each) && typeof each.id === 'string' && isObject(each.properties) && each.properties.sid === each.id,
  );
}

function crsMember(json: Json, notes: Notebook): Outcome<string> {
  if (!('crs' in json)) return done('EPSG:4326');
  const { crs } = json;
  const name = isObject(crs) && crs.type === 'name' && isObject(crs.properties) ? crs.properties.name : undefined;
  if (typeof name !== 'string') {
    return refuse(
      'crs',
      'Its crs member names no coordinate system. Remove it, or save the file in longitude and latitude.',
    );
  }
  if (WGS84.test(name)) return done('EPSG:4326');
  const number = /EPSG:(?:[\d.]*:)?(\d{4,6})$/i.exec(name)?.[1];
  if (number === undefined) {
    return refuse(
      'crs',
      `Its crs member names "${name.slice(0, 60)}", which is no EPSG code. Save the file in longitude and latitude.`,
    );
  }
  const code = `EPSG:${number}`;
  const known = crsOf(code);
  if (!known.ok) return known;
  notes.guessed(
    { row: null, column: 'crs' },
    name,
    'WGS 84',
    `${notes.label}: its coordinates were read as ${code} (${known.value.name}), as its crs member says.`,
  );
  return done(code);
}

class GeoJsonReading {
  constructor(
    readonly places: PlacesGathering,
    private readonly crs: string,
  ) {}

  feature(feature: unknown, row: number): void {
    if (!isObject(feature) || feature.type !== 'Feature') {
      this.places.wrong(row, 'type', isObject(feature) ? String(feature.type) : String(feature), 'Feature');
      return;
    }
    const properties = isObject(feature.properties) ? feature.properties : {};
    const fields = Object.fromEntries(
      Object.entries(properties).flatMap(([key, value]) =>
        ['string', 'number', 'boolean'].includes(typeof value) ? [[key, String(value)] as const] : [],
      ),
    );
    const described: Described = {
      name: this.places.name(fields.name ?? fields.Name ?? fields.title ?? fields.label ?? null, row),
      type: fields.type ?? null,
      remark: plainText(fields.description ?? null),
      fields,
    };
    if (feature.geometry === null || feature.geometry === undefined) {
      this.places.skip(row, 'no geometry', 'a point or a line', `${called(described)} has no place and was left out.`);
      return;
    }
    this.geometry(feature.geometry, described, row, 0);
  }

  geometry(geometry: unknown, described: Described, row: number, depth: number): void {
    const { places } = this;
    if (!isObject(geometry) || depth > DEEPEST) {
      places.wrong(row, 'geometry', isObject(geometry) ? 'very deep collections' : String(geometry), 'a geometry');
      return;
    }
    const { type, coordinates } = geometry;
    switch (type) {
      case 'Point':
        this.point(coordinates, described, row);
        break;
      case 'MultiPoint':
        for (const each of this.list(coordinates, row)) this.point(each, described, row);
        break;
      case 'LineString':
        this.line(coordinates, 'line', described, row);
        break;
      case 'MultiLineString': {
        const parts = this.list(coordinates, row);
        parts.forEach((part, i) => {
          const name =
            described.name && parts.length > 1 ? `${described.name} part ${i + 1}` : (described.name ?? null);
          this.line(part, 'line', { ...described, name }, row);
        });
        break;
      }
      case 'Polygon':
        this.polygon(coordinates, described, row);
        break;
      case 'MultiPolygon':
        for (const part of this.list(coordinates, row)) this.polygon(part, described, row);
        break;
      case 'GeometryCollection':
        for (const each of this.list(geometry.geometries, row)) this.geometry(each, described, row, depth + 1);
        break;
      default:
        places.wrong(row, 'type', String(type), 'a kind of geometry such as Point or LineString');
    }
  }

  private list(value: unknown, row: number): readonly unknown[] {
    if (Array.isArray(value)) return value;
    this.places.wrong(row, 'coordinates', JSON.stringify(value)?.slice(0, 60) ?? 'nothing', 'a list');
    return [];
  }

  private point(coordinates: unknown, described: Described, row: number): void {
    if (Array.isArray(coordinates) && coordinates.length === 0) {
      this.places.skip(row, 'no coordinates', 'a place', `${called(described)} has no coordinates and was left out.`);
      return;
    }
    const vertex = this.vertex(coordinates, described, row);
    if (vertex) this.places.point(vertex, described);
  }

  private line(coordinates: unknown, kind: 'line' | 'outline', described: Described, row: number): void {
    const list = this.list(coordinates, row);
    if (list.length === 0 && Array.isArray(coordinates)) {
      this.places.skip(row, 'no coordinates', 'places', `${called(described)} has no coordinates and was left out.`);
    }
    const vertices = list.flatMap((each) => this.vertex(each, {}, row) ?? []);
    this.places.line(vertices, kind, described, row);
  }

  private polygon(coordinates: unknown, described: Described, row: number): void {
    const [outer, ...holes] = this.list(coordinates, row);
    if (outer !== undefined) this.line(outer, 'outline', described, row);
    for (const hole of holes) {
      const count = Array.isArray(hole) ? hole.length : 0;
      this.places.skip(
        row,
        'a hole',
        'an outer ring',
        `the hole in the area ${called(described)} was left out.`,
        count,
      );
    }
  }

  private vertex(coordinates: unknown, { fields = {} }: Described, row: number): PlaceVertex | null {
    const { places, crs } = this;
    const numbers =
      Array.isArray(coordinates) && coordinates.every((each) => typeof each === 'number' && Number.isFinite(each));
    if (!numbers || coordinates.length < 2) {
      places.leftOut += 1;
      places.wrong(
        row,
        'coordinates',
        JSON.stringify(coordinates)?.slice(0, 60) ?? 'nothing',
        'two or three numbers: longitude, latitude, height',
      );
      return null;
    }
    const [x, y, height] = coordinates as number[];
    const lonLat = this.locate(x as number, y as number, row);
    if (!lonLat) return null;
    if (coordinates.length > 3) {
      places.notes.skippedOnce(
        'more than three',
        places.where(row, 'coordinates'),
        `${coordinates.length} numbers`,
        'two or three numbers',
        `${places.notes.label}, ${places.at(row)}: numbers behind the third of a place were left out.`,
      );
    }
    const position: Position = {
      x: x as number,
      y: y as number,
      crs,
      source: fields.source ?? 'geojson',
      ...said<Position>({
        elevation_m: places.number(height === undefined ? null : String(height), row, 'height', 'elevation_m'),
        accuracy_m: places.number(fields.accuracy_m ?? fields.accuracy ?? null, row, 'accuracy', 'accuracy_m'),
        hdop: places.number(fields.hdop ?? null, row, 'hdop', 'hdop'),
        time: places.time(fields.time ?? fields.timestamp ?? null, row),
      }),
    };
    return { position, lonLat, row };
  }

  private locate(x: number, y: number, row: number): LonLat | null {
    if (this.crs === 'EPSG:4326') return this.places.lonLat(String(x), String(y), row);
    const placed = toLonLat({ x, y, crs: this.crs }, []);
    if (placed.ok) return placed.value;
    this.places.leftOut += 1;
    this.places.wrong(row, 'coordinates', `${x}, ${y}`, `a place in ${this.crs}`);
    return null;
  }
}

const called = ({ name }: Described): string => (name ? `"${name}"` : 'a feature without a name');
