import type { Outcome } from '../survey/outcome';
import { student95 } from './student-t';

/** A reading of a ladder that should be free of contact. */
export interface ConstantPartReading {
  /** K in metres. */
  readonly factorM: number;
  readonly resistanceOhm: number;
}

export interface ConstantPart {
  /** C in ohms: the part of R that no spacing changes. */
  readonly constantOhm: number;
  readonly constantSigmaOhm: number;
  /** ρ in Ω·m of the rest, ρ/K. */
  readonly groundOhmM: number;
  readonly groundSigmaOhmM: number;
  /** C/R of each reading with its 95 % range, kept between 0 and 1. */
  readonly shares: readonly { readonly share: number; readonly low95: number; readonly high95: number }[];
  /** Sum of squares of (R − fit)/R. */
  readonly sumOfSquares: number;
}

/**
 * Least squares of R = C + ρ/K over a ladder, in parts of R: contact that has got into a reading said to be pole-pole or
 * four-electrode shows as a C well above 0. Ground that grows more resistive downwards looks like it too, over a few
 * spacings; so a C is a reason to check the leads, not a proof.
 * Ranges by Student's t from the scatter about the fit. Refusal: `too_few_spacings` for fewer than three spacings.
 */
export function constantPart(readings: readonly ConstantPartReading[]): Outcome<ConstantPart> {
  const spacings = new Set(readings.map(({ factorM }) => factorM.toPrecision(6))).size;
  if (spacings < 3) {
    return {
      ok: false,
      code: 'too_few_spacings',
      sentence: `A part that no spacing changes shows from three spacings on; this ladder has ${spacings}.`,
    };
  }
  // Each row divided by R: 1 = C/R + ρ/(K·R).
  let [cc, cg, gg, c1, g1] = [0, 0, 0, 0, 0];
  for (const { factorM, resistanceOhm } of readings) {
    const c = 1 / resistanceOhm;
    const g = 1 / (factorM * resistanceOhm);
    cc += c * c;
    cg += c * g;
    gg += g * g;
    c1 += c;
    g1 += g;
  }
  const determinant = cc * gg - cg * cg;
  const constantOhm = (c1 * gg - g1 * cg) / determinant;
  const groundOhmM = (g1 * cc - c1 * cg) / determinant;
  let sumOfSquares = 0;
  for (const { factorM, resistanceOhm } of readings) {
    sumOfSquares += (1 - (constantOhm + groundOhmM / factorM) / resistanceOhm) ** 2;
  }
  const degrees = readings.length - 2;
  const sigma = Math.sqrt(sumOfSquares / degrees);
  const constantSigmaOhm = sigma * Math.sqrt(gg / determinant);
  const reach = student95(degrees) * constantSigmaOhm;
  const shares = readings.map(({ resistanceOhm }) => {
    const share = (ohm: number) => Math.min(1, Math.max(0, ohm / resistanceOhm));
    return { share: share(constantOhm), low95: share(constantOhm - reach), high95: share(constantOhm + reach) };
  });
  return {
    ok: true,
    value: {
      constantOhm,
      constantSigmaOhm,
      groundOhmM,
      groundSigmaOhmM: sigma * Math.sqrt(cc / determinant),
      shares,
      sumOfSquares,
    },
  };
}
