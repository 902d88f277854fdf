import type { Geometry, Position } from 'geojson';
import { plainDecimal } from './csv';
import { columnName, type DictionaryLayer, LAYER_MEANINGS, LAYER_PROPERTIES, type Property } from './dictionary';
import type { LayerFeature } from './layer-collection';
import { xmlText } from './written-text';

/*
 * OGC KML 2.2 (07-147r2). Every layer is a folder, its properties are typed by a schema. Heights stand in the coordinates
 * and in the data; the drawing is laid on the ground, since the height system of a survey is rarely that of a globe.
 */

export interface KmlLayer {
  readonly name: DictionaryLayer;
  readonly features: Iterable<LayerFeature>;
}

/** Height of a position of a feature, m; null where none is known. */
export type HeightAt = (feature: LayerFeature, position: Position) => number | null;

const KML_TYPE = { text: 'string', integer: 'int', real: 'double' } as const;
/** How things without a stroke of their own are drawn. */
const PLAIN = '#4a443a';

/** A KML document in pieces to be written one after the other. */
export function* kmlPieces(title: string, layers: Iterable<KmlLayer>, heightAt: HeightAt): Generator<string> {
  yield `<?xml version="1.0" encoding="UTF-8"?>\n<kml xmlns="http://www.opengis.net/kml/2.2">\n<Document>\n<name>${xmlText(title)}</name>\n`;
  const named = [...layers];
  for (const { name } of named) yield schemaText(name);
  for (const { name, features } of named) {
    yield `<Folder>\n<name>${name}</name>\n<description>${xmlText(LAYER_MEANINGS[name])}</description>\n`;
    for (const feature of features) yield placemark(name, feature, heightAt);
    yield '</Folder>\n';
  }
  yield '</Document>\n</kml>\n';
}

function schemaText(name: DictionaryLayer): string {
  const fields = LAYER_PROPERTIES[name].map(
    (property) =>
      `<SimpleField type="${KML_TYPE[property.type]}" name="${columnName(property.name)}"><displayName>${xmlText(labelOf(property))}</displayName></SimpleField>\n`,
  );
  return `<Schema name="${name}" id="schema_${name}">\n${fields.join('')}</Schema>\n`;
}

const labelOf = ({ name, unit }: Property): string => (unit ? `${name} (${unit})` : name);

function placemark(layer: DictionaryLayer, feature: LayerFeature, heightAt: HeightAt): string {
  const { properties, geometry } = feature;
  const data: string[] = [];
  for (const { name } of LAYER_PROPERTIES[layer]) {
    const value = properties[name] ?? null;
    if (value === null) continue;
    const written = typeof value === 'number' ? plainDecimal(value) : xmlText(value);
    data.push(`<SimpleData name="${columnName(name)}">${written}</SimpleData>`);
  }
  return [
    `<Placemark><name>${xmlText(titleOf(properties))}</name>`,
    styleOf(properties, geometry),
    `<ExtendedData><SchemaData schemaUrl="#schema_${layer}">${data.join('')}</SchemaData></ExtendedData>`,
    `${geometryText(geometry, (position) => heightAt(feature, position))}</Placemark>\n`,
  ].join('');
}

function titleOf({ name, line, chainage_m: chainageM, type, sid }: LayerFeature['properties']): string {
  const own = name ?? line ?? type ?? sid ?? '';
  return typeof chainageM === 'number' ? `${own} ${plainDecimal(chainageM)} m` : String(own);
}

function styleOf(properties: LayerFeature['properties'], { type }: Geometry): string {
  const stroke = colour(properties.stroke, 1);
  const width = typeof properties['stroke-width'] === 'number' ? properties['stroke-width'] : 1;
  const line = `<LineStyle><color>${stroke}</color><width>${width}</width></LineStyle>`;
  if (type === 'Point') {
    return `<Style><IconStyle><color>${colour(properties['marker-color'], 1)}</color><scale>0.6</scale></IconStyle></Style>`;
  }
  if (type !== 'MultiPolygon') return `<Style>${line}</Style>`;
  const opacity = typeof properties['fill-opacity'] === 'number' ? properties['fill-opacity'] : 0.12;
  return `<Style>${line}<PolyStyle><color>${colour(properties.fill, opacity)}</color></PolyStyle></Style>`;
}

/** #rrggbb as KML has it: aabbggrr. */
function colour(value: LayerFeature['properties'][string] | undefined, opacity: number): string {
  const hex = typeof value === 'string' && /^#[0-9a-f]{6}$/i.test(value) ? value : PLAIN;
  const alpha = Math.round(opacity * 255)
    .toString(16)
    .padStart(2, '0');
  return `${alpha}${hex.slice(5, 7)}${hex.slice(3, 5)}${hex.slice(1, 3)}`.toLowerCase();
}

type Height = (position: Position) => number | null;

function geometryText(geometry: Geometry, height: Height): string {
  switch (geometry.type) {
    case 'Point':
      return `<Point><coordinates>${coordinates([geometry.coordinates], height)}</coordinates></Point>`;
    case 'LineString':
      return lineText(geometry.coordinates, height);
    case 'MultiLineString':
      return multi(geometry.coordinates.map((line) => lineText(line, height)));
    case 'MultiPolygon':
      return multi(geometry.coordinates.map(polygonText));
    default:
      throw new Error(`no layer holds a ${geometry.type}`);
  }
}

/** A collection is of two or more (07-134r2, ATC 66). */
const multi = (parts: readonly string[]): string =>
  parts.length === 1 ? parts.join('') : `<MultiGeometry>${parts.join('')}</MultiGeometry>`;

const lineText = (positions: readonly Position[], height: Height): string =>
  `<LineString><tessellate>1</tessellate><coordinates>${coordinates(positions, height)}</coordinates></LineString>`;

function polygonText(rings: readonly Position[][]): string {
  const ringText = (ring: readonly Position[]): string =>
    `<LinearRing><coordinates>${coordinates(ring, () => null)}</coordinates></LinearRing>`;
  const [outer = [], ...holes] = rings;
  return `<Polygon><tessellate>1</tessellate><outerBoundaryIs>${ringText(outer)}</outerBoundaryIs>${holes
    .map((hole) => `<innerBoundaryIs>${ringText(hole)}</innerBoundaryIs>`)
    .join('')}</Polygon>`;
}

/** Heights stand in all positions of a path or in none. */
function coordinates(positions: readonly Position[], height: Height): string {
  const heights = positions.map(height);
  const isKnown = heights.every((each) => each !== null);
  return positions
    .map(([lon = 0, lat = 0], i) => {
      const place = `${plainDecimal(lon)},${plainDecimal(lat)}`;
      return isKnown ? `${place},${plainDecimal(heights[i] ?? 0)}` : place;
    })
    .join(' ');
}
