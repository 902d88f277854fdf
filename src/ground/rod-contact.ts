import type { Outcome } from '../survey/outcome';

/** A round rod driven straight down, metres. */
export interface Rod {
  /** Length in the ground. */
  readonly lengthM: number;
  readonly radiusM: number;
}

/** Rods shorter than this many radii are too stout for the formula (choice; its error is then some per cent). */
const SLENDER = 10;

/**
 * Contact in ohms per Ω·m of ground: Rc/ρ = (ln(4L/r) − 1)/(2πL) in 1/m (Dwight 1936, AIEE Transactions 55:1319), for a
 * slender rod in uniform ground that touches it all along. The real contact is larger where the rod is loose or the ground
 * about it dry: with ρ of that ground, not of the ground at large.
 * Refusal: `rod_too_stout` unless L ≥ 10 r > 0.
 */
export function rodContactPerOhmM({ lengthM, radiusM }: Rod): Outcome<number> {
  if (!(radiusM > 0 && lengthM >= SLENDER * radiusM)) {
    return {
      ok: false,
      code: 'rod_too_stout',
      sentence: 'Rod contact is computed for rods at least ten times as long as their radius: check length and radius.',
    };
  }
  return { ok: true, value: (Math.log((4 * lengthM) / radiusM) - 1) / (2 * Math.PI * lengthM) };
}

/** Contact in ohms of a rod in ground of `groundOhmM`; refusal as above. */
export function rodContactOhm(rod: Rod, groundOhmM: number): Outcome<number> {
  const factor = rodContactPerOhmM(rod);
  return factor.ok ? { ok: true, value: factor.value * groundOhmM } : factor;
}

/**
 * Contact in ohms of two equal rods side by side, joined, `apartM` > L from each other:
 * ρ/4πL·(ln(4L/r) − 1) + ρ/4πs·(1 − L²/3s² + 2L⁴/5s⁴) (Dwight 1936).
 * Refusals: `rod_too_stout`; `rods_too_close` where s ≤ L.
 */
export function rodPairContactOhm(rod: Rod, apartM: number, groundOhmM: number): Outcome<number> {
  const one = rodContactOhm(rod, groundOhmM);
  if (!one.ok) return one;
  if (!(apartM > rod.lengthM)) {
    return {
      ok: false,
      code: 'rods_too_close',
      sentence: 'Two joined rods must stand further apart than they are long.',
    };
  }
  const q = (rod.lengthM / apartM) ** 2;
  const mutual = (groundOhmM / (4 * Math.PI * apartM)) * (1 - q / 3 + (2 * q * q) / 5);
  return { ok: true, value: one.value / 2 + mutual };
}
