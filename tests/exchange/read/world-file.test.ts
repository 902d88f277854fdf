import { describe, expect, it } from 'vitest';
import { isWorldFileName, readWorldFile } from '../../../src/exchange/read/world-file';

describe('a world file', () => {
  it('gives its six numbers in the order of the file, with any line ends, decimal commas and exponents', () => {
    expect(readWorldFile('\uFEFF2,5\r\n0.1\r\n-1e-1\r\n-2.5\r\n500001\r\n5000099.25\r\n\r\n')).toEqual({
      ok: true,
      value: {
        xPerColumn: 2.5,
        yPerColumn: 0.1,
        xPerRow: -0.1,
        yPerRow: -2.5,
        xOfFirst: 500001,
        yOfFirst: 5000099.25,
      },
    });
  });

  it.each([
    ['not_six_numbers', '2\n0\n0\n-2\n5'],
    ['not_six_numbers', '2\n0\n0\n-2\n5\nsix'],
    ['not_six_numbers', '2\n0\n0\n-2\n5\n6\n7'],
    ['flat_picture', '2\n0\n0\n0\n5\n6'],
  ])('is refused: %s', (code, text) => {
    expect(readWorldFile(text)).toMatchObject({ ok: false, code });
  });

  it('is known by its ending', () => {
    expect(['a.jgw', 'b.PGW', 'c.tfw', 'd.wld'].every(isWorldFileName)).toBe(true);
    expect(isWorldFileName('a.png')).toBe(false);
  });
});
