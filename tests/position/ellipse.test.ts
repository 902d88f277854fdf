import { describe, expect, it } from 'vitest';
import { elongated } from '../../src/position/covariance';
import { ellipse95, radius95OfCovariance, shareWithin } from '../../src/position/ellipse';
import { seeded } from '../helpers/made-survey';

/** Share of a normal scatter within a circle by plain sums over a grid of the plane: another way than the one tested. */
function shareByGrid(radius: number, sigmaX: number, sigmaY: number): number {
  const steps = 2000;
  let share = 0;
  for (let i = 0; i < steps; i += 1) {
    const x = radius * Math.sin((((i + 0.5) / steps) * 2 - 1) * (Math.PI / 2));
    const dx = radius * Math.cos((((i + 0.5) / steps) * 2 - 1) * (Math.PI / 2)) * (Math.PI / steps);
    const reach = Math.sqrt(radius ** 2 - x ** 2) / sigmaY;
    const density = Math.exp(-((x / sigmaX) ** 2) / 2) / (sigmaX * Math.sqrt(2 * Math.PI));
    share += density * dx * normalWithin(reach);
  }
  return share;
}

/** P(|z| < reach) by the series of the normal integral (Abramowitz & Stegun 26.2.11). */
function normalWithin(reach: number): number {
  if (reach > 10) return 1;
  let term = reach;
  let sum = reach;
  for (let k = 1; k < 400; k += 1) {
    term *= reach ** 2 / (2 * k + 1);
    sum += term;
  }
  return Math.min(1, 2 * sum * (Math.exp(-(reach ** 2) / 2) / Math.sqrt(2 * Math.PI)));
}

describe('the radius that holds 95 % of a scatter', () => {
  it('is 1.9600 σ for one as thin as a line and 2.4477 σ for a round one', () => {
    // Quantiles of the normal and of the Rayleigh distribution, in any table.
    expect(radius95OfCovariance({ xx: 1, xy: 0, yy: 0 })).toBeCloseTo(1.959964, 5);
    expect(radius95OfCovariance({ xx: 1, xy: 0, yy: 1 })).toBeCloseTo(2.447747, 5);
  });

  it.each([0.02, 0.1, 0.25, 0.37, 0.5, 0.75, 0.93])(
    'at an axis ratio of %d is right by sums over the plane',
    (ratio) => {
      const radius = radius95OfCovariance(elongated(63, 2, 2 * ratio));
      expect(shareByGrid(radius, 2, 2 * ratio)).toBeCloseTo(0.95, 5);
      expect(shareWithin(radius / 2, ratio)).toBeCloseTo(0.95, 5);
    },
  );

  it('holds 95 % of half a million throws', () => {
    const random = seeded(20);
    const radius = radius95OfCovariance(elongated(20, 3, 0.8));
    let inside = 0;
    const throws = 500_000;
    for (let i = 0; i < throws; i += 1) {
      const length = Math.sqrt(-2 * Math.log(1 - random()));
      const angle = 2 * Math.PI * random();
      if (Math.hypot(3 * length * Math.cos(angle), 0.8 * length * Math.sin(angle)) <= radius) inside += 1;
    }
    // Four standard errors of a share of 0.95.
    expect(Math.abs(inside / throws - 0.95)).toBeLessThan(4 * Math.sqrt((0.95 * 0.05) / throws));
  });

  it('comes with an ellipse that lies as the scatter does', () => {
    const { semiMajorM, semiMinorM, azimuthDeg } = ellipse95(elongated(160, 3, 1));
    expect(semiMajorM).toBeCloseTo(3 * 2.447747, 5);
    expect(semiMinorM).toBeCloseTo(2.447747, 5);
    expect(azimuthDeg).toBeCloseTo(160, 9);
  });
});
