import { DOMParser, type Element } from '@xmldom/xmldom';
import { describe, expect, it } from 'vitest';
import { LAYER_PROPERTIES } from '../../../src/exchange/write/dictionary';
import { segmentsSld, zonesSld } from '../../../src/exchange/write/sld';

const childrenOf = (parent: Element): Element[] =>
  [...parent.childNodes].filter((node) => node.nodeType === 1) as Element[];

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
