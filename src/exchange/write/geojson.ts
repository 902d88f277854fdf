import type { FeatureCollection } from 'geojson';

/** The bytes of a layer: one feature a line, so that two versions can be compared by eye. */
export function geojsonText(collection: FeatureCollection): string {
  const { features, ...head } = collection;
  const opening = JSON.stringify(head).slice(0, -1);
  const rows = features.map((feature) => JSON.stringify(feature)).join(',\n');
  return `${opening},"features":[${rows === '' ? '' : `\n${rows}\n`}]}\n`;
}
