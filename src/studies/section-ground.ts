import type { GroundLine } from '../ground/section-mesh';
import { heightAt, horizontalChainage } from '../position/heights';
import { done, type Outcome, refuse } from '../survey/outcome';
import { metres } from '../survey/wording';
import type { SectionInput } from './section-input';

/**
 * The ground along a line in its upright plane: chainages lie on the ground, so that on a slope they are longer than they
 * look from above. Flat without heights; level beyond them. Refusal: `ground_too_steep`, over 45° by the heights.
 */
export function groundLineOf(given: SectionInput['heights']): Outcome<GroundLine> {
  const heights = given.map(({ chainageM, elevationM }) => ({ chainageM, heightM: elevationM }));
  if (heights.length < 2) return done((chainageM) => [chainageM, 0]);
  for (const [i, { chainageM, heightM }] of heights.entries()) {
    const before = heights[i - 1];
    if (!before || Math.abs(heightM - before.heightM) <= Math.SQRT1_2 * (chainageM - before.chainageM)) continue;
    return refuse(
      'ground_too_steep',
      `The ground would be steeper than 45° between ${metres(before.chainageM)} and ${metres(chainageM)}: check the heights there.`,
    );
  }
  const horizontal = horizontalChainage(heights);
  return done((chainageM) => [horizontal(chainageM), heightAt(heights, chainageM)]);
}
