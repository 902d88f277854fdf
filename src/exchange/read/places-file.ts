import type { LonLat } from '../../position/crs';
import type { Position } from '../../survey/survey';
import { absurd } from './limits';
import type { Notebook, Where } from './notebook';
import { hasControls, visible } from './sheet';
import { readTime } from './when';

/*
 * Places as devices and maps keep them: named points, and lines of vertices. What the readers of GPX, KML, GeoJSON and
 * plain tables make, before any name is matched with a line of the survey.
 */

/** A place with what its file says of it: a fix of a receiver, or a corner of a drawn line. */
export interface PlaceVertex {
  readonly position: Position;
  readonly lonLat: LonLat;
  /** Line of the file, from 1; for GeoJSON the number of the feature. */
  readonly row: number;
}

export interface PlacePoint extends PlaceVertex {
  /** The name, made single among the points and lines of the file; nameless ones are numbered. */
  readonly key: string;
  readonly name: string | null;
  readonly folder: string | null;
  readonly type: string | null;
  /** A remark as plain text, HTML taken off. */
  readonly remark: string | null;
  /** Other named values: extended data, properties, columns. */
  readonly fields: Readonly<Record<string, string>>;
}

export interface PlaceLine {
  readonly key: string;
  readonly name: string | null;
  readonly folder: string | null;
  /** `track`: logged by a receiver; `outline`: the edge of an area. */
  readonly kind: 'track' | 'route' | 'line' | 'outline';
  readonly vertices: readonly PlaceVertex[];
  readonly fields: Readonly<Record<string, string>>;
  readonly row: number;
}

export type PlacesFormat = 'gpx' | 'kml' | 'geojson' | 'table';

export interface PlacesFile {
  readonly format: PlacesFormat;
  readonly points: readonly PlacePoint[];
  readonly lines: readonly PlaceLine[];
  /** Coordinates of the file that are in no point or line; each has its note. */
  readonly leftOut: number;
}

/** What is known of a point or line besides its place. */
export interface Described {
  readonly name?: string | null;
  readonly folder?: string | null;
  readonly type?: string | null;
  readonly remark?: string | null;
  readonly fields?: Readonly<Record<string, string>>;
}

/** Gathers the places of one file; what is wrong goes into its notebook. */
export class PlacesGathering {
  leftOut = 0;
  private readonly points: PlacePoint[] = [];
  private readonly lines: PlaceLine[] = [];
  private readonly keys = new Set<string>();
  private nameless = 0;

  constructor(
    readonly format: PlacesFormat,
    readonly notes: Notebook,
  ) {}

  /** "line 12" of a text, "feature 3" of GeoJSON, whose lines say nothing. */
  at(row: number): string {
    return this.format === 'geojson' ? `feature ${row}` : `line ${row}`;
  }

  where(row: number, column: string | null): Where {
    if (this.format !== 'geojson') return { row, column };
    return { row: null, column: column === null ? `features.${row - 1}` : `features.${row - 1}.${column}` };
  }

  finish(): PlacesFile {
    const { format, points, lines, leftOut } = this;
    return { format, points, lines, leftOut };
  }

  point(vertex: PlaceVertex, described: Described): void {
    const { name, folder, type, remark, fields } = described;
    this.points.push({
      ...vertex,
      key: this.keyOf(name ?? null, 'point'),
      name: name ?? null,
      folder: folder ?? null,
      type: type ?? null,
      remark: remark ?? null,
      fields: fields ?? {},
    });
  }

  /** A line of two vertices at least; a single one becomes a point with a note. */
  line(vertices: readonly PlaceVertex[], kind: PlaceLine['kind'], described: Described, row: number): void {
    const [only] = vertices;
    const called = described.name ? `"${described.name}"` : `without a name`;
    if (only === undefined) return;
    if (vertices.length === 1) {
      this.notes.guessed(
        this.where(row, null),
        'one place',
        'two places of a line',
        `${this.notes.label}, ${this.at(row)}: the ${kind} ${called} has only one place and was read as a point.`,
      );
      this.point(only, described);
      return;
    }
    this.lines.push({
      key: this.keyOf(described.name ?? null, kind),
      name: described.name ?? null,
      folder: described.folder ?? null,
      kind,
      vertices,
      fields: described.fields ?? {},
      row,
    });
  }

  /** Something that is no place of ours, told with how many coordinates it has. */
  skip(row: number, read: string, expected: string, sentence: string, coordinates = 0): void {
    this.leftOut += coordinates;
    this.notes.skipped(this.where(row, null), read, expected, `${this.notes.label}, ${this.at(row)}: ${sentence}`);
  }

  /** A coordinate that cannot be used: a fault, since a line without it would run elsewhere. */
  wrong(row: number, column: string, read: string, expected: string): null {
    const shown = read.length > 60 ? `${read.slice(0, 59)}…` : read;
    this.notes.fault(
      this.where(row, column),
      visible(read),
      expected,
      `${this.notes.label}, ${this.at(row)}: ${column} says "${visible(shown)}"; it has to be ${expected}.`,
    );
    return null;
  }

