import fc from 'fast-check';
import DMS from 'geographiclib-dms';
import { describe, expect, test } from 'vitest';
import { readAngle } from '../../src/position/angle-text';

function degrees(text: string): number {
  const angle = readAngle(text);
  if (!angle.ok) throw new Error(angle.sentence);
  return angle.value.deg;
}

function refusal(text: string): string {
  const angle = readAngle(text);
  return angle.ok ? `read as ${angle.value.deg}` : angle.code;
}

describe('readAngle', () => {
  test('a short decimal is decimal degrees, never degrees and minutes', () => {
    expect(degrees('47.51')).toBe(47.51);
    expect(degrees('10.25')).toBe(10.25);
    expect(degrees('-91.3')).toBe(-91.3);
    expect(degrees('.5')).toBe(0.5);
  });

  test('a decimal comma is taken, also before three digits, since an angle has no thousands', () => {
    expect(degrees('47,5')).toBe(47.5);
    expect(degrees('-10,250')).toBe(-10.25);
    expect(degrees('47° 30\' 15,5" N')).toBeCloseTo(47 + 30 / 60 + 15.5 / 3600, 12);
  });

  test.each([
    ['40° 11′', 40 + 11 / 60],
    ['40° 11\' 15"', 40.1875],
    ['40°11’15”', 40.1875],
    ['40º 11´ 15´´', 40.1875],
    ["40˚11'15''", 40.1875],
    ['40:11:15', 40.1875],
    ['40 11 15', 40.1875],
    ['-40 11 15', -40.1875],
    ['−40°11′15″', -40.1875],
    ['40d11m15s', 40.1875],
    ['40 deg 11 min 15 sec', 40.1875],
    ['40°\u00a011′\u00a015″', 40.1875],
    ["17° 07.8514' N", 17 + 7.8514 / 60],
  ])('reads the parts of %s', (text, expected) => {
    expect(degrees(text)).toBeCloseTo(expected, 12);
  });

  test.each([
    ['47.5N', 47.5, 'lat'],
    ['47.5 s', -47.5, 'lat'],
    ['W 91 38 02.6', -(91 + 38 / 60 + 2.6 / 3600), 'lon'],
    ["091° 38.0435' W", -(91 + 38.0435 / 60), 'lon'],
    ['10,25 Ost', 10.25, 'lon'],
    ['10,25 Ouest', -10.25, 'lon'],
    ['10,25 Oeste', -10.25, 'lon'],
    ['47 Nord', 47, 'lat'],
    ['47 Süd', -47, 'lat'],
    ['23°0N', 23, 'lat'],
  ])('%s has its sign and its axis from the hemisphere', (text, expected, axis) => {
    const angle = readAngle(text);
    expect(angle).toMatchObject({ ok: true, value: { axis, composed: true } });
    expect(degrees(text)).toBeCloseTo(expected, 12);
  });

  test('a lone O is refused, since it is east to some and west to others', () => {
    expect(refusal('10.25 O')).toBe('hemisphere_unclear');
  });

  test('a minus sign together with a hemisphere is refused', () => {
    expect(refusal('-47 S')).toBe('sign_and_hemisphere');
  });

  test.each([
    ['', 'not_an_angle'],
    ['N', 'not_an_angle'],
    ['NaN', 'not_an_angle'],
    ['Infinity', 'not_an_angle'],
    ['0x10', 'not_an_angle'],
    ['foo', 'not_an_angle'],
    ['47.5;10.25', 'not_an_angle'],
    ['47.5 10.25', 'not_an_angle'],
    ['47+10', 'not_an_angle'],
    ['4:60', 'not_an_angle'],
    ['4°5"4\'', 'not_an_angle'],
    ["4.5°30'", 'not_an_angle'],
    ['N47N', 'not_an_angle'],
    ['45.5 m', 'not_an_angle'],
    ['1.234,5', 'not_an_angle'],
  ])('refuses "%s"', (text, code) => {
    expect(refusal(text)).toBe(code);
  });

  test('an exponent is a plain number', () => {
    expect(degrees('-4.8e-7')).toBe(-4.8e-7);
  });

  test('what another program writes as degrees, minutes and seconds comes back', () => {
    fc.assert(
      fc.property(fc.double({ min: -90, max: 90, noNaN: true }), (deg) => {
        expect(Math.abs(degrees(DMS.Encode(deg, DMS.SECOND, 8, DMS.LATITUDE)) - deg)).toBeLessThan(1e-11);
      }),
    );
  });
});
