import { crsOf } from '../../position/crs';
import { done, type Outcome, refuse } from '../../survey/outcome';
import type { Position } from '../../survey/survey';
import { decodeText } from './decode';
import { type FeatureFault, fault, type RawFeature, type RawFile } from './karst-raw';

/*
 * Features of GeoJSON (RFC 7946; the older `crs` member is read by its EPSG code). Lines and areas keep all their parts
 * and holes; each point of a MultiPoint and each member of a collection is a feature of its own.
 */

type Json = Readonly<Record<string, unknown>>;
const isObject = (value: unknown): value is Json =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
/** Collections within collections. Choice. */
const DEEPEST = 16;

/** Reads GeoJSON bytes. Refusals: those of `decodeText`, `not_json`, `not_geojson`, `crs`, those of `crsOf`. */
export function readKarstGeoJson(bytes: Uint8Array): Outcome<RawFile> {
  const decoded = decodeText(bytes);
  if (!decoded.ok) return decoded;
  let json: unknown;
  try {
    json = JSON.parse(decoded.value.text);
  } catch (error) {
    return refuse('not_json', `This is not whole JSON: ${error instanceof Error ? error.message : 'it breaks off'}.`);
  }
  if (!isObject(json)) return refuse('not_geojson', 'This is JSON and no GeoJSON: it is not an object.');
  const crs = crsOfMember(json);
  if (!crs.ok) return crs;
  const reading = new Reading(crs.value);
  if (json.type === 'FeatureCollection') {
    if (!Array.isArray(json.features)) return refuse('not_geojson', 'This FeatureCollection has no list of features.');
    json.features.forEach((feature, i) => {
      reading.feature(feature, i + 1);
    });
  } else if (json.type === 'Feature') reading.feature(json, 1);
  else if (typeof json.type === 'string' && ('coordinates' in json || 'geometries' in json)) {
    reading.geometry(json, {}, 1, null, 0);
  } else return refuse('not_geojson', 'This is JSON and no GeoJSON: it has no "type" such as FeatureCollection.');
  return done({ features: reading.features, faults: reading.faults, headers: [...reading.headers] });
}

function crsOfMember({ crs }: Json): Outcome<string> {
  if (crs === undefined || crs === null) return done('EPSG:4326');
  const name = isObject(crs) && isObject(crs.properties) ? String(crs.properties.name) : '';
  if (/CRS84$/i.test(name)) return done('EPSG:4326');
  const code = /EPSG:(?:[\d.]*:)?(\d{4,6})$/i.exec(name)?.[1];
  if (code === undefined) {
    return refuse(
      'crs',
      `The crs member names “${name.slice(0, 60)}”, which is no EPSG code. Save it in longitude and latitude.`,
    );
  }
  const known = crsOf(`EPSG:${code}`);
  return known.ok ? done(`EPSG:${code}`) : known;
}

class Reading {
  readonly features: RawFeature[] = [];
  readonly faults: FeatureFault[] = [];
  readonly headers = new Set<string>();

  constructor(private readonly crs: string) {}

  feature(feature: unknown, row: number): void {
    if (!isObject(feature) || feature.type !== 'Feature') {
      this.bad(row, 'no Feature', `Feature ${row} is none: its type is not "Feature".`);
      return;
    }
    const properties = isObject(feature.properties) ? feature.properties : {};
    const fields: Record<string, string> = {};
    if (typeof feature.id === 'string' || typeof feature.id === 'number') fields['(id)'] = String(feature.id);
    for (const [key, value] of Object.entries(properties)) {
      if (value === null || value === '') continue;
      const text = typeof value === 'object' ? JSON.stringify(value) : String(value);
      if (text !== '[]' && text !== '{}') fields[key] = text;
    }
    for (const key of Object.keys(fields)) this.headers.add(key);
    if (!isObject(feature.geometry)) {
      this.features.push({ row, shape: 'point', positions: [], parts: [], fields, piece: null });
      return;
    }
    this.geometry(feature.geometry, fields, row, null, 0);
  }

