import { DOMParser, type Element } from '@xmldom/xmldom';
import { describe, expect, it } from 'vitest';
import { LAYER_PROPERTIES } from '../../../src/exchange/write/dictionary';
import { segmentsSld, zonesSld } from '../../../src/exchange/write/sld';

/** Order of children in the schema of OGC 02-070, SLD 1.0.0 (StyledLayerDescriptor.xsd): value from memory. */
const ORDER: Readonly<Record<string, readonly string[]>> = {
  StyledLayerDescriptor: ['Name', 'Title', 'Abstract', 'NamedLayer', 'UserLayer'],
  NamedLayer: ['Name', 'LayerFeatureConstraints', 'NamedStyle', 'UserStyle'],
  UserStyle: ['Name', 'Title', 'Abstract', 'IsDefault', 'FeatureTypeStyle'],
  FeatureTypeStyle: ['Name', 'Title', 'Abstract', 'FeatureTypeName', 'SemanticTypeIdentifier', 'Rule'],
  Rule: [
    'Name',
    'Title',
    'Abstract',
    'LegendGraphic',
    'Filter',
    'ElseFilter',
    'MinScaleDenominator',
    'MaxScaleDenominator',
    'LineSymbolizer',
    'PolygonSymbolizer',
  ],
  LineSymbolizer: ['Geometry', 'Stroke'],
  PolygonSymbolizer: ['Geometry', 'Fill', 'Stroke'],
  Fill: ['GraphicFill', 'CssParameter'],
  Stroke: ['GraphicFill', 'GraphicStroke', 'CssParameter'],
  GraphicFill: ['Graphic'],
  Graphic: ['ExternalGraphic', 'Mark', 'Opacity', 'Size', 'Rotation'],
  Mark: ['WellKnownName', 'Fill', 'Stroke'],
  Filter: ['And', 'PropertyIsEqualTo'],
  And: ['PropertyIsEqualTo', 'PropertyIsNull', 'PropertyIsLike'],
  PropertyIsEqualTo: ['PropertyName', 'Literal'],
  PropertyIsNull: ['PropertyName'],
  PropertyIsLike: ['PropertyName', 'Literal'],
};

const childrenOf = (parent: Element): Element[] =>
  [...parent.childNodes].filter((node) => node.nodeType === 1) as Element[];

function breaches(element: Element): string[] {
  const order = ORDER[element.localName ?? ''];
  const children = childrenOf(element);
  if (!order) return children.length > 0 ? [`${element.localName} has children`] : [];
  const places = children.map(({ localName }) => order.indexOf(localName ?? ''));
  const own = places.some((place, i) => place < 0 || place < (places[i - 1] ?? 0))
    ? [`order in ${element.localName}`]
    : [];
  return [...own, ...children.flatMap(breaches)];
}

describe.each([
  ['segments', segmentsSld()],
  ['zones', zonesSld()],
] as const)('the style of %s', (layer, text) => {
  const root = new DOMParser({
    onError: (_level, message) => {
      throw new Error(message);
    },
  }).parseFromString(text, 'application/xml').documentElement as Element;
  const all = (name: string) => [...root.getElementsByTagName('*')].filter(({ localName }) => localName === name);

  it('is SLD 1.0.0 in the order of its schema', () => {
    expect([root.localName, root.namespaceURI, root.getAttribute('version')]).toEqual([
      'StyledLayerDescriptor',
      'http://www.opengis.net/sld',
      '1.0.0',
    ]);
    expect(breaches(root)).toEqual([]);
  });

  it('draws what no rule names by one else rule, the last', () => {
    expect(all('ElseFilter')).toHaveLength(1);
    const rules = all('Rule');
    expect(childrenOf(rules[rules.length - 1] as Element).some(({ localName }) => localName === 'ElseFilter')).toBe(
      true,
    );
  });

  it('asks only for properties and codes that the dictionary has', () => {
    for (const equals of all('PropertyIsEqualTo')) {
      const [property, literal] = childrenOf(equals).map(({ textContent }) => textContent);
      expect(LAYER_PROPERTIES[layer].find(({ name }) => name === property)?.allowed).toContain(literal);
    }
  });
});
