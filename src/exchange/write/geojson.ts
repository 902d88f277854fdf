import { layerBounds } from './layer-bounds';
import type { Layer, LayerFeature, LayerValue } from './layer-collection';

/** Counts and codes; every other number is a measure, and is written with a decimal point even when it is whole. */
const WHOLE = new Set(['reading_count', 'readings', 'part', 'epsg', 'stroke-width']);

/**
 * The bytes of a layer: one feature a line, so that two versions can be compared by eye.
 * A measure that happens to be whole is written "36.0": readers take the type of a column from how its numbers are
 * written, and a column must not change its type from file to file.
 */
export function geojsonText(layer: Layer): string {
  const { features, ...head } = layer;
  const opening = JSON.stringify(head).slice(0, -1);
  const rows = features.map((feature) => featureText(feature as LayerFeature)).join(',\n');
  return `${opening},"features":[${rows === '' ? '' : `\n${rows}\n`}]}\n`;
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

function valueText(key: string, value: LayerValue): string {
  // From 1e21 on a number is written with an exponent, which is a decimal point enough.
  const isWhole = typeof value === 'number' && Number.isInteger(value) && Math.abs(value) < 1e15;
  if (isWhole && !WHOLE.has(key)) return `${value}.0`;
  return JSON.stringify(value);
}
