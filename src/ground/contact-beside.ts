import type { LadderErrors } from './ladder-errors';
import { PROFILE_95 } from './ladder-rivals';
import type { Layout } from './layout';
import type { VoidTable } from './void-table';
import { isAlikeFromBothEnds, type VoidBounds, voidSteps, walkVoids } from './void-walk';

/** Share of contact in a reading, with its 95 % range. */
export interface ShareOfContact {
  readonly share: number;
  readonly low95: number;
  readonly high95: number;
}

/** Coarser than the search for the void itself: a void is only what contact has to be told from here. */
const COUNT = { depths: 14, sizes: 6, offsets: 6 };
/** Contact tried: shares of the widest reading from none to nearly all (choice). */
const SHARES = 48;

/** ln(ratio) of the readings with each of many empty voids and bodies that conduct. */
export function bodiesBeside(
  table: VoidTable,
  layouts: readonly Layout[],
  midpointM: number,
  bounds: VoidBounds,
): Float64Array[] {
  const bySide = layouts.some((layout) => !isAlikeFromBothEnds(layout, midpointM));
  const steps = voidSteps(bounds, bySide, COUNT);
  const found: Float64Array[] = [];
  for (const filling of ['air', 'conductor'] as const) {
    walkVoids(table, filling, layouts, midpointM, bounds, steps, (_tried, _d, _s, _o, lnRatio) => {
      found.push(lnRatio.slice());
    });
  }
  return found;
}

/**
 * Share of contact in each reading, whatever else changes the ladder: a part C ≥ 0 of R that no spacing changes is fitted
 * together with each of `besides` (nothing, another soil thickness, a void, …), the ladder's level free. The ratio is then
 * v + C·K/ρ(reference), v the other's; `besides` are ln v, `perOhm` is K/ρ(reference). The range holds every share whose
 * χ² is within 3.84 of the lowest (profile likelihood): nothing is paid for a void, so that what a void could hide counts.
 */
export function contactBeside(
  errors: LadderErrors,
  lnRatio: Float64Array,
  perOhm: readonly number[],
  besides: readonly Float64Array[],
): readonly ShareOfContact[] {
  const n = lnRatio.length;
  const most = Math.max(...perOhm);
  const contacts = Array.from({ length: SHARES }, (_, i) => i / SHARES / (1 - i / SHARES) / most);
  const chiSquares = new Float64Array(besides.length * SHARES);
  const rest = new Float64Array(n);
  let at = 0;
  let lowest = 0;
  for (const other of besides) {
    const ratios = other.map(Math.exp);
    for (const contactOhm of contacts) {
      for (let k = 0; k < n; k += 1) {
        rest[k] = (lnRatio[k] as number) - Math.log((ratios[k] as number) + contactOhm * (perOhm[k] as number));
      }
      chiSquares[at] = errors.chiSquare(rest);
      if ((chiSquares[at] as number) < (chiSquares[lowest] as number)) lowest = at;
      at += 1;
    }
  }
  const limit = (chiSquares[lowest] as number) + PROFILE_95;
  const shareAt = (i: number, k: number): number => {
    const contact = (contacts[i % SHARES] as number) * (perOhm[k] as number);
    return contact / (contact + Math.exp(besides[Math.floor(i / SHARES)]?.[k] as number));
  };
  const within = [...chiSquares.keys()].filter((i) => (chiSquares[i] as number) <= limit);
  return perOhm.map((_, k) => {
    const shares = within.map((i) => shareAt(i, k));
    return {
      share: shareAt(lowest, k),
      low95: shares.reduce((p, q) => Math.min(p, q)),
      high95: shares.reduce((p, q) => Math.max(p, q)),
    };
  });
}
