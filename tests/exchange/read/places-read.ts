import { Notebook } from '../../../src/exchange/read/notebook';
import type { PlacesFile } from '../../../src/exchange/read/places-file';
import { placesFormatOf, readPlacesFile } from '../../../src/exchange/read/read-places';
import type { Note } from '../../../src/survey/note';

export interface PlacesOutcome {
  /** Null when the file is none of places, or could not be read at all. */
  readonly places: PlacesFile | null;
  readonly notes: readonly Note[];
  readonly faults: readonly Note[];
  /** Coordinates in points and lines. */
  readonly taken: number;
}

/** Reads one file of places before anything is matched. */
export function placesOf(name: string, bytes: Uint8Array): PlacesOutcome {
  const format = placesFormatOf(name, bytes);
  const book = new Notebook(name);
  const places = format && readPlacesFile(bytes, format, book);
  const notes = book.all();
  const inLines = places?.lines.reduce((sum, { vertices }) => sum + vertices.length, 0) ?? 0;
  return {
    places,
    notes,
    faults: notes.filter(({ kind }) => kind === 'fault'),
    taken: inLines + (places?.points.length ?? 0),
  };
}
