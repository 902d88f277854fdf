import type { Outcome } from '../survey/outcome';
import { student95 } from './student-t';

/*
 * Two rods that carry both current and potential, in uniform ground, each like a point to the other:
 *     R = Rc₁ + Rc₂ − ρ/(πa)
 * (superposition of two half-space point sources; Dwight 1936, AIEE Transactions 55:1319, for the rods). What R shows of
 * the ground between the rods is only the small term that is taken off.
 */

/** R in ohms between two rods, from their contacts in ohms. */
export function twoProbeOhm(contact1Ohm: number, contact2Ohm: number, groundOhmM: number, spacingM: number): number {
  return contact1Ohm + contact2Ohm - groundOhmM / (Math.PI * spacingM);
}

/**
 * Contact share of a two-probe reading: contacts over contacts and ground term together, (Rc₁ + Rc₂)/(Rc₁ + Rc₂ + ρ/πa)
 * (choice: the ground term counts by its size). Contacts are what R and ρ leave for them, so that no reading above 0 ohms
 * comes to less than one half.
 */
export function contactShare(resistanceOhm: number, groundOhmM: number, spacingM: number): number {
  const groundTerm = groundOhmM / (Math.PI * spacingM);
  return (resistanceOhm + groundTerm) / (resistanceOhm + 2 * groundTerm);
}

export interface TwoProbeReading {
  readonly spacingM: number;
  readonly resistanceOhm: number;
}

export interface TwoProbeLadder {
  /** Contact of both rods together, ohms, as far as the rungs share one. */
  readonly contactOhm: number;
  readonly contactSigmaOhm: number;
  /**
   * ρ by difference, Ω·m, and its standard error; below 0 when contacts scatter more than the ground shows. Not to be
   * shown as a resistivity: it says how little of the reading is ground.
   */
  readonly groundOhmM: number;
  readonly groundSigmaOhmM: number;
  /** Contact share of each reading, in the order given, with its 95 % range: everything that ρ ≥ 0 allows. */
  readonly shares: readonly { readonly share: number; readonly low95: number; readonly high95: number }[];
}

/**
 * Least squares of R = C − ρ/(πa) over a two-probe ladder whose rungs have much the same contact. Contacts that differ from
 * rung to rung are the scatter from which the ranges come; with only two spacings there is none to see, so the share is
 * open from one half to 1.
 * Refusal: `too_few_spacings` for fewer than two spacings.
 */
export function twoProbeLadder(readings: readonly TwoProbeReading[]): Outcome<TwoProbeLadder> {
  const n = readings.length;
  const x = readings.map(({ spacingM }) => -1 / (Math.PI * spacingM));
  const meanX = x.reduce((sum, value) => sum + value, 0) / n;
  const meanR = readings.reduce((sum, { resistanceOhm }) => sum + resistanceOhm, 0) / n;
  const spread = x.reduce((sum, value) => sum + (value - meanX) ** 2, 0);
  if (n < 2 || !(spread > 1e-12 * meanX * meanX)) {
    return {
      ok: false,
      code: 'too_few_spacings',
      sentence: 'Contact and ground can only be told apart between different spacings: read a second one here.',
    };
  }
  let product = 0;
  for (const [k, { resistanceOhm }] of readings.entries())
    product += ((x[k] as number) - meanX) * (resistanceOhm - meanR);
  const groundOhmM = product / spread;
  const contactOhm = meanR - groundOhmM * meanX;
  let squares = 0;
  for (const [k, { resistanceOhm }] of readings.entries()) {
    squares += (resistanceOhm - contactOhm - groundOhmM * (x[k] as number)) ** 2;
  }
  const degrees = n - 2;
  const sigma = degrees > 0 ? Math.sqrt(squares / degrees) : Infinity;
  const groundSigmaOhmM = sigma / Math.sqrt(spread);
  const reach = degrees > 0 ? student95(degrees) * groundSigmaOhmM : Infinity;
  const shares = readings.map(({ resistanceOhm, spacingM }) => {
    const of = (ground: number) =>
      ground === Infinity ? 0.5 : contactShare(resistanceOhm, Math.max(0, ground), spacingM);
    return { share: of(groundOhmM), low95: of(groundOhmM + reach), high95: of(groundOhmM - reach) };
  });
  return {
    ok: true,
    value: {
      contactOhm,
      contactSigmaOhm: sigma * Math.sqrt(1 / n + meanX ** 2 / spread),
      groundOhmM,
      groundSigmaOhmM,
      shares,
    },
  };
}
