import { geometricFactorM } from './geometric-factor';
import { nominalDistances } from './layout';
import { placesUnder } from './line-errors';
import { weigh } from './line-scan';
import type { PreparedLine } from './line-search';
import { soilKernel } from './soil-kernel';

/** Causes that a void has to be better than. */
export type Rival = 'layer' | 'contact' | 'conductor';

/** Air takes −1 of the first-order strength of a passage, clay and wet fill so much the other way (choice of three). */
const CONDUCTOR_SHARES = [0.25, 0.5, 0.9] as const;

/**
 * Twice the gain in log likelihood, over uneven soil alone, of the best of each other cause: soil that steps to another
 * thickness somewhere, or has a pocket or a rib there; contact at one place of a rod; a body that conducts better, at any place, depth and size that a
 * void was tried at (the void's answer with the sign turned, which is its first order).
 */
export function rivalsOf(line: PreparedLine, lnRatio: Float64Array): Readonly<Record<Rival, number>> {
  const without = line.scanner.scan(lnRatio).without;
  const best: Record<Rival, number> = { layer: 0, contact: 0, conductor: 0 };
  const n = line.readings.length;
  const soils = shapesOfSoil(line);
  const contacts = contactsOf(line);
  const weighted = new Float64Array(n);
  for (const [e, { inverse, logDeterminant }] of line.errors.entries()) {
    const square = weigh(inverse, lnRatio, weighted);
    const base = -logDeterminant - square - without;
    const scratch = new Float64Array(n);
    const free = (shape: Float64Array, signed: boolean): number => {
      const product = dot(shape, weighted);
      if (signed && product <= 0) return -Infinity;
      return product ** 2 / weigh(inverse, shape, scratch);
    };
    for (const shape of soils) best.layer = Math.max(best.layer, base + free(shape, false));
    for (const shape of contacts) best.contact = Math.max(best.contact, base + free(shape, true));
    const strengths = line.scanner.strengths(e);
    const responses = line.templates.lnRatio;
    for (let t = 0; t < strengths.length; t += 1) {
      let product = 0;
      for (let i = 0; i < n; i += 1) product += (responses[t * n + i] as number) * (weighted[i] as number);
      if (product >= 0) continue;
      for (const share of CONDUCTOR_SHARES) {
        best.conductor = Math.max(best.conductor, base - 2 * share * product - share ** 2 * (strengths[t] as number));
      }
    }
  }
  return best;
}

/** Parameters of each cause, for Akaike's criterion. */
export const PARAMETERS: Readonly<Record<Rival | 'void', number>> = { void: 4, conductor: 5, layer: 3, contact: 2 };

/** Half-widths of pockets of soil, m (choice). */
const POCKETS_M = [0.5, 1, 2] as const;

/** Soil that steps to another thickness at a place, or has a pocket or a rib there: of any size, as no wandering soil is. */
function shapesOfSoil(line: PreparedLine): Float64Array[] {
  const layouts = line.readings.map(({ layout }) => layout);
  const { fromM, stepM, count } = placesUnder(layouts);
  const kernel = soilKernel(line.soil, layouts, { fromM, stepM, count });
  const seen = (thicker: (awayM: number) => number, atM: number): Float64Array =>
    Float64Array.from(layouts, (_, i) => {
      let sum = 0;
      for (let k = 0; k < count; k += 1) {
        sum += (kernel[i * count + k] as number) * thicker(fromM + k * stepM - atM);
      }
      return sum;
    });
  return line.grid.chainagesM.flatMap((atM) => [
    seen((away) => Number(away >= 0), atM),
    ...POCKETS_M.map((halfM) => seen((away) => Math.exp(-0.5 * (away / halfM) ** 2), atM)),
  ]);
}

/** One rod place whose contact gets into every reading that stands on it, in ohms alike: δρa = K·δR. */
function contactsOf(line: PreparedLine): Float64Array[] {
  const placesMm = new Set(
    line.readings.flatMap(({ layout: { a, b, m, n } }) =>
      [a, b, m, n].flatMap((chainage) => (chainage === null ? [] : [Math.round(1000 * chainage)])),
    ),
  );
  return [...placesMm].map((place) =>
    Float64Array.from(line.readings, ({ layout, apparentOhmM }) => {
      const { a, b, m, n } = layout;
      const stands = [a, b, m, n].some((chainage) => chainage !== null && Math.round(1000 * chainage) === place);
      return stands ? geometricFactorM(nominalDistances(layout)) / apparentOhmM : 0;
    }),
  );
}

function dot(p: Float64Array, q: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < p.length; i += 1) sum += (p[i] as number) * (q[i] as number);
  return sum;
}
