import type { DepthRule } from '../findings';
import { medianDepthM } from '../ground/depth';
import { nominalDistances } from '../ground/layout';
import { type Hookup, isTwoProbe } from '../survey/hookup';
import type { ReadingFigure } from './figure';

export interface FigureDepth {
  readonly depthM: number | null;
  readonly depthRule: DepthRule | 'none';
}

const NO_DEPTH: FigureDepth = { depthM: null, depthRule: 'none' };

/** Arrays whose spacing is the distance that the rule means; the others keep the median. */
const HALF_SPACING_HOOKUPS: readonly Hookup[] = ['pole_pole', 'wenner_alpha', 'wenner_beta', 'wenner_gamma'];

/**
 * The depth that a figure speaks for under the chosen rule; none for a two-probe figure or an unsaid spacing.
 * The rules are for the array as designed: straight, flat, and a remote at its real place counts as infinitely far.
 */
export function depthOf({ hookup, spacingM, layout }: ReadingFigure, rule: DepthRule): FigureDepth {
  if (isTwoProbe(hookup) || spacingM === null || !layout) return NO_DEPTH;
  if (rule === 'half_spacing' && HALF_SPACING_HOOKUPS.includes(hookup))
    return { depthM: spacingM / 2, depthRule: rule };
  const depthM = medianDepthM(nominalDistances(layout));
  return depthM === null ? NO_DEPTH : { depthM, depthRule: 'median' };
}
