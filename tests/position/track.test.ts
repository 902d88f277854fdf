import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { geodesicDestination, geodesicDistanceM } from '../../src/position/geodesic';
import { placeLine } from '../../src/position/place-line';
import type { Track } from '../../src/position/track';
import type { Line } from '../../src/survey/survey';
import { madeLine, madeReading, standingAlone } from '../helpers/made-survey';

function trackOf(line: Line): Track {
  const placed = placeLine(line, [], standingAlone);
  if (!placed.ok) throw new Error(placed.sentence);
  return placed.track;
}

/** A bent line of legs [azimuth, length] from a place, with exact fixes at its corners. */
function bentLine(lon: number, lat: number, legs: readonly (readonly [number, number])[]) {
  const corners = [{ lon, lat, chainageM: 0 }];
  for (const [azimuth, length] of legs) {
    const last = corners[corners.length - 1] ?? { lon, lat, chainageM: 0 };
    corners.push({ ...geodesicDestination(last, azimuth, length), chainageM: last.chainageM + length });
  }
  return madeLine('bent', corners);
}

describe('a line through its controls', () => {
  it('puts 72 electrodes 5 m apart over 355.000 m at 60° north', () => {
    const track = trackOf(bentLine(24.9, 60, [[90, 355]]));
    for (let i = 1; i < 72; i += 1) {
      const step = geodesicDistanceM(track.placeAt(5 * (i - 1)), track.placeAt(5 * i));
      expect(Math.abs(step - 5)).toBeLessThan(1e-4);
    }
    expect(Math.abs(geodesicDistanceM(track.placeAt(0), track.placeAt(355)) - 355)).toBeLessThan(1e-3);
  });

  it('keeps its bends', () => {
    //  0 ────── 20
    //            ╲ 40
    const line = bentLine(-91.9, 37.4, [
      [90, 20],
      [120, 20],
    ]);
    const track = trackOf(line);
    expect(track.bends).toEqual([20]);
    const corner = geodesicDestination({ lon: -91.9, lat: 37.4 }, 90, 20);
    expect(geodesicDistanceM(track.placeAt(20), corner)).toBeLessThan(1e-4);
    expect(geodesicDistanceM(track.placeAt(30), geodesicDestination(corner, 120, 10))).toBeLessThan(1e-4);
  });

  it('measures across a bend by the law of cosines, and along a leg by the tape alone', () => {
    const track = trackOf(
      bentLine(-91.9, 37.4, [
        [90, 20],
        [120, 20],
      ]),
    );
    const inner = Math.PI - Math.PI / 6;
    const across = Math.sqrt(5 ** 2 + 8 ** 2 - 2 * 5 * 8 * Math.cos(inner));
    expect(track.distanceM(15, 28)).toBeCloseTo(across, 4);
    expect(track.distanceM(3, 10.5)).toBe(7.5);
  });

  it('takes distances from the tape even where two fixes disagree with it', () => {
    const far = geodesicDestination({ lon: -91.9, lat: 37.4 }, 90, 33);
    const track = trackOf(
      madeLine('stretched', [
        { chainageM: 0, lon: -91.9, lat: 37.4 },
        { chainageM: 30, ...far },
      ]),
    );
    expect(track.distanceM(4, 9)).toBe(5);
    expect(track.tapeGpsScale).toBeCloseTo(1.1, 4);
  });

  it('shortens a slope tape on the map and keeps it between electrodes', () => {
    // 30 m of tape up 6 m: √(30² − 6²) on the map.
    const top = geodesicDestination({ lon: -91.9, lat: 37.4 }, 0, Math.sqrt(30 ** 2 - 6 ** 2));
    const track = trackOf(
      madeLine('slope', [
        { chainageM: 0, lon: -91.9, lat: 37.4, elevationM: 200 },
        { chainageM: 30, ...top, elevationM: 206 },
      ]),
    );
    expect(track.tapeGpsScale).toBeCloseTo(1, 6);
    expect(track.distanceM(10, 15)).toBeCloseTo(5, 9);
    expect(track.elevationAt(15)).toBeCloseTo(203, 9);
    // Beyond the heights nothing is known of the slope: level.
    expect(geodesicDistanceM(track.placeAt(30), track.placeAt(35))).toBeCloseTo(5, 4);
    expect(track.elevationAt(35)).toBeNull();
  });

  it('is about as sure as its controls between two of them, and less beyond them', () => {
    const end = geodesicDestination({ lon: -91.9, lat: 37.4 }, 90, 40);
    const track = trackOf(
      madeLine('phone', [
        { chainageM: 0, lon: -91.9, lat: 37.4, accuracyM: 4 },
        { chainageM: 40, ...end, accuracyM: 4 },
      ]),
    );
    // Half of the variance is the device's own and stays; the tape and the other fix share the rest: 4 · √0.75 at least.
    expect(track.placeAt(0).uncertainty95M).toBeGreaterThan(3.46);
    expect(track.placeAt(0).uncertainty95M).toBeLessThan(4);
    expect(track.placeAt(20).uncertainty95M).toBeCloseTo(4 * Math.sqrt(0.75), 2);
    // 20 m beyond, sideways: σ² · (½ + ½ · (1.5² + 0.5²)) = 1.75 σ², between 1.96 and 2.4477 of which it must lie.
    const sideways = (4 / 2.4477) * Math.sqrt(1.75);
    expect(track.placeAt(60).uncertainty95M).toBeGreaterThan(1.96 * sideways);
    expect(track.placeAt(60).uncertainty95M).toBeLessThan(2.4477 * sideways);
  });

  it('averages two fixes of one place without claiming that the device lost its bias', () => {
    const end = geodesicDestination({ lon: -91.9, lat: 37.4 }, 90, 40);
    const track = trackOf(
      madeLine('twice', [
        { chainageM: 0, lon: -91.9, lat: 37.4, accuracyM: 3 },
        { chainageM: 0, lon: -91.9, lat: 37.40001, accuracyM: 3 },
        { chainageM: 40, ...end, accuracyM: 3 },
      ]),
    );
    expect(track.bends).toEqual([]);
    expect(track.placeAt(0).lat).toBeCloseTo(37.400005, 7);
    // Twice as many fixes would take 3 m to 2.1 m if all of their errors were their own; half of the variance is not.
    expect(track.placeAt(0).uncertainty95M).toBeGreaterThan(2.4);
    expect(track.placeAt(0).uncertainty95M).toBeLessThan(3);
  });

  it('is the same walked from its other end', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -179.9, max: 180, noNaN: true }),
        fc.double({ min: -80, max: 80, noNaN: true }),
        fc.array(fc.tuple(fc.integer({ min: 0, max: 359 }), fc.integer({ min: 5, max: 400 })), {
          minLength: 1,
          maxLength: 4,
        }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (lon, lat, legs, share) => {
          const line = bentLine(lon, lat, legs);
          const length = legs.reduce((sum, [, metres]) => sum + metres, 0);
          const turned: Line = {
            ...line,
            path: line.path.map((item) =>
              item.kind === 'fix' ? { ...item, chainage_m: length - item.chainage_m } : item,
            ),
          };
          const there = trackOf(line).placeAt(share * length);
          const back = trackOf(turned).placeAt((1 - share) * length);
          expect(geodesicDistanceM(there, back)).toBeLessThan(1e-4);
        },
      ),
      { numRuns: 200, seed: 7 },
    );
  });

  it('places any point of a leg within a tenth of a millimetre of the ellipsoid', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -179.9, max: 180, noNaN: true }),
        fc.double({ min: -85, max: 85, noNaN: true }),
        fc.integer({ min: 0, max: 359 }),
        fc.integer({ min: 10, max: 1500 }),
        fc.double({ min: -0.2, max: 1.2, noNaN: true }),
        (lon, lat, azimuth, length, share) => {
          const track = trackOf(bentLine(lon, lat, [[azimuth, length]]));
          // A geodesic of a kilometre and a straight of the plane part by far less than this.
          const exact = geodesicDestination({ lon, lat }, azimuth, share * length);
          expect(geodesicDistanceM(track.placeAt(share * length), exact)).toBeLessThan(5e-4);
        },
      ),
      { numRuns: 300, seed: 11 },
    );
  });
});

