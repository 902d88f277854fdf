import { done, type Outcome, refuse } from '../../survey/outcome';
import { baseName } from './columns';
import { decodeText } from './decode';
import type { InventoryMapping } from './karst-columns';
import { readKarstGeoJson } from './karst-geojson';
import { fault, type RawFeature, type RawFile } from './karst-raw';
import { readShapefile } from './karst-shapefile';
import { isZip, unzip } from './karst-zip';
import { Notebook } from './notebook';
import type { PlacesFormat } from './places-file';
import { readPlacesFile } from './read-places';
import { hasText, type SheetRow } from './sheet';
import { layOut } from './table';

/** A file of karst features in any format, parted into features. Refusals say what the file is instead. */
export function readRawFile(name: string, bytes: Uint8Array, mapping: InventoryMapping): Outcome<RawFile> {
  const ending = /\.(\w+)$/.exec(baseName(name))?.[1]?.toLowerCase() ?? '';
  if (isZip(bytes)) return readZipped(bytes, mapping);
  if (ending === 'gpx' || ending === 'kml') return readPlaces(name, bytes, ending);
  if (ending === 'geojson' || ending === 'json') return readKarstGeoJson(bytes);
  if (ending === 'shp')
    return refuse('lone_shp', 'A .shp alone has no names and no place. Zip it with its .dbf and .prj.');
  return readTable(name, bytes);
}

function readZipped(bytes: Uint8Array, mapping: InventoryMapping): Outcome<RawFile> {
  const members = unzip(bytes, (name) => /\.(shp|dbf|prj|cpg|kml)$/i.test(name) && !/(^|\/)(__MACOSX|\.)/.test(name));
  if (!members.ok) return members;
  const names = [...members.value.keys()];
  const shp = names.filter((name) => /\.shp$/i.test(name));
  const [kml] = names.filter((name) => /\.kml$/i.test(name));
  if (shp.length === 0 && kml !== undefined) return readPlaces(kml, members.value.get(kml) as Uint8Array, 'kml');
  const [only] = shp;
  if (only === undefined) return refuse('no_shapefile', 'There is no shapefile and no KML in this zip.');
  if (shp.length > 1) {
    return refuse(
      'many_shapefiles',
      `There are ${shp.length} shapefiles in this zip: ${shp.slice(0, 5).join(', ')}. Zip each by itself.`,
    );
  }
  const beside = (ending: string): Uint8Array | null => {
    const wanted = `${only.slice(0, -4)}.${ending}`.toLowerCase();
    const found = names.find((name) => name.toLowerCase() === wanted);
    return found === undefined ? null : (members.value.get(found) as Uint8Array);
  };
  const text = (content: Uint8Array | null): string | null =>
    content === null ? null : new TextDecoder().decode(content).trim();
  return readShapefile(
    {
      shp: members.value.get(only) as Uint8Array,
      dbf: beside('dbf'),
      prj: text(beside('prj')),
      cpg: text(beside('cpg')),
    },
    mapping.crs ?? null,
  );
}

/** GPX and KML by the readers of places; what those refuse to place is told as left out. */
function readPlaces(name: string, bytes: Uint8Array, format: PlacesFormat): Outcome<RawFile> {
  const notes = new Notebook(name);
  const places = readPlacesFile(bytes, format, notes);
  if (places === null) {
    return refuse(
      'not_readable',
      notes.all().find(({ kind }) => kind === 'fault')?.sentence ?? `${name} cannot be read.`,
    );
  }
  const faults = notes.all().map((note) =>
    fault(note.kind === 'fault' ? 'impossible_coordinates' : 'bad_geometry', note.row, note.read, note.sentence, {
      leftOut: note.kind !== 'guessed',
    }),
  );
  const described = (
    each: { name: string | null; fields: Readonly<Record<string, string>> },
    more: Readonly<Record<string, string | null>>,
  ) => ({
    ...each.fields,
    ...Object.fromEntries(
      Object.entries({ name: each.name, ...more }).flatMap(([key, value]) => (value ? [[key, value]] : [])),
    ),
  });
  const features: RawFeature[] = [
    ...places.points.map(
      (point): RawFeature => ({
        row: point.row,
        shape: 'point',
        positions: [point.position],
        parts: [],
        fields: described(point, { type: point.type, folder: point.folder, description: point.remark }),
        piece: null,
      }),
    ),
    ...places.lines.map(
      (line): RawFeature => ({
        row: line.row,
        shape: line.kind === 'outline' ? 'area' : 'line',
        positions: line.vertices.map(({ position }) => position),
        parts: [],
        fields: described(line, { folder: line.folder }),
        piece: null,
      }),
    ),
  ];
  const headers = new Set(features.flatMap(({ fields }) => Object.keys(fields)));
  return done({ features, faults, headers: [...headers] });
}

function readTable(name: string, bytes: Uint8Array): Outcome<RawFile> {
  const decoded = decodeText(bytes);
  if (!decoded.ok) return decoded;
  const notes = new Notebook(name);
  const laid = layOut(decoded.value.text, 'features', null, notes, 'to_look_at');
  if (laid === null || laid.headers.length < 2)
    return refuse('not_a_table', `${baseName(name)} is no table with headers.`);
  const headers = laid.headers.map((header, i) => (header === '' ? String(i + 1) : header));
  const faults = laid.body
    .filter(({ cells }) => cells.length > headers.length && hasText(cells.slice(headers.length)))
    .map(({ row, cells }) =>
      fault(
        'bad_value',
        row,
        cells.slice(headers.length).join(' '),
        `Row ${row} has ${cells.length} cells for ${headers.length} headers; the rest was left out.`,
        { leftOut: false },
      ),
    );
  const quotes = notes.all().filter(({ kind, read }) => kind === 'fault' && read === '"');
  faults.push(...quotes.map(({ row, read, sentence }) => fault('bad_value', row, read, sentence, { leftOut: false })));
  return done({ features: rowsOf(laid.body, headers), faults, headers });
}

const NONE: readonly never[] = [];

function* rowsOf(body: readonly SheetRow[], headers: readonly string[]): Generator<RawFeature> {
  for (const { row, cells } of body) {
    const fields: Record<string, string> = {};
    for (let i = 0; i < headers.length; i += 1) {
      const cell = cells[i]?.trim();
      if (cell) fields[headers[i] as string] = cell;
    }
    yield { row, shape: 'point', positions: NONE, parts: NONE, fields, piece: null };
  }
}
