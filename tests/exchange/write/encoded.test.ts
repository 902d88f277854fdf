import { expect, it } from 'vitest';
import { ENCODED_AT_ONCE, encoded } from '../../../src/exchange/write/encoded';

it('Texts in pieces are the bytes of the whole, wherever a character of two halves falls', () => {
  for (const shift of [0, 1, 2]) {
    const text = `${'a'.repeat(ENCODED_AT_ONCE - shift)}😀${'é'.repeat(ENCODED_AT_ONCE - 1)}😀b`;
    const pieces = [...encoded([text, '', 'end'])];
    expect(pieces.length).toBeGreaterThan(3);
    expect(Buffer.concat(pieces).equals(Buffer.from(`${text}end`, 'utf8'))).toBe(true);
  }
});