describe('a line that cannot be placed', () => {
  it('says so when it has one control only', () => {
    const placed = placeLine(madeLine('lonely', [{ chainageM: 0, lon: 1, lat: 2 }]), [], standingAlone);
    expect(placed).toMatchObject({ ok: false });
    expect(placed.ok || placed.sentence).toContain('only one placed point');
  });

  it('says so when its coordinates are not on the Earth', () => {
    const placed = placeLine(
      madeLine('off', [
        { chainageM: 0, lon: 37, lat: -92 },
        { chainageM: 9, lon: 37, lat: -92 },
      ]),
      [],
      standingAlone,
    );
    expect(placed.ok || placed.sentence).toContain('swapped');
  });
});

describe('controls that cannot be right', () => {
  const start = { lon: -91.9, lat: 37.4 };
  const sentence = (fixes: Parameters<typeof madeLine>[1]) => {
    const placed = placeLine(madeLine('A', fixes), [], standingAlone);
    return placed.ok ? 'placed' : placed.sentence;
  };

  it.each([
    ['a lost sign of the longitude', { lon: 91.8995, lat: 37.4 }],
    ['a wrong digit', { lon: -19.9, lat: 37.4 }],
    ['a lost sign of the latitude', { lon: -91.9, lat: -37.4 }],
    ['the pole', { lon: 0, lat: 90 }],
  ])('%s is refused: kilometres from the rest of the line', (_what, wrong) => {
    expect(
      sentence([
        { chainageM: 0, ...start },
        { chainageM: 40, ...wrong },
      ]),
    ).toContain('more than 5 km');
  });

  it('two chainages at one place are refused: they have no direction', () => {
    expect(
      sentence([
        { chainageM: 0, ...start },
        { chainageM: 40, ...start },
      ]),
    ).toContain('two different chainages at one place');
  });

  it('two fixes 3 mm of tape apart are one point', () => {
    expect(
      sentence([
        { chainageM: 0, ...start },
        { chainageM: 0.003, lon: -91.8999, lat: 37.4 },
      ]),
    ).toContain('only one placed point');
  });

  it('fixes that disagree with the tape or with each other are as unsure as they disagree', () => {
    const far = geodesicDestination(start, 90, 42);
    const taped = trackOf(
      madeLine('A', [
        { chainageM: 0, ...start, accuracyM: 0.5 },
        { chainageM: 36, ...far, accuracyM: 0.5 },
      ]),
    );
    expect(taped.placeAt(18).uncertainty95M).toBeGreaterThan(5.9);
    const twice = geodesicDestination(start, 0, 53);
    const spread = trackOf(
      madeLine('A', [
        { chainageM: 0, ...start },
        { chainageM: 0, ...twice },
        { chainageM: 60, ...far },
      ]),
    );
    expect(spread.placeAt(0).uncertainty95M).toBeGreaterThan(20);
  });
});

