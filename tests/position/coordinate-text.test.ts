import fc from 'fast-check';
import * as mgrs from 'mgrs';
import { describe, expect, it } from 'vitest';
import { COORDINATE_FORMS, type CoordinateForm, placeText } from '../../src/position/coordinate-format';
import { readPlaceText, type TextHints } from '../../src/position/coordinate-text';
import { geodesicDistanceM } from '../../src/position/geodesic';

function read(text: string | readonly [string, string], hints: TextHints = {}) {
  const outcome = readPlaceText(text, hints);
  if (!outcome.ok) throw new Error(`${JSON.stringify(text)}: ${outcome.sentence}`);
  return outcome.value;
}

function refusal(text: string | readonly [string, string], hints: TextHints = {}): string {
  const outcome = readPlaceText(text, hints);
  return outcome.ok ? `read as ${outcome.value.y}, ${outcome.value.x}` : outcome.code;
}

const DEGREES: readonly (readonly [text: string, lat: number, lon: number])[] = [
  ['47.51, 10.25', 47.51, 10.25],
  ['47.51,10.25', 47.51, 10.25],
  ['47.51 10.25', 47.51, 10.25],
  ['47.51;10.25', 47.51, 10.25],
  ['47.51\t10.25', 47.51, 10.25],
  ['47.51 / 10.25', 47.51, 10.25],
  ['(47.51, 10.25)', 47.51, 10.25],
  ['47,51 10,25', 47.51, 10.25],
  ['47,5 10,25', 47.5, 10.25],
  ['47,51;10,25', 47.51, 10.25],
  ['47,51, 10,25', 47.51, 10.25],
  ['47,51,10,25', 47.51, 10.25],
  ['-47.5,-10.25', -47.5, -10.25],
  ['−47.5, −10.25', -47.5, -10.25],
  ['47 10', 47, 10],
  ['-91.63, 37.4', 37.4, -91.63],
  ['10.25E 47.5N', 47.5, 10.25],
  ['10.25 E, 47.5 N', 47.5, 10.25],
  ['47.5N10.25E', 47.5, 10.25],
  ['N47.5E10.25', 47.5, 10.25],
  ['47.51°N, 10.25°E', 47.51, 10.25],
  ['47.51° 10.25°', 47.51, 10.25],
  ['47.51N, 10.25', 47.51, 10.25],
  ['47 N 10 E', 47, 10],
  ['32N 10.5E', 32, 10.5],
  ['32 S 115 E', -32, 115],
  ['47 Nord 10 Ost', 47, 10],
  ['lat 47.51 lon 10.25', 47.51, 10.25],
  ['Lng: 10.25, Lat: 47.51', 47.51, 10.25],
  ['N47 30.5 E10 15.2', 47 + 30.5 / 60, 10 + 15.2 / 60],
  ["N 47° 30.5' E 010° 15.2'", 47 + 30.5 / 60, 10 + 15.2 / 60],
  ['47º 30´ S, 10º 15´ W', -47.5, -10.25],
  ["17°07.8514' N 91°38.0435' W", 17 + 7.8514 / 60, -(91 + 38.0435 / 60)],
  ['47 30.5, 10 15.2', 47 + 30.5 / 60, 10 + 15.2 / 60],
  ['47 30 15 N 10 15 20 E', 47 + 30 / 60 + 15 / 3600, 10 + 15 / 60 + 20 / 3600],
  ['47 30 15 10 15 20', 47 + 30 / 60 + 15 / 3600, 10 + 15 / 60 + 20 / 3600],
  ['47°30\'15"N10°15\'20"E', 47 + 30 / 60 + 15 / 3600, 10 + 15 / 60 + 20 / 3600],
  ['47°30\'15" 10°15\'20"', 47 + 30 / 60 + 15 / 3600, 10 + 15 / 60 + 20 / 3600],
  ['47° 30\' 15" 10° 15\' 20"', 47 + 30 / 60 + 15 / 3600, 10 + 15 / 60 + 20 / 3600],
];

