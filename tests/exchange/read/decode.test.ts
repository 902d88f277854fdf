import { describe, expect, test } from 'vitest';
import { decodeText } from '../../../src/exchange/read/decode';
import { utf8 } from './helpers';

const TEXT = 'line,lon\nL1,10°\n';

function utf16(text: string, littleEndian: boolean, mark: boolean): Uint8Array {
  const units = mark ? `\ufeff${text}` : text;
  const view = new DataView(new ArrayBuffer(units.length * 2));
  for (let i = 0; i < units.length; i += 1) view.setUint16(2 * i, units.charCodeAt(i), littleEndian);
  return new Uint8Array(view.buffer);
}

describe('decodeText', () => {
  test.each([
    ['UTF-8', utf8(TEXT), 'utf-8', false],
    ['UTF-8 with a mark', utf8(`\ufeff${TEXT}`), 'utf-8', false],
    ['UTF-16 little endian with a mark', utf16(TEXT, true, true), 'utf-16le', false],
    ['UTF-16 big endian with a mark', utf16(TEXT, false, true), 'utf-16be', false],
    ['UTF-16 little endian without a mark', utf16(TEXT, true, false), 'utf-16le', true],
    ['UTF-16 big endian without a mark', utf16(TEXT, false, false), 'utf-16be', true],
    ['Latin-1', Uint8Array.from(TEXT, (letter) => letter.charCodeAt(0)), 'windows-1252', true],
  ])('reads %s', (_, bytes, encoding, guessed) => {
    expect(decodeText(bytes)).toEqual({ ok: true, value: { text: TEXT, encoding, guessed } });
  });

  test('line ends of any system become the same', () => {
    expect(decodeText(utf8('a\r\nb\rc\nd'))).toMatchObject({ value: { text: 'a\nb\nc\nd' } });
  });

  test('an empty file and a file of blanks are refused as empty', () => {
    expect(decodeText(new Uint8Array())).toMatchObject({ ok: false, code: 'empty' });
    expect(decodeText(utf8(' \r\n\t\n'))).toMatchObject({ ok: false, code: 'empty' });
  });

  test('bytes of a picture or a program are refused', () => {
    expect(decodeText(Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0, 0, 0, 13, 0x49))).toMatchObject({
      code: 'not_text',
    });
    expect(decodeText(utf8('a,b\n1,\u0001\u0002\u0003'))).toMatchObject({ code: 'not_text' });
  });

  test('a spreadsheet workbook is told apart, with what to do', () => {
    const refused = decodeText(Uint8Array.of(0x50, 0x4b, 3, 4, 20, 0));
    expect(refused).toMatchObject({ code: 'workbook' });
    expect(refused.ok ? '' : refused.sentence).toContain('CSV');
  });
});