  geometry(
    geometry: unknown,
    fields: Readonly<Record<string, string>>,
    row: number,
    piece: number | null,
    depth: number,
  ): void {
    if (!isObject(geometry) || depth > DEEPEST) {
      this.bad(row, 'no geometry', `Feature ${row} has a geometry that is none, or one nested too deep.`);
      return;
    }
    const { type, coordinates: c } = geometry;
    const each = (list: unknown, make: (part: unknown, n: number) => void): void => {
      const parts: readonly unknown[] = Array.isArray(list) ? list : [];
      for (const [i, part] of parts.entries()) make(part, i + 1);
      if (parts.length === 0)
        this.bad(row, 'no coordinates', `Feature ${row}: its ${String(type)} has no coordinates.`);
    };
    const add = (
      shape: RawFeature['shape'],
      rings: readonly { ring: unknown; hole: boolean }[],
      which = piece,
    ): void => {
      const made = this.shaped(shape, rings, row);
      if (made) this.features.push({ row, shape, ...made, fields, piece: which });
    };
    const ringsOf = (polygon: unknown) =>
      (Array.isArray(polygon) ? polygon : [null]).map((ring: unknown, i) => ({ ring, hole: i > 0 }));
    switch (type) {
      case 'Point':
        add('point', [{ ring: [c], hole: false }]);
        break;
      case 'MultiPoint':
        each(c, (point, n) => add('point', [{ ring: [point], hole: false }], n));
        break;
      case 'LineString':
        add('line', [{ ring: c, hole: false }]);
        break;
      case 'MultiLineString':
        add(
          'line',
          (Array.isArray(c) ? c : [null]).map((ring: unknown) => ({ ring, hole: false })),
        );
        break;
      case 'Polygon':
        add('area', ringsOf(c));
        break;
      case 'MultiPolygon':
        add('area', (Array.isArray(c) ? c : [null]).flatMap(ringsOf));
        break;
      case 'GeometryCollection':
        each(geometry.geometries, (member, n) => this.geometry(member, fields, row, n, depth + 1));
        break;
      default:
        this.bad(row, String(type), `Feature ${row}: “${String(type).slice(0, 40)}” is no kind of geometry.`);
    }
  }

  private shaped(
    shape: RawFeature['shape'],
    rings: readonly { readonly ring: unknown; readonly hole: boolean }[],
    row: number,
  ): Pick<RawFeature, 'positions' | 'parts'> | null {
    const positions: Position[] = [];
    const parts: { from: number; hole?: boolean }[] = [];
    let surplus = 0;
    const least = shape === 'point' ? 1 : shape === 'line' ? 2 : 4;
    if (rings.length === 0) {
      this.bad(row, 'no coordinates', `Feature ${row} has no coordinates and was left out.`);
      return null;
    }
    for (const { ring, hole } of rings) {
      if (!Array.isArray(ring) || ring.length < least) {
        const needed =
          shape === 'area'
            ? 'a ring of four positions at least, the last as the first'
            : `${least} position${least > 1 ? 's' : ''}`;
        this.bad(
          row,
          JSON.stringify(ring)?.slice(0, 60) ?? 'nothing',
          `Feature ${row} was left out: it needs ${needed}.`,
        );
        return null;
      }
      parts.push(hole ? { from: positions.length, hole } : { from: positions.length });
      for (const place of ring) {
        const position = this.position(place);
        if (!position) {
          this.bad(
            row,
            JSON.stringify(place) ?? 'nothing',
            `Feature ${row} was left out: a position has to be two or three numbers, not ${JSON.stringify(place)?.slice(0, 40)}.`,
          );
          return null;
        }
        if (Array.isArray(place) && place.length > 3) surplus += 1;
        positions.push(position);
      }
      const [first, last] = [positions[parts[parts.length - 1]?.from ?? 0], positions[positions.length - 1]];
      if (shape === 'area' && (first?.x !== last?.x || first?.y !== last?.y)) {
        this.faults.push(
          fault(
            'bad_geometry',
            row,
            'an open ring',
            `Feature ${row}: a ring is not closed; it was closed with a straight edge.`,
            { leftOut: false },
          ),
        );
      }
    }
    if (surplus > 0) {
      const sentence = `Feature ${row}: ${surplus} of its positions have more than three numbers; only longitude, latitude and height were read.`;
      this.faults.push(fault('bad_geometry', row, 'more than three numbers', sentence, { leftOut: false }));
    }
    return { positions, parts: parts.length > 1 ? parts : [] };
  }

  private position(place: unknown): Position | null {
    if (!Array.isArray(place) || place.length < 2) return null;
    const [x, y, height] = place as unknown[];
    if (typeof x !== 'number' || typeof y !== 'number' || !Number.isFinite(x) || !Number.isFinite(y)) return null;
    if (place.slice(2).some((more) => typeof more !== 'number')) return null;
    const isHeight = typeof height === 'number' && Math.abs(height) <= 12_000;
    return { x, y, crs: this.crs, ...(isHeight ? { elevation_m: height } : {}) };
  }

  private bad(row: number, read: string, sentence: string): void {
    this.faults.push(fault('bad_geometry', row, read, sentence));
  }
}