const GRIDS: readonly (readonly [text: string, crs: string, x: number, y: number])[] = [
  ['32N 500000 5200000', 'EPSG:32632', 500000, 5200000],
  ['32T 500000 5200000', 'EPSG:32632', 500000, 5200000],
  ['32U 500000 5400000', 'EPSG:32632', 500000, 5400000],
  ['32 t 500000 5200000', 'EPSG:32632', 500000, 5200000],
  ['32T 500 000 5 200 000', 'EPSG:32632', 500000, 5200000],
  ["32T 500'000 5'200'000", 'EPSG:32632', 500000, 5200000],
  ['32T 500,000 5,200,000', 'EPSG:32632', 500000, 5200000],
  ['EPSG:2154 700,123 6600,25', 'EPSG:2154', 700.123, 6600.25],
  ['EPSG:2154 6600,25E 700,123N', 'EPSG:2154', 6600.25, 700.123],
  ['EPSG:2154 0,500 0,250', 'EPSG:2154', 0.5, 0.25],
  ['32T 500000,5200000', 'EPSG:32632', 500000, 5200000],
  ['32T 500000.25, 5200000.75', 'EPSG:32632', 500000.25, 5200000.75],
  ['32T 500000,25 5200000,75', 'EPSG:32632', 500000.25, 5200000.75],
  ['500000 5200000 32T', 'EPSG:32632', 500000, 5200000],
  ['32T 500000mE 5200000mN', 'EPSG:32632', 500000, 5200000],
  ['32T 5200000 N 500000 E', 'EPSG:32632', 500000, 5200000],
  ['UTM zone 32 north 500000 5200000', 'EPSG:32632', 500000, 5200000],
  ['56 south 222584 6244878', 'EPSG:32756', 222584, 6244878],
  ['56H 222584 6244878', 'EPSG:32756', 222584, 6244878],
  ['56S 222584 6244878', 'EPSG:32756', 222584, 6244878],
  ['32V 296192 6701684', 'EPSG:32632', 296192, 6701684],
  ['31V 626719 6698172', 'EPSG:32631', 626719, 6698172],
  ['33X 513000 8681000', 'EPSG:32633', 513000, 8681000],
  ['EPSG:32632 500000 5200000', 'EPSG:32632', 500000, 5200000],
  ['epsg: 2154 700 000 6 600 000', 'EPSG:2154', 700000, 6600000],
  ['500000 5200000 (EPSG:32632', 'EPSG:32632', 500000, 5200000],
  ['EPSG:31254 -6192.1 317962.7', 'EPSG:31254', -6192.1, 317962.7],
  ['EPSG:4258 47.5 10.25', 'EPSG:4258', 10.25, 47.5],
];

