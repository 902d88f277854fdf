import { describe, expect, it } from 'vitest';
import { SHARED_VARIANCE_SHARE as SHARED_SHARE, sigmaFromHdopM } from '../../src/position/accuracy';
import { localPlane } from '../../src/position/crs';
import { averageFixes, isFresh } from '../../src/position/fix-quality';
import { geodesicDistanceM } from '../../src/position/geodesic';
import { seeded } from '../helpers/made-survey';

describe('a single fix', () => {
  it('without an accuracy has one from its HDOP', () => {
    // HDOP 1.0 and 5 m of range error: √(σ² + σ²) = 5 m, so 3.5355 m per axis.
    expect(sigmaFromHdopM(1)).toBeCloseTo(3.5355, 4);
    expect(sigmaFromHdopM(2, 4)).toBeCloseTo((2 * 4) / Math.SQRT2, 12);
  });

  it('older than the tap that asked for it is not fresh', () => {
    expect(isFresh(1_000, 1_001)).toBe(false);
    expect(isFresh(1_001, 1_001)).toBe(true);
    expect(isFresh(2_000, 1_001)).toBe(true);
    expect(isFresh(Number.NaN, 1_001)).toBe(false);
  });
});

describe('an average of fixes', () => {
  const plane = localPlane(-91.9, 37.4);
  const at = (x: number, y: number, sigmaM = 3) => ({ ...plane.toLonLat(x, y), sigmaM });

  it('of nothing is none, of one is that one', () => {
    expect(averageFixes([])).toBeNull();
    const one = averageFixes([at(0, 0)]);
    expect(one).toMatchObject({ count: 1, spreadM: 0 });
    expect(one?.sigmaM).toBeCloseTo(3, 9);
  });

  it('lies in their middle, also across 180°', () => {
    const mean = averageFixes([at(0, 0), at(2, 0), at(1, 3)]);
    const [x, y] = plane.toPlane(mean?.lon ?? 0, mean?.lat ?? 0);
    expect(x).toBeCloseTo(1, 6);
    expect(y).toBeCloseTo(1, 6);
    // Root mean square per axis: √((1 + 1 + 0 + 1 + 1 + 4) / 3 / 2) = 1.1547.
    expect(mean?.spreadM).toBeCloseTo(Math.sqrt(8 / 6), 6);
    const across = averageFixes([
      { lon: 179.99999, lat: 0, sigmaM: 3 },
      { lon: -179.99999, lat: 0, sigmaM: 3 },
    ]);
    expect(geodesicDistanceM({ lon: 180, lat: 0 }, across ?? { lon: 0, lat: 0 })).toBeLessThan(1e-6);
  });

  it('gains by the number of fixes only what they do not share', () => {
    const many = averageFixes(Array.from({ length: 10_000 }, () => at(0, 0)));
    expect(many?.sigmaM).toBeGreaterThanOrEqual(3 * Math.sqrt(SHARED_SHARE));
    expect(many?.sigmaM).toBeLessThan(3 * Math.sqrt(SHARED_SHARE) * 1.001);
    const four = averageFixes(
      Array.from({ length: 4 }, () => at(0, 0)),
      0.36,
    );
    expect(four?.sigmaM).toBeCloseTo(3 * Math.sqrt(0.36 + 0.64 / 4), 9);
    const independent = averageFixes(
      Array.from({ length: 9 }, () => at(0, 0)),
      0,
    );
    expect(independent?.sigmaM).toBeCloseTo(1, 9);
  });

  it('is as sure as repeated stays at one place show', () => {
    const next = seeded(17);
    const normal = (): number => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
    const [shared, own] = [Math.sqrt(SHARED_SHARE), Math.sqrt(1 - SHARED_SHARE)];
    let [square, stated] = [0, 0];
    const stays = 2000;
    for (let i = 0; i < stays; i += 1) {
      const [bx, by] = [3 * shared * normal(), 3 * shared * normal()];
      const mean = averageFixes(Array.from({ length: 8 }, () => at(bx + 3 * own * normal(), by + 3 * own * normal())));
      const [x, y] = plane.toPlane(mean?.lon ?? 0, mean?.lat ?? 0);
      square += (x * x + y * y) / 2 / stays;
      stated += (mean?.sigmaM ?? 0) ** 2 / stays;
    }
    expect(Math.sqrt(square / stated)).toBeGreaterThan(0.93);
    expect(Math.sqrt(square / stated)).toBeLessThan(1.05);
  });

  it('is not surer than its fixes scatter, whatever they claim', () => {
    const wild = averageFixes([at(0, 0, 1), at(40, 0, 1), at(0, 40, 1), at(40, 40, 1)]);
    expect(wild?.spreadM).toBeCloseTo(20, 6);
    expect(wild?.sigmaM).toBeGreaterThan(10);
  });

  it('heeds a good fix more than bad ones', () => {
    const mean = averageFixes([at(0, 0, 1), at(10, 0, 10), at(10, 0, 10)]);
    const [x] = plane.toPlane(mean?.lon ?? 0, mean?.lat ?? 0);
    // Weights 1, 0.01, 0.01: 0.2 / 1.02.
    expect(x).toBeCloseTo(0.2 / 1.02, 6);
  });
});
