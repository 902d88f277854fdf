import magvar from 'magvar';
import { describe, expect, it } from 'vitest';
import { decimalYear, declinationAt } from '../../src/position/declination';
import { seeded } from '../helpers/made-survey';
import { WMM_HUNDRED, WMM_REPORT } from '../reference/wmm2025';

describe('magnetic declination', () => {
  it.each(WMM_REPORT)('%f, %f km, %f°, %f° is that of the report, %f°', (year, heightKm, lat, lon, deg, horizontal) => {
    const found = declinationAt({ lon, lat }, heightKm * 1000, year);
    if (!found.ok) throw new Error(found.sentence);
    expect(Math.abs(found.value.deg - deg)).toBeLessThan(0.00501);
    expect(Math.abs(found.value.horizontalNT - horizontal)).toBeLessThan(0.0501);
  });

  it('meets all hundred official test points, and refuses those where a compass is of no use', () => {
    let [met, refused] = [0, 0];
    for (const [year, heightKm, lat, lon, deg, horizontal] of WMM_HUNDRED) {
      const found = declinationAt({ lon, lat }, heightKm * 1000, year);
      if (horizontal < 2000) {
        expect(found).toMatchObject({ ok: false, code: 'compass_useless' });
        refused += 1;
        continue;
      }
      if (!found.ok) throw new Error(found.sentence);
      expect(Math.abs(found.value.deg - deg)).toBeLessThan(0.00501);
      expect(Math.abs(found.value.horizontalNT - horizontal)).toBeLessThan(1e-3);
      met += 1;
    }
    expect(met + refused).toBe(100);
    expect(refused).toBeGreaterThan(0);
    expect(met).toBeGreaterThan(90);
  });

  it('agrees with another package within the hundredth to which that rounds, the world over and through the years', () => {
    const next = seeded(20250);
    for (let i = 0; i < 300; i += 1) {
      const [lat, lon] = [140 * next() - 70, 360 * next() - 180];
      const year = 2025 + 4.999 * next();
      const found = declinationAt({ lon, lat }, 800, year);
      if (!found.ok) throw new Error(found.sentence);
      expect(Math.abs(found.value.deg - magvar.magvar(lat, lon, 0.8, year))).toBeLessThan(0.0055);
    }
  });

  it('comes with the uncertainty that the report states', () => {
    // √(0.26² + (5417 / H)²): at H = 20 000 nT 0.3755°, at 6000 nT 0.9395° (worked by hand).
    const found = declinationAt({ lon: 14.5, lat: 46.05 }, 500, 2026.5);
    if (!found.ok) throw new Error(found.sentence);
    // 4.74676: the published coefficients summed for this project by another program.
    expect(found.value.deg).toBeCloseTo(4.74676, 4);
    expect(found.value.horizontalNT).toBeGreaterThan(21_000);
    expect(found.value.horizontalNT).toBeLessThan(23_000);
    expect(found.value.sigmaDeg).toBeGreaterThan(0.34);
    expect(found.value.sigmaDeg).toBeLessThan(0.37);
    const weak = declinationAt({ lon: 0, lat: 80 }, 0, 2025);
    if (!weak.ok) throw new Error(weak.sentence);
    // H = 6523.2 nT: 5417 / 6523.2 = 0.83042, with 0.26 together 0.87017.
    expect(weak.value.sigmaDeg).toBeCloseTo(0.87017, 4);
  });

  it('is given for the first and the last day of the model and refused beside them', () => {
    const here = { lon: 14.5, lat: 46.05 };
    expect(declinationAt(here, 0, 2025).ok).toBe(true);
    expect(declinationAt(here, 0, 2029.997).ok).toBe(true);
    expect(declinationAt(here, 0, 2024.997)).toMatchObject({ ok: false, code: 'declination_years' });
    const late = declinationAt(here, 0, 2031.2);
    expect(late).toMatchObject({ ok: false, code: 'declination_years' });
    expect(late.ok || late.sentence).toContain('2031');
    expect(declinationAt(here, 0, Number.NaN).ok).toBe(false);
  });
});

describe('a decimal year', () => {
  it.each([
    ['2025-01-01', 2025],
    ['2028-12-31', 2028 + 365 / 366],
    ['2027-07-02', 2027 + 182 / 365],
    ['2026-03-12T10:20', 2026 + 70 / 365],
  ])('of %s is %f', (date, year) => {
    expect(decimalYear(date)).toBeCloseTo(year, 9);
  });

  it('is none for what is no day', () => {
    for (const text of ['', 'yesterday', '2026', '2026-02-30', '12.03.2026']) expect(decimalYear(text)).toBeNull();
  });
});
