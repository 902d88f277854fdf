import type { BBox, Geometry, Position } from 'geojson';
import { WHOLE_PROPERTIES } from './dictionary';
import { layerBounds } from './layer-bounds';
import type { Layer, LayerFeature, LayerValue } from './layer-collection';

/**
 * The bytes of a layer: one feature a line, so that two versions can be compared by eye.
 * Counts and codes are written as they are; a measure that happens to be whole is written "36.0": readers take the type of a column from how its numbers are
 * written, and a column must not change its type from file to file.
 */
export const geojsonText = (layer: Layer): string => [...layerPieces(layer)].join('');

/** The same text, made piece by piece as it is asked for: what is written at once and let go is written twice as quickly. */
export function* layerPieces({ features, ...head }: Layer): Generator<string> {
  yield before(head);
  yield* piecesOf(features as readonly LayerFeature[]);
}

/**
 * The same text in pieces, for layers that are made feature by feature, once, and never stand in memory as a whole. Put one
 * after the other the pieces are what `geojsonText` writes of the whole layer.
 */
export function geojsonPieces(features: Iterable<LayerFeature>): readonly string[] {
  const bounds = layerBounds();
  const pieces = [...piecesOf(features, bounds.add)];
  return [before(collection(bounds.bbox())), ...pieces];
}

/**
 * The same text, made piece by piece as it is asked for, so that neither features nor text ever stand in memory as a whole.
 * The bounds come first in the text, so they have to be known before.
 */
export function* geojsonStream(features: Iterable<LayerFeature>, bbox: BBox | null): Generator<string> {
  yield before(collection(bbox));
  yield* piecesOf(features);
}

const collection = (bbox: BBox | null): object => ({ type: 'FeatureCollection', ...(bbox ? { bbox } : {}) });

/** All that stands before the first feature. */
const before = (head: object): string => `${JSON.stringify(head).slice(0, -1)},"features":[`;

/** The features and the end of the text. `seen` hears of each feature. */
function* piecesOf(
  features: Iterable<LayerFeature>,
  seen: (feature: LayerFeature) => void = () => undefined,
): Generator<string> {
  const written = featureWriter();
  let rows: string[] = [];
  let comma = '';
  for (const feature of features) {
    seen(feature);
    rows.push(written(feature));
    if (rows.length < ROWS_OF_A_PIECE) continue;
    yield `${comma}\n${rows.join(',\n')}`;
    comma = ',';
    rows = [];
  }
  if (rows.length > 0) yield `${comma}\n${rows.join(',\n')}\n]}\n`;
  else yield comma === '' ? ']}\n' : '\n]}\n';
}

/** Few enough that a piece is gone before it counts as something that stays: memory would grow with it. */
const ROWS_OF_A_PIECE = 100;

/** A property as the feature before had it: most are the same again, and are written again without another look. */
interface Column {
  readonly key: string;
  /** From its comma to its colon. */
  readonly head: string;
  readonly isWhole: boolean;
  value: LayerValue | undefined;
  text: string;
}

/** Writes features one after the other. Those of a layer have the same properties in the same order, which is what is quick. */
function featureWriter(): (feature: LayerFeature) => string {
  let columns: Column[] = [];
  return ({ id, properties, geometry }) => {
    let text = `{"type":"Feature","id":${quoted(id)},"properties":{`;
    let at = 0;
    for (const key in properties) {
      let column = columns[at];
      if (column === undefined || column.key !== key) {
        column = columnOf(key, at === 0);
        columns = [...columns.slice(0, at), column];
      }
      const value = properties[key];
      if (value !== column.value) {
        column.value = value;
        column.text = column.head + valueText(value, column.isWhole);
      }
      text += column.text;
      at += 1;
    }
    return `${text}},"geometry":${geometryText(geometry)}}`;
  };
}

const columnOf = (key: string, isFirst: boolean): Column => {
  const head = `${isFirst ? '' : ','}"${key}":`;
  return { key, head, isWhole: WHOLE_PROPERTIES.has(key), value: null, text: `${head}null` };
};

/** Text without anything that JSON escapes. */
const PLAIN = /^[ !#-[\]-~]*$/;

// What needs no escape is most of it, and is written much quicker by hand.
const quoted = (text: string): string => (PLAIN.test(text) ? `"${text}"` : JSON.stringify(text));

function valueText(value: LayerValue | undefined, isWhole: boolean): string {
  if (typeof value === 'string') return quoted(value);
  if (typeof value !== 'number' || !Number.isFinite(value)) return 'null';
  // From 1e21 on a number is written with an exponent, which is a decimal point enough.
  return !isWhole && Number.isInteger(value) && Math.abs(value) < 1e15 ? `${value}.0` : `${value}`;
}

/** The geometries that most features have are written by hand; JSON writes the others. */
function geometryText(geometry: Geometry): string {
  if (geometry.type === 'Point') return `{"type":"Point","coordinates":${positionText(geometry.coordinates)}}`;
  if (geometry.type !== 'LineString') return JSON.stringify(geometry);
  let text = '';
  for (const position of geometry.coordinates) text += `${text === '' ? '' : ','}${positionText(position)}`;
  return `{"type":"LineString","coordinates":[${text}]}`;
}

function positionText(position: Position): string {
  const [lon, lat] = position;
  return position.length === 2 && Number.isFinite(lon) && Number.isFinite(lat)
    ? `[${lon},${lat}]`
    : JSON.stringify(position);
}
