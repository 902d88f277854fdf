import { baseName } from './columns';
import { isGeoJson, readGeoJson } from './geojson-places';
import { readGpx } from './gpx';
import { readKml } from './kml';
import type { Notebook } from './notebook';
import type { PlacesFile, PlacesFormat } from './places-file';
import { isPlainPlaces, readPlacesTable } from './places-table';
import { nameOf, readXml } from './xml';

/** What was read instead, in short. */
const READ_WORDS: Readonly<Record<string, string>> = {
  doctype: '<!DOCTYPE',
  empty: 'nothing',
  too_large: 'a very large file',
  too_deep: 'very deep nesting',
  unknown_encoding: 'an unknown encoding',
  zipped: 'a zipped file',
  not_text: 'bytes that are no text',
};
const TABLE_NAME = /\.(?:csv|tsv|txt|dsv)$/i;

/** Which kind of places a file holds, by its ending and, where that says little, by its content. Null for none. */
export function placesFormatOf(name: string, bytes: Uint8Array): PlacesFormat | null {
  const ending = /\.(\w+)$/.exec(baseName(name))?.[1]?.toLowerCase();
  if (ending === 'gpx' || ending === 'kml' || ending === 'geojson') return ending;
  if (ending === 'json') return isGeoJson(bytes) ? 'geojson' : null;
  return TABLE_NAME.test(name) && isPlainPlaces(bytes, name) ? 'table' : null;
}

/** Reads a file of places; null with a fault where it cannot be used at all. An empty one has a note. */
export function readPlacesFile(bytes: Uint8Array, format: PlacesFormat, notes: Notebook): PlacesFile | null {
  const places = readAs(bytes, format, notes);
  if (places && places.points.length === 0 && places.lines.length === 0 && notes.troubles === 0) {
    notes.skipped(
      { row: null, column: null },
      'no places',
      'points or lines',
      `${notes.label} has no points and no lines in it.`,
    );
  }
  return places;
}

function readAs(bytes: Uint8Array, format: PlacesFormat, notes: Notebook): PlacesFile | null {
  if (format === 'geojson') return readGeoJson(bytes, notes);
  if (format === 'table') return readPlacesTable(bytes, notes);
  const read = readXml(bytes);
  const wholeFile = { row: null, column: null };
  if (!read.ok) {
    notes.fault(
      { row: read.row ?? null, column: null },
      READ_WORDS[read.code] ?? 'no whole XML',
      `a whole ${format} file; ${read.sentence}`,
      `${notes.label}: ${read.sentence}`,
    );
    return null;
  }
  const { root, undeclared, encoding, encodingGuessed } = read.value;
  if (encodingGuessed) {
    notes.guessed(
      wholeFile,
      encoding,
      'UTF-8',
      `${notes.label} was read as ${encoding}. Look at letters with accents.`,
    );
  }
  if (undeclared.length > 0) {
    notes.guessed(
      wholeFile,
      undeclared.join(', '),
      'prefixes that are declared',
      `${notes.label} uses ${undeclared.map((prefix) => `"${prefix}:"`).join(', ')} without declaring ${undeclared.length === 1 ? 'it' : 'them'}; it was read as if it had.`,
    );
  }
  const name = nameOf(root);
  const places = name === 'gpx' ? readGpx(root, notes) : name === 'kml' ? readKml(root, notes) : null;
  if (places === null) {
    notes.fault(
      wholeFile,
      `<${name}>`,
      '<gpx> or <kml>',
      `${notes.label} is XML of another kind: its root is <${name}>, not <gpx> or <kml>.`,
    );
  }
  return places;
}
