import type { BBox } from 'geojson';
import { WHOLE_PROPERTIES } from './dictionary';
import { layerBounds } from './layer-bounds';
import type { Layer, LayerFeature, LayerValue } from './layer-collection';

/**
 * The bytes of a layer: one feature a line, so that two versions can be compared by eye.
 * Counts and codes are written as they are; a measure that happens to be whole is written "36.0": readers take the type of a column from how its numbers are
 * written, and a column must not change its type from file to file.
 */
export function geojsonText(layer: Layer): string {
  const { features, ...head } = layer;
  // Text that grows in pieces is quicker than a list of all rows.
  return [...rowsAfter(JSON.stringify(head), features as readonly LayerFeature[])].join('');
}

/**
 * The same text in pieces, for layers that are made feature by feature and never stand in memory as a whole. Put one after
 * the other the pieces are what `geojsonText` writes of the whole layer.
 */
export function geojsonPieces(features: Iterable<LayerFeature>): readonly string[] {
  const bounds = layerBounds();
  const pieces: string[] = [];
  let rows: string[] = [];
  const close = (end: string): void => {
    if (rows.length > 0) pieces.push(`\n${rows.join(',\n')}${end}`);
    rows = [];
  };
  for (const feature of features) {
    if (rows.length === ROWS_OF_A_PIECE) close(',');
    bounds.add(feature);
    rows.push(featureText(feature));
  }
  close('\n');
  const bbox = bounds.bbox();
  const head = JSON.stringify({ type: 'FeatureCollection', ...(bbox ? { bbox } : {}) }).slice(0, -1);
  return [`${head},"features":[`, ...pieces, ']}\n'];
}

/**
 * The same text, made piece by piece as it is asked for, so that neither features nor text ever stand in memory as a whole.
 * The bounds come first in the text, so they have to be known before.
 */
export function geojsonStream(features: Iterable<LayerFeature>, bbox: BBox | null): Generator<string> {
  return rowsAfter(JSON.stringify({ type: 'FeatureCollection', ...(bbox ? { bbox } : {}) }), features);
}

function* rowsAfter(head: string, features: Iterable<LayerFeature>): Generator<string> {
  let before = `${head.slice(0, -1)},"features":[`;
  let rows: string[] = [];
  for (const feature of features) {
    rows.push(featureText(feature));
    if (rows.length < ROWS_OF_A_PIECE) continue;
    yield `${before}\n${rows.join(',\n')}`;
    before = ',';
    rows = [];
  }
  if (rows.length > 0) yield `${before}\n${rows.join(',\n')}\n]}\n`;
  else yield before === ',' ? '\n]}\n' : `${before}]}\n`;
}

const ROWS_OF_A_PIECE = 1000;

function featureText({ id, properties, geometry }: LayerFeature): string {
  let text = `{"type":"Feature","id":${JSON.stringify(id)},"properties":{`;
  let first = true;
  for (const key in properties) {
    text += `${first ? '' : ','}"${key}":${valueText(key, properties[key] ?? null)}`;
    first = false;
  }
  return `${text}},"geometry":${JSON.stringify(geometry)}}`;
}

/** Text without anything that JSON escapes. */
const PLAIN = /^[ !#-[\]-~]*$/;

function valueText(key: string, value: LayerValue): string {
  // What needs no escape is most of it, and is written much quicker by hand.
  if (typeof value === 'string') return PLAIN.test(value) ? `"${value}"` : JSON.stringify(value);
  if (typeof value !== 'number' || !Number.isFinite(value)) return 'null';
  // From 1e21 on a number is written with an exponent, which is a decimal point enough.
  const isWhole = Number.isInteger(value) && Math.abs(value) < 1e15;
  return isWhole && !WHOLE_PROPERTIES.has(key) ? `${value}.0` : `${value}`;
}
