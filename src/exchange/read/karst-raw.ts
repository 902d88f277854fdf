import type { Position } from '../../survey/survey';

/** A feature as a file has it: its geometry and its named values as text, before any column is understood. */
export interface RawFeature {
  /** Line of a text, record of a shapefile, or feature of GeoJSON, from 1. */
  readonly row: number;
  readonly shape: 'point' | 'line' | 'area';
  /** Empty where the file gives the place in its columns. */
  readonly positions: readonly Position[];
  readonly parts: readonly { readonly from: number; readonly hole?: boolean }[];
  readonly fields: Readonly<Record<string, string>>;
  /** Which part of a collection or of many points it is, from 1; null for a whole one. */
  readonly piece: number | null;
}

/** A feature with what sentences call it by. */
export interface NamedRow {
  readonly raw: RawFeature;
  /** Base name of the file. */
  readonly file: string;
  readonly name: string | null;
}

/** Where it is in the file, for sentences: `caves.csv, row 3 “Sima”`. */
export function sayRow({ raw, file, name }: NamedRow): string {
  const piece = raw.piece === null ? '' : ` (part ${raw.piece})`;
  return `${file}, row ${raw.row}${piece}${name ? ` “${name.slice(0, 60)}”` : ''}`;
}

/** What is wrong or odd about one feature of a file: by its row, so that the source can be mended. */
export interface FeatureFault {
  readonly code:
    | 'impossible_coordinates'
    | 'probable_lon_lat_swap'
    | 'lon_equals_lat'
    | 'no_place'
    | 'bad_geometry'
    | 'place_said_twice_differs'
    | 'impossible_dms'
    | 'datum_shift_suspected'
    | 'bad_value';
  readonly row: number | null;
  readonly name: string | null;
  /** Whether the feature was left out for it. */
  readonly leftOut: boolean;
  readonly distanceM: number | null;
  readonly read: string;
  readonly sentence: string;
}

/** A file parted into features, with what could not be. */
export interface RawFile {
  /** Made as they are asked for where a file is large, and so to be walked through once. */
  readonly features: Iterable<RawFeature>;
  readonly faults: readonly FeatureFault[];
  readonly headers: readonly string[];
}

export function fault(
  code: FeatureFault['code'],
  row: number | null,
  read: string,
  sentence: string,
  more: Partial<Pick<FeatureFault, 'name' | 'leftOut' | 'distanceM'>> = {},
): FeatureFault {
  return {
    code,
    row,
    name: more.name ?? null,
    leftOut: more.leftOut ?? true,
    distanceM: more.distanceM ?? null,
    read: read.length > 60 ? `${read.slice(0, 59)}…` : read,
    sentence,
  };
}