describe('a place written in degrees', () => {
  it.each(DEGREES)('"%s" is %f, %f', (text, lat, lon) => {
    const found = read(text);
    expect(found.crs).toBe('EPSG:4326');
    expect(found.y).toBeCloseTo(lat, 12);
    expect(found.x).toBeCloseTo(lon, 12);
    expect(found.asEntered).toEqual([text.trim()]);
  });

  it('is never degrees and minutes for a short decimal', () => {
    expect(read('47.30 10.15')).toMatchObject({ y: 47.3, x: 10.15 });
  });

  it('says how latitude and longitude were told apart', () => {
    expect(read('47.51, 10.25').order).toBe('assumed');
    expect(read('10.25E 47.51N').order).toBe('said');
    expect(read('-91.63, 37.4').order).toBe('only_fit');
    expect(read('37.4, -91.63').order).toBe('only_fit');
    expect(read('10.25, 47.51', { order: 'lon_lat' })).toMatchObject({ x: 10.25, y: 47.51, order: 'assumed' });
  });

  it('may come in two pieces, which are kept as entered unless they are plain numbers', () => {
    expect(read(['47.51', '10.25'])).toMatchObject({ x: 10.25, y: 47.51, asEntered: null });
    expect(read(['47,51', ' 10,25'])).toMatchObject({ x: 10.25, y: 47.51 });
    expect(read(["47° 30' N", "10° 15' E"])).toMatchObject({
      x: 10.25,
      y: 47.5,
      asEntered: ["47° 30' N", "10° 15' E"],
    });
    expect(read(["10° 15' E", "47° 30' N"])).toMatchObject({ x: 10.25, y: 47.5 });
  });

  it.each([
    ['47,10', 'one_number_or_two'],
    ['47,51', 'one_number_or_two'],
    ['47.51', 'half_a_place'],
    ['47º 30´ S', 'half_a_place'],
    ['47N 48N', 'two_of_one_axis'],
    ['10.25 O 47 N', 'hemisphere_unclear'],
    ['-47 S 10 E', 'sign_and_hemisphere'],
    ['95 200', 'outside_crs'],
    ['95 100', 'outside_crs'],
    ['91 N 10 E', 'outside_crs'],
    ['47.5; 10.25; 3', 'not_a_place'],
    ['47 70.5 N 10 15 E', 'not_a_place'],
    ['by the old oak', 'not_a_place'],
    ['', 'not_a_place'],
    ['1'.repeat(200), 'not_a_place'],
  ])('"%s" is refused: %s', (text, code) => {
    expect(refusal(text)).toBe(code);
  });
});

describe('a place written in a grid', () => {
  it.each(GRIDS)('"%s" is %s %f %f', (text, crs, x, y) => {
    expect(read(text)).toMatchObject({ crs, x, y });
  });

  it('needs its grid, which may be known from elsewhere', () => {
    expect(refusal('500000 5200000')).toBe('needs_crs');
    expect(read('500000 5200000', { crs: 'EPSG:32632' })).toMatchObject({ crs: 'EPSG:32632', x: 500000, y: 5200000 });
    expect(read(['500000', '5200000'], { crs: 'EPSG:32632' })).toMatchObject({ x: 500000, y: 5200000 });
    const grid = { name: 'field', unit: 'm' as const, origin_lon: 10, origin_lat: 47, bearing_deg: 0 };
    expect(read('12.5 40', { crs: 'grid:field', grids: [grid] })).toMatchObject({ crs: 'grid:field', x: 12.5, y: 40 });
  });

  it('asks whether S is a band or the south where both are on the Earth, and asks no more where the site is known', () => {
    const kentucky = '17S 500000 4000000';
    expect(refusal(kentucky)).toBe('band_or_hemisphere');
    expect(read(kentucky, { near: { lon: -82, lat: 37 } }).crs).toBe('EPSG:32617');
    expect(read(kentucky, { near: { lon: -81, lat: -53 } }).crs).toBe('EPSG:32717');
    expect(refusal(kentucky, { near: { lon: 15, lat: 46 } })).toBe('band_or_hemisphere');
    expect(read('17 north 500000 4000000').crs).toBe('EPSG:32617');
    // A northing that band S does not reach can only be southern.
    expect(read('17S 500000 9000000').crs).toBe('EPSG:32717');
  });

  it('is refused where the northing is not in the band', () => {
    expect(refusal('32U 500000 5200000')).toBe('band_disagrees');
    expect(refusal('32T 500000 520000')).toBe('band_disagrees');
  });

  it('is refused by name where its system cannot be used', () => {
    expect(refusal('EPSG:27700 400000 300000')).toBe('crs_needs_grid');
    expect(refusal('EPSG:999999 400000 300000')).toBe('unknown_crs');
    expect(refusal('EPSG:32632 400000')).toBe('not_a_place');
    // Thousands in one country, decimals in the next.
    expect(refusal('EPSG:2154 700,123 600,250')).toBe('not_a_place');
    expect(refusal('EPSG:2154 700,123 600250')).toBe('not_a_place');
  });
});

