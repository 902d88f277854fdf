import type { AssignedPlaces } from './assign-places';
import type { PlaceAt } from './match-names';
import type { PlacesFile, PlacesFormat } from './places-file';
import { type PreviewPlaces, placesOf } from './preview-places';

/** Points and lines that are listed; a person corrects names, not thousands of them. */
const LISTED = 2000;

/** One point or line of a file of places, and what it was taken for. */
export interface UnderstoodPlace {
  /** By which a columns map speaks of it. */
  readonly key: string;
  readonly kind: 'point' | 'track' | 'route' | 'line' | 'outline';
  readonly folder: string | null;
  readonly remark: string | null;
  /** The lines that it belongs to, or the line that it becomes; none when it is left out. */
  readonly lines: readonly string[];
  /** Which place of the line; null for lines and for points of none. */
  readonly at: PlaceAt | null;
  /** False for a guess that a person should look at. */
  readonly sure: boolean;
  /** Whether the columns map says so. */
  readonly stated: boolean;
}

/** What a file of places was understood as; `format` is null when it could not be read at all. */
export interface UnderstoodPlaces {
  readonly file: string;
  readonly format: PlacesFormat | null;
  readonly lineCount: number;
  readonly pointCount: number;
  readonly matchedPoints: number;
  /** Lines first, in the order of the file; at most 2000. */
  readonly entries: readonly UnderstoodPlace[];
  readonly places: PreviewPlaces;
}

/** What is shown of a file of places before it is taken. */
export function understoodPlaces(
  file: string,
  read: PlacesFile | null,
  assigned: AssignedPlaces | null,
): UnderstoodPlaces {
  const lines = (assigned?.lines ?? []).map(
    ({ drawn: { key, kind, folder }, line, from }): UnderstoodPlace => ({
      key,
      kind,
      folder,
      remark: null,
      lines: line === null ? [] : [line],
      at: null,
      sure: from !== 'known',
      stated: from === 'map',
    }),
  );
  const points = (assigned?.points ?? []).map(
    ({ point: { key, folder, remark }, match, from, sure }): UnderstoodPlace => ({
      key,
      kind: 'point',
      folder,
      remark,
      lines: match?.lines ?? [],
      at: match?.at ?? null,
      sure,
      stated: from === 'map',
    }),
  );
  const everywhere = [...(read?.lines ?? []).flatMap(({ vertices }) => vertices), ...(read?.points ?? [])];
  return {
    file,
    format: read?.format ?? null,
    lineCount: lines.length,
    pointCount: points.length,
    matchedPoints: points.filter(({ at }) => at !== null).length,
    entries: [...lines, ...points].slice(0, LISTED),
    places: placesOf(everywhere.map(({ lonLat }) => [lonLat.lon, lonLat.lat] as const)),
  };
}