  /** Longitude and latitude as written, in decimal degrees; null with a fault, and counted as left out. */
  lonLat(lonText: string | null, latText: string | null, row: number): LonLat | null {
    const lon = this.degrees(lonText, 180, 'lon', 'a longitude', row);
    const lat = this.degrees(latText, 90, 'lat', 'a latitude', row, lon);
    if (lon !== null && lat !== null) return { lon, lat };
    this.leftOut += 1;
    return null;
  }

  /** Latitude 100 or 200 on longitude 0 is how some phone loggers mark that they paused and went on. */
  isPauseMark(lonText: string | null, latText: string | null, row: number): boolean {
    const [lon, lat] = [strictNumber(lonText ?? ''), strictNumber(latText ?? '')];
    if (lon !== 0 || (lat !== 100 && lat !== 200)) return false;
    const read = `lat ${lat}, lon 0`;
    this.skip(row, read, 'a place', `"${read}" marks a pause of the logger and is no place; it was left out.`, 1);
    return true;
  }

  private degrees(
    text: string | null,
    most: number,
    column: 'lon' | 'lat',
    what: string,
    row: number,
    lon: number | null = null,
  ): number | null {
    if (text === null || text.trim() === '') return this.wrong(row, column, '', `${what} in degrees`);
    const value = strictNumber(text);
    if (value === null) {
      const comma = /^\s*[+-]?\d+,\d+\s*$/.test(text) ? ', with a point as its decimal sign' : '';
      return this.wrong(row, column, text, `${what} in decimal degrees${comma}`);
    }
    if (Math.abs(value) <= most) return value;
    const swapped = column === 'lat' && Math.abs(value) <= 180 && lon !== null && Math.abs(lon) <= 90;
    return this.wrong(
      row,
      column,
      text,
      `${what} from -${most} to ${most}${swapped ? '; lon and lat are probably swapped' : ' degrees'}`,
    );
  }

  /** A number that a place can do without; null when blank, null with a note when it is none or absurd. */
  number(
    text: string | null,
    row: number,
    column: string,
    field: 'elevation_m' | 'accuracy_m' | 'hdop',
  ): number | null {
    if (text === null || text.trim() === '') return null;
    const value = strictNumber(text);
    const expected =
      value === null
        ? 'a number'
        : value < 0 && field !== 'elevation_m'
          ? 'a number of 0 or more'
          : absurd(field, value);
    if (expected === null) return value;
    this.notes.skippedOnce(
      `${column} ${row}`,
      this.where(row, column),
      visible(text),
      expected,
      `${this.notes.label}, ${this.at(row)}: ${column} says "${visible(text.slice(0, 60))}" and was left out; it has to be ${expected}.`,
    );
    return null;
  }

  /** A time; null when blank, null with a note when it cannot be understood. */
  time(text: string | null, row: number): string | null {
    if (text === null) return null;
    const time = readTime(text);
    if (time !== null) return time;
    this.notes.skipped(
      this.where(row, 'time'),
      visible(text),
      'a time such as 2026-03-12T14:05Z',
      `${this.notes.label}, ${this.at(row)}: the time "${visible(text.slice(0, 60))}" cannot be read and was left out.`,
    );
    return null;
  }

  /** A name as one line of plain text; characters that would rewrite the line it stands in are taken out, with a note. */
  name(text: string | null, row: number): string | null {
    if (text === null) return null;
    const one = text.replace(/\s+/g, ' ').trim();
    if (!hasControls(one)) return one === '' ? null : one;
    const plain = [...one].filter((letter) => !hasControls(letter)).join('');
    this.notes.guessed(
      this.where(row, 'name'),
      visible(one),
      'a name without control characters',
      `${this.notes.label}, ${this.at(row)}: control characters were taken out of the name "${visible(one)}".`,
    );
    return plain === '' ? null : plain;
  }

  private keyOf(name: string | null, what: string): string {
    const base = name ?? `${what} ${++this.nameless}`;
    let key = base;
    for (let n = 2; this.keys.has(key); n += 1) key = `${base} (${n})`;
    this.keys.add(key);
    return key;
  }
}

/** A number as machines write it: a point for the decimal sign, an exponent, nothing around it. Null for anything else. */
export function strictNumber(text: string): number | null {
  const t = text.trim();
  if (t.length > 60 || !/^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/.test(t)) return null;
  const value = Number(t);
  return Number.isFinite(value) ? value : null;
}

/** HTML of a description as plain text. */
export function plainText(html: string | null): string | null {
  const text = html
    ?.replace(/<[^<>]*>/g, ' ')
    .replace(/\s+/g, ' ')
    .trim()
    .slice(0, 500);
  return text ? text : null;
}

/** Without the keys that say nothing. */
export function said<T extends object>(values: { readonly [K in keyof T]?: T[K] | null }): Partial<T> {
  return Object.fromEntries(
    Object.entries(values).filter(([, value]) => value !== null && value !== undefined),
  ) as Partial<T>;
}