describe('longitudes', () => {
  it('stay within ±180° beyond the end of a line that starts there', () => {
    const track = trackOf(bentLine(180, -16.5, [[90, 40]]));
    expect(Math.abs(track.placeAt(-3).lon)).toBeLessThanOrEqual(180);
    expect(track.placeAt(-3).lon).toBeGreaterThan(179.99);
  });
});

describe('a line of readings that brought their own places', () => {
  it('runs through them in their order, chainage growing with the ground', () => {
    const line = madeLine('own', []);
    const start = { lon: -91.9, lat: 37.4 };
    const places = [0, 9, 18, 27].map((distance) => geodesicDestination(start, 45, distance));
    const readings = places.map(({ lon, lat }) =>
      madeReading(line, { value: 30, hookup: 'wenner_alpha', position: { x: lon, y: lat, crs: 'EPSG:4326' } }),
    );
    const placed = placeLine(line, readings, standingAlone);
    if (!placed.ok) throw new Error(placed.sentence);
    const chainages = readings.map(({ id }) => placed.track.ownChainages.get(id) ?? Number.NaN);
    chainages.forEach((chainage, i) => {
      expect(chainage).toBeCloseTo(9 * i, 4);
    });
    expect(geodesicDistanceM(placed.track.placeAt(18), places[2] ?? start)).toBeLessThan(1e-4);
  });

  const start = { lon: -91.9, lat: 37.4 };
  const own = (distances: readonly number[], more: (i: number) => object = () => ({})) => {
    const line = madeLine('own', []);
    const readings = distances.map((distance, i) => {
      const { lon, lat } = geodesicDestination(start, 45, distance);
      return madeReading(line, {
        value: 30,
        hookup: 'wenner_alpha',
        position: { x: lon, y: lat, crs: 'EPSG:4326' },
        ...more(i),
      });
    });
    const placed = placeLine(line, readings, standingAlone);
    if (!placed.ok) throw new Error(placed.sentence);
    return {
      track: placed.track,
      chainages: readings.map(({ id }) => placed.track.ownChainages.get(id) ?? Number.NaN),
    };
  };

  it('meets its places again in a table sorted by spacing', () => {
    const { track, chainages } = own([0, 10, 20, 30, 40, 0, 10, 20, 30, 40], () => ({ spacing_m: 2 }));
    expect(track.toM).toBeCloseTo(40, 3);
    expect(chainages.map(Math.round)).toEqual([0, 10, 20, 30, 40, 0, 10, 20, 30, 40]);
  });

  it('knows a place again within a quarter of a step', () => {
    const jittered = [0, 10, 20, 0.8, 9.1, 21];
    expect(own(jittered, () => ({ spacing_m: 2 })).track.toM).toBeCloseTo(20, 3);
    // Without spacings there is no ladder to belong to.
    expect(new Set(own(jittered).chainages).size).toBe(6);
  });

  it('keeps the chainages that every one of them says', () => {
    const { track, chainages } = own([0, 10, 20], (i) => ({ midpoint_m: 100 + 10 * i }));
    expect(chainages).toEqual([100, 110, 120]);
    expect(geodesicDistanceM(track.placeAt(110), geodesicDestination(start, 45, 10))).toBeLessThan(1e-3);
  });

  it('finds their chainage beside a line that has controls', () => {
    const line = bentLine(start.lon, start.lat, [[45, 40]]);
    const { lon, lat } = geodesicDestination(geodesicDestination(start, 45, 12), 135, 1.5);
    const reading = madeReading(line, { value: 30, position: { x: lon, y: lat, crs: 'EPSG:4326' } });
    const placed = placeLine(line, [reading], standingAlone);
    if (!placed.ok) throw new Error(placed.sentence);
    expect(placed.track.ownChainages.get(reading.id)).toBeCloseTo(12, 2);
  });
});
