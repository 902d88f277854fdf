import type { ReadingFigure } from './figure';
import type { Place } from './place';
import type { Score } from './score';

/** Same day, same wetting: a step between other readings would mix the ground with its contacts. */
function sameRods(p: Place, q: Place): boolean {
  const [first] = p.counted;
  if (!first) return false;
  for (const figure of p.counted) if (!alike(first, figure)) return false;
  for (const figure of q.counted) if (!alike(first, figure)) return false;
  return true;
}

function alike({ reading: p }: ReadingFigure, { reading: q }: ReadingFigure): boolean {
  return p.outing === q.outing && (p.wetting ?? 'none') === (q.wetting ?? 'none');
}

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
    // Only from one rung to the next: over a rung that was not read it would be another step.
    for (let i = 1; i < ladder.length; i += 1) {
      const below = ladder[i - 1] as Place;
      const place = ladder[i] as Place;
      const lnBelow = scores[below.index]?.lnRatio ?? null;
      const lnRatio = scores[place.index]?.lnRatio ?? null;
      if (lnRatio !== null && lnBelow !== null && sameRods(below, place)) {
        steps[place.index] = Math.exp(lnRatio - lnBelow);
      }
    }
  }
  return steps;
}
