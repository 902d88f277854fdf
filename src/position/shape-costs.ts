import type { Fit } from './fit-line';
import type { LineData } from './line-data';
import { sigmasOf } from './normal';

/** What an honest fix reaches in two directions once in 370: −2 ln 0.0027. */
export const LEAST_GROSS_COST = -2 * Math.log(0.0027);
/** What it takes to suppose that a line winds all along, as a logarithm of odds (choice). */
const WINDING_COST = 8;

/** What suppositions about a line cost, in units of weighted squares. */
export interface Costs {
  /** What the next corner costs. */
  nextCorner(corners: number): number;
  readonly gross: number;
  /** The same as standard deviations: beyond them a fix is off. */
  readonly grossSigmas: number;
  of(fit: Fit): number;
}

export function costsOf({ nodes, fixes }: LineData, saidCorners: number): Costs {
  const perUnknown = Math.log(2 * fixes.length + nodes.length - 1);
  const places = Math.max(1, nodes.length - 2 - saidCorners);
  const logFactorial = [0];
  for (let i = 1; i <= places; i += 1) logFactorial.push((logFactorial[i - 1] as number) + Math.log(i));
  const logChoices = (corners: number): number =>
    (logFactorial[places] ?? 0) - (logFactorial[corners] ?? 0) - (logFactorial[places - corners] ?? 0);
  // Few corners each choose their place; a line that winds all along is one more thing to suppose.
  const cornersCost = (corners: number): number =>
    perUnknown * corners + 2 * Math.min(corners * Math.log(places), logChoices(corners) + WINDING_COST);
  const gross = Math.max(LEAST_GROSS_COST, 2 * perUnknown + 2 * Math.log(fixes.length));
  return {
    gross,
    grossSigmas: sigmasOf(gross, 2),
    nextCorner: (corners) => cornersCost(corners - saidCorners + 1) - cornersCost(corners - saidCorners),
    of: ({ squares, supposition: { corners, gross: named, freeScale } }) =>
      squares + cornersCost(corners.length - saidCorners) + gross * (named.size + (freeScale ? 1 : 0)),
  };
}