describe('a place written in MGRS', () => {
  it('is the middle of its cell, which is said', () => {
    expect(read('32TNT9414161486')).toMatchObject({ crs: 'EPSG:32632', x: 594141.5, y: 5261486.5, cellM: 1 });
    expect(read('32T NT 941 614')).toMatchObject({ crs: 'EPSG:32632', x: 594150, y: 5261450, cellM: 100 });
    const [lon, lat] = mgrs.toPoint('32TNT941614') as [number, number];
    expect(geodesicDistanceM(read('32TNT941614').lonLat, { lon, lat })).toBeLessThan(0.5);
    expect(read('47.51, 10.25').cellM).toBeNull();
  });

  it('is refused beyond UTM', () => {
    expect(refusal('ZAH 00000 00000')).toBe('mgrs_polar');
  });
});

describe('a place as text', () => {
  const place = { lon: 10.25, lat: 47.5 };
  const text = (form: CoordinateForm, accuracyM?: number) => {
    const outcome = placeText(place, form, accuracyM);
    return outcome.ok ? outcome.value : outcome.code;
  };

  it.each([
    ['decimal_degrees', 4, '47.500000, 10.250000'],
    ['decimal_degrees', 10, '47.50000, 10.25000'],
    ['degrees_minutes', 10, "47° 30.000' N, 10° 15.000' E"],
    ['degrees_minutes_seconds', 10, '47° 30\' 00.00" N, 10° 15\' 00.00" E'],
    ['utm', 10, 'UTM 32 north 594141 5261487'],
    ['mgrs', 10, '32T NT 94141 61486'],
    ['mgrs', 60, '32T NT 9414 6148'],
    ['EPSG:32632', 10, 'EPSG:32632 594141 5261487'],
    ['EPSG:4258', 10, 'EPSG:4258 47.50000, 10.25000'],
    ['EPSG:27700', 10, 'crs_needs_grid'],
  ] as const)('as %s at %f m is "%s"', (form, accuracyM, expected) => {
    expect(text(form, accuracyM)).toBe(expected);
  });

  it('carries over instead of writing 60 minutes or 60 seconds', () => {
    const near = { lon: -10.999999999, lat: 47.999999999 };
    const written = (form: CoordinateForm) => {
      const outcome = placeText(near, form, 10);
      return outcome.ok ? outcome.value : outcome.sentence;
    };
    expect(written('degrees_minutes')).toBe("48° 00.000' N, 11° 00.000' W");
    expect(written('degrees_minutes_seconds')).toBe('48° 00\' 00.00" N, 11° 00\' 00.00" W');
    const origin = placeText({ lon: -1e-12, lat: -1e-12 }, 'decimal_degrees', 10);
    expect(origin).toMatchObject({ ok: true, value: '0.00000, 0.00000' });
  });

  it('is refused in UTM and MGRS near the poles', () => {
    for (const form of ['utm', 'mgrs'] as const) {
      expect(placeText({ lon: 0, lat: 85 }, form, 10)).toMatchObject({ ok: false, code: 'outside_utm' });
    }
  });

  it('is read again within what its accuracy is worth, in every form, the world over', () => {
    const forms: readonly CoordinateForm[] = [...COORDINATE_FORMS, 'EPSG:3857'];
    fc.assert(
      fc.property(
        fc.double({ min: -79.9, max: 83.9, noNaN: true }),
        fc.double({ min: -180, max: 179.999, noNaN: true }),
        fc.constantFrom(...forms),
        fc.constantFrom(0.02, 0.5, 3, 10, 60),
        (lat, lon, form, accuracyM) => {
          const written = placeText({ lon, lat }, form, accuracyM);
          if (!written.ok) throw new Error(written.sentence);
          const again = read(written.value).lonLat;
          // MGRS ends at the metre, whose middle is 0.71 m from its corners; else a fifth of the accuracy, rounded.
          const allowed = form === 'mgrs' ? Math.max(0.71, 0.2 * accuracyM) : 0.2 * accuracyM;
          expect(geodesicDistanceM(again, { lon, lat })).toBeLessThan(allowed + 0.001);
        },
      ),
      { seed: 42, numRuns: 600 },
    );
  });
});
