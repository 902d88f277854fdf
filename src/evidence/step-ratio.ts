import type { ReadingFigure } from './figure';
import type { Place } from './place';
import type { Score } from './score';

/** Same day, same wetting: a step between other readings would mix the ground with its contacts. */
const sameRods = (p: Place, q: Place): boolean => {
  const [first] = p.counted;
  return first !== undefined && p.counted.every(alike) && q.counted.every(alike);

  function alike({ reading }: ReadingFigure): boolean {
    return (
      reading.outing === first?.reading.outing && (reading.wetting ?? 'none') === (first?.reading.wetting ?? 'none')
    );
  }
};

/**
 * For each place with a smaller spacing under it in its ladder: its step over the reference's own step, which is the
 * ratio here over the ratio there. By the index of the place.
 */
export function stepRatiosOf(
  ladders: readonly (readonly Place[])[],
  scores: readonly Score[],
): readonly (number | undefined)[] {
  const steps: (number | undefined)[] = [];
  for (const ladder of ladders) {
    let below: Place | null = null;
    for (const place of ladder) {
      const lnRatio = scores[place.index]?.lnRatio ?? null;
      if (lnRatio === null) continue;
      const lnBelow = below ? (scores[below.index]?.lnRatio ?? null) : null;
      if (below && lnBelow !== null && sameRods(below, place)) steps[place.index] = Math.exp(lnRatio - lnBelow);
      below = place;
    }
  }
  return steps;
}
