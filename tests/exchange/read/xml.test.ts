import { describe, expect, it } from 'vitest';
import { childOf, readXml, textOf } from '../../../src/exchange/read/xml';
import { utf8 } from './helpers';

const refusal = (text: string) => {
  const outcome = readXml(utf8(text));
  if (outcome.ok) throw new Error('it was read');
  return outcome;
};
const WHOLE = '<gpx>\n<wpt lat="1" lon="2">\n<name>a</name>\n</wpt>\n</gpx>';

describe('XML that is refused', () => {
  it.each([
    ['a document type', '<?xml version="1.0"?>\n<!DOCTYPE gpx [<!ENTITY a "b">]>\n<gpx>&a;</gpx>', 'doctype', 2],
    ['a document type in small letters', '<!doctype gpx>\n<gpx/>', 'doctype', 1],
    ['an entity that nothing defines', '<gpx>\n<name>&c;</name></gpx>', 'not_xml', 2],
    ['a zipped file', 'PK\u0003\u0004', 'zipped', undefined],
    ['two roots', '<gpx/><gpx/>', 'not_xml', 1],
    ['text behind the root', '<gpx/>\nmore', 'not_xml', undefined],
    ['tags that do not match', '<gpx>\n<wpt>\n</gpx>', 'not_xml', 2],
    ['an attribute without quotation marks', '<gpx>\n<wpt lat=1/></gpx>', 'not_xml', undefined],
    ['plain text', 'lat,lon\n1,2\n', 'not_xml', undefined],
    [
      'an encoding that the bytes are not in',
      '<?xml version="1.0" encoding="x-nothing"?><a/>',
      'unknown_encoding',
      undefined,
    ],
  ])('%s', (_, text, code, row) => {
    const { code: given, sentence, row: line } = refusal(text);
    expect(given).toBe(code);
    expect(sentence).toMatch(/\.$/);
    if (row !== undefined) expect(line).toBe(row);
  });

  it('is every file that breaks off, wherever it does', () => {
    for (let length = 1; length < WHOLE.length; length += 1) {
      expect(readXml(utf8(WHOLE.slice(0, length))).ok, WHOLE.slice(0, length)).toBe(false);
    }
    expect(readXml(utf8(WHOLE)).ok).toBe(true);
  });

  it('is a nesting that no file needs, before the parser sees it', () => {
    expect(refusal('<a>'.repeat(100_000)).code).toBe('too_deep');
  });

  it('is quick to be refused, whatever it is made of', () => {
    for (const noise of ['<!--', '<', '<a "', "<a b='", '<![CDATA[', '<?', '&', '<a:b ']) {
      expect(readXml(utf8(noise.repeat(200_000))).ok).toBe(false);
    }
  }, 5_000);
});

describe('XML that is read', () => {
  const nameIn = (bytes: Uint8Array): string | null => {
    const outcome = readXml(bytes);
    if (!outcome.ok) throw new Error(outcome.sentence);
    const wpt = childOf(outcome.value.root, 'wpt');
    return textOf(wpt, 'name');
  };
  const document = (head: string) => `${head}<gpx><wpt lat="1" lon="2"><name>šđ ő</name></wpt></gpx>`;

  it('may have a byte order mark, with and without a declaration', () => {
    expect(nameIn(utf8(`\ufeff${document('<?xml version="1.0" encoding="utf-8"?>')}`))).toBe('šđ ő');
    expect(nameIn(utf8(`\ufeff${document('')}`))).toBe('šđ ő');
    expect(nameIn(utf8(`\n\n${document('<?xml version="1.0"?>')}`))).toBe('šđ ő');
  });

  it('may be UTF-16', () => {
    const text = `\ufeff${document('<?xml version="1.0" encoding="UTF-16"?>')}`;
    const bytes = new Uint8Array(text.length * 2);
    for (let i = 0; i < text.length; i += 1) new DataView(bytes.buffer).setUint16(i * 2, text.charCodeAt(i), true);
    expect(nameIn(bytes)).toBe('šđ ő');
  });

  it('may be in the encoding that it declares', () => {
    // Byte 0xe9 is é in ISO 8859-1 and й in Windows-1251 (the Unicode consortium's mapping tables).
    const bytes = (encoding: string) => {
      const [before, after] = `<?xml version="1.0" encoding="${encoding}"?><gpx><wpt><name>|</name></wpt></gpx>`.split(
        '|',
      );
      return new Uint8Array([...utf8(before as string), 0xe9, ...utf8(after as string)]);
    };
    expect(nameIn(bytes('ISO-8859-1'))).toBe('é');
    expect(nameIn(bytes('windows-1251'))).toBe('й');
  });

  it('may use prefixes that it does not declare, which is told', () => {
    const outcome = readXml(utf8('<gpx><wpt><x:speed y:unit="m">1</x:speed></wpt></gpx>'));
    expect(outcome).toMatchObject({ ok: true, value: { undeclared: ['x', 'y'] } });
    const declared = readXml(utf8('<gpx xmlns:x="urn:x" note="a:b=1"><x:speed/><!-- <z:z> --></gpx>'));
    expect(declared).toMatchObject({ ok: true, value: { undeclared: [] } });
  });

  it('may have its root behind a prefix', () => {
    const outcome = readXml(utf8('<k:kml xmlns:k="http://www.opengis.net/kml/2.2"><k:Document/></k:kml>'));
    expect(outcome.ok && outcome.value.root.localName).toBe('kml');
  });
});
