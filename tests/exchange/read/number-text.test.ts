import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { guessDecimalSign, readNumber } from '../../../src/exchange/read/number-text';

describe('readNumber', () => {
  test.each([
    ['12', '.', 12],
    ['-0.5', '.', -0.5],
    ['+3', '.', 3],
    ['.5', '.', 0.5],
    ['5.', '.', 5],
    ['007', '.', 7],
    ['1e5', '.', 100000],
    ['1.5E-3', '.', 0.0015],
    ['\u22122.5', '.', -2.5],
    [' 12.5 ', '.', 12.5],
    ['20 000', '.', 20000],
    ['1\u2009234\u202f567.5', '.', 1234567.5],
    ["12'345.5", '.', 12345.5],
    ['1,234.5', '.', 1234.5],
    ['1,234,567', '.', 1234567],
    ['47,5', ',', 47.5],
    ['-0,25', ',', -0.25],
    ['1.234,5', ',', 1234.5],
    ['1.234.567', ',', 1234567],
    ['1,5e3', ',', 1500],
    ['12', ',', 12],
  ] as const)('reads %s with the decimal sign "%s"', (text, decimal, expected) => {
    expect(readNumber(text, decimal)).toBe(expected);
  });

  test.each([
    ['1,234', '.'],
    ['1.234', ','],
    ['1.234,5', '.'],
    ['1,234.5', ','],
    ['47,5', '.'],
    ['47.5', ','],
    ['12,34.5', '.'],
    ['1234,567.5', '.'],
    ['1 23', '.'],
    ['1.2.3', '.'],
    ['', '.'],
    ['-', '.'],
    ['.', '.'],
    ['NaN', '.'],
    ['Infinity', '.'],
    ['1e999', '.'],
    ['0x10', '.'],
    ['12 m', '.'],
    ['twelve', '.'],
    ['1-2', '.'],
    ['--1', '.'],
  ] as const)('refuses "%s" with the decimal sign "%s"', (text, decimal) => {
    expect(readNumber(text, decimal)).toBeNull();
  });

  test('whatever a program writes of a number comes back as that number, in either decimal sign', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        expect(readNumber(String(value), '.')).toBe(Number(String(value)));
        expect(readNumber(String(value).replace('.', ','), ',')).toBe(Number(String(value)));
      }),
    );
  });

  test('whatever people see grouped by their language comes back, and never as another number', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('en-US', 'de-DE', 'fr-FR', 'de-CH'),
        fc.integer({ min: -1e12, max: 1e12 }),
        (language, thousandths) => {
          const value = thousandths / 1000;
          const decimal = language === 'de-DE' || language === 'fr-FR' ? ',' : '.';
          const text = new Intl.NumberFormat(language, { maximumFractionDigits: 3 }).format(value);
          const got = readNumber(text, decimal);
          // A lone thousands mark before three digits may be refused, but must not be taken for a decimal sign.
          if (got === null) expect(text).toMatch(/^\D?\d{1,3}[.,]\d{3}$/);
          else expect(got).toBe(value);
        },
      ),
    );
  });
});

describe('guessDecimalSign', () => {
  test('commas between digits are decimal signs where another mark parts the cells', () => {
    expect(guessDecimalSign(['47,5', '10,25', '3'], ';')).toBe(',');
    expect(guessDecimalSign(['12,345'], ';')).toBe(',');
    expect(guessDecimalSign(['1.234,5'], ';')).toBe(',');
  });

  test('quoted commas before three digits are thousands where commas part the cells', () => {
    expect(guessDecimalSign(['12,345'], ',')).toBe('.');
    expect(guessDecimalSign(['47,51'], ',')).toBe(',');
  });

  test('the sign that more cells use is taken', () => {
    expect(guessDecimalSign(['47.5', '10.25', '3,5'], ';')).toBe('.');
  });
});
